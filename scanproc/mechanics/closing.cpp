#include "scanproc/mechanics/closing.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "scanproc/mechanics/contact.h"

namespace canewise {
namespace {

constexpr double kClosedShare = 0.02;
constexpr double kNPerMm2PerKpa = 1e-3;
/// Ten times and more what anyone blows: a reed that is still open does not close.
constexpr double kMostPressureKpa = 200.0;

/// Everything of the closing that does not change with load: compliance between the places that may touch.
class Closer {
 public:
  explicit Closer(const CloseInputs& inputs) : mouthpiece_(inputs.mouthpiece), lip_force_n_(inputs.lip.force_n) {
    const auto& [figures, outline, mouthpiece, player_lip] = inputs;
    const Plate& plate = figures.plate();
    const double tip = figures.reed().tip_x_mm;
    std::vector<Eigen::Vector2d> places;
    constexpr double along_mm = 0.8, across_mm = 1.0, tip_rail_mm = 0.25;
    // Side rails...
    for (const double side : {-1.0, 1.0}) {
      for (double x = 2.0; x < mouthpiece.window_end_mm - 0.5 * along_mm; x += along_mm) {
        const double half = outline.half_width_mm(x + tip), edge = half - 0.5 * mouthpiece.rail_width_mm;
        places.emplace_back(x + tip, side * edge);
      }
    }
    // ... and the tip's, whose places tell the opening too.
    first_tip_ = places.size();
    const double reach = outline.half_width_mm(tip) - 0.5 * mouthpiece.rail_width_mm;
    const auto pieces = static_cast<int>(std::ceil(2.0 * reach / across_mm));
    for (int k = 0; k <= pieces; ++k) {
      const double y = -reach + 2.0 * reach * k / pieces;
      places.emplace_back(std::max(outline.tip_edge_at(y), 0.0) + tip + tip_rail_mm, y);
    }
    places_.resize(2, static_cast<Eigen::Index>(places.size()));
    for (std::size_t k = 0; k < places.size(); ++k) places_.col(static_cast<Eigen::Index>(k)) = places[k];
    distance_ = places_.row(0).transpose().array() - tip;
    side_ = Eigen::ArrayXd(places_.cols());
    for (Eigen::Index k = 0; k < places_.cols(); ++k)
      side_(k) = std::clamp(places_(1, k) / outline.half_width_mm(places_(0, k)), -1.0, 1.0);

    Eigen::MatrixXd loads(3 * figures.reed().model.mesh.nodes(), places_.cols() + 2);
    for (Eigen::Index k = 0; k < places_.cols(); ++k)
      loads.col(k) = plate.load_of({places_.col(k), Eigen::VectorXd::Ones(1)});
    const double lip = tip + player_lip.at_mm, half = outline.half_width_mm(lip);
    loads.col(places_.cols()) = figures.patch(lip, 0.0, player_lip.length_mm, 2.0 * half);
    loads.rightCols(1) = plate.load_of(pressure_points(tip, lip, outline));
    const Eigen::MatrixXd moved = plate.solve(loads);
    const Eigen::MatrixXd all = loads.leftCols(places_.cols()).transpose() * moved;
    compliance_ = all.leftCols(places_.cols());
    compliance_ = 0.5 * (compliance_ + compliance_.transpose()).eval();
    // Places near each other move as one but for the cane's own give, which is put at a millionth.
    compliance_.diagonal() *= 1.0 + 1e-6;
    by_lip_ = all.col(places_.cols());
    by_pressure_ = all.col(places_.cols() + 1);
  }

  struct State {
    Eigen::ArrayXd opening_mm;  ///< At the tip's places.
    double left_rests_mm, right_rests_mm;
    [[nodiscard]] double mean() const { return opening_mm.mean(); }
  };

  /// A reed so many times as stiff moves as this one does under loads divided by as much.
  State at(double pressure_kpa, double stiffness_ratio, double opening_change_mm, bool even_facing = false) const {
    const Eigen::ArrayXd gap = gaps(opening_change_mm, even_facing);
    const Eigen::VectorXd free =
        (lip_force_n_ * by_lip_ + kNPerMm2PerKpa * pressure_kpa * by_pressure_) / stiffness_ratio;
    const Eigen::VectorXd force = contact_forces(compliance_, free - gap.matrix(), touching_);
    State state;
    const Eigen::ArrayXd left_over = gap - (free - compliance_ * force).array();
    state.opening_mm = left_over.tail(left_over.size() - static_cast<Eigen::Index>(first_tip_)).max(0.0);
    state.left_rests_mm = rests(force, 0, first_tip_ / 2);
    state.right_rests_mm = rests(force, first_tip_ / 2, first_tip_);
    return state;
  }
  double mean_opening_mm(double opening_change_mm) const {
    const Eigen::ArrayXd gap = gaps(opening_change_mm, false);
    return gap.tail(gap.size() - static_cast<Eigen::Index>(first_tip_)).mean();
  }
  /// Root of mean opening = kClosedShare of that without load; NaN if that takes more than kMostPressureKpa.
  double closing_pressure_kpa(double stiffness_ratio) const {
    const double goal = kClosedShare * mean_opening_mm(0.0);
    const auto still_open = [&](double kpa) { return at(kpa, stiffness_ratio, 0.0).mean() - goal; };
    return still_open(kMostPressureKpa) > 0.0 ? std::nan("") : root(still_open, 0.0, 8.0);
  }
  double stiffness_ratio(double pressure_kpa, double opening_change_mm) const {
    const double goal = kClosedShare * mean_opening_mm(opening_change_mm);
    // Softer closes more: in 1/ratio the opening falls.
    const double inverse = root(
        [&](double softness) { return at(pressure_kpa, 1.0 / softness, opening_change_mm).mean() - goal; }, 0.2, 0.8);
    return 1.0 / inverse;
  }
  /// Tip openings at the same places aside as the tip's patches, and in the middle.
  ClosingPoint point(double pressure_kpa, bool even_facing = false) const {
    const State state = at(pressure_kpa, 1.0, 0.0, even_facing);
    const auto value = [&](double e) {
      double found = 0.0, weight = 0.0;
      for (Eigen::Index k = 0; k < state.opening_mm.size(); ++k) {
        const double w = std::exp(-std::pow((side_(static_cast<Eigen::Index>(first_tip_) + k) - e) / 0.15, 2));
        found += w * state.opening_mm(k);
        weight += w;
      }
      return found / weight;
    };
    return {pressure_kpa,          value(-kTipPatchAside), value(0.0),
            value(kTipPatchAside), state.left_rests_mm,    state.right_rests_mm};
  }

 private:
  static PointLoads pressure_points(double tip, double lip, const Outline& outline) {
    constexpr double step = 0.25;
    std::vector<Eigen::Vector2d> points;
    for (double x = tip + 0.5 * step; x < lip; x += step) {
      const double half = outline.half_width_mm(x);
      for (double y = 0.5 * step; y < half + step; y += step) {
        points.emplace_back(x, y);
        points.emplace_back(x, -y);
      }
    }
    PointLoads loads;
    loads.points_mm.resize(2, static_cast<Eigen::Index>(points.size()));
    for (std::size_t k = 0; k < points.size(); ++k) loads.points_mm.col(static_cast<Eigen::Index>(k)) = points[k];
    loads.weights.setConstant(loads.points_mm.cols(), step * step);
    return loads;
  }
  Eigen::ArrayXd gaps(double opening_change_mm, bool even_facing) const {
    FacingCurve left = mouthpiece_.left, right = mouthpiece_.right;
    if (even_facing) {
      left.tip_opening_mm = right.tip_opening_mm = 0.5 * (left.tip_opening_mm + right.tip_opening_mm);
      left.length_mm = right.length_mm = 0.5 * (left.length_mm + right.length_mm);
    }
    left.tip_opening_mm += opening_change_mm;
    right.tip_opening_mm += opening_change_mm;
    Eigen::ArrayXd gap(distance_.size());
    for (Eigen::Index k = 0; k < gap.size(); ++k) {
      const double share = 0.5 * (1.0 + side_(k));
      gap(k) = (1.0 - share) * left.gap_mm(distance_(k)) + share * right.gap_mm(distance_(k));
    }
    return gap;
  }
  [[nodiscard]] double rests(const Eigen::VectorXd& force, std::size_t from, std::size_t to) const {
    for (std::size_t k = from; k < to; ++k)
      if (force(static_cast<Eigen::Index>(k)) > 0.0) return distance_(static_cast<Eigen::Index>(k));
    return mouthpiece_.window_end_mm;
  }
  /// Of a falling function, by regula falsi; `high` is moved out until it is below nought.
  template <typename Function>
  static double root(const Function& f, double low, double high) {
    double at_low = f(low);
    if (at_low <= 0.0) return low;
    double at_high = f(high);
    constexpr double farthest = 1e4;
    while (at_high > 0.0 && high < farthest) {
      low = high;
      at_low = at_high;
      high *= 2.0;
      at_high = f(high);
    }
    for (int k = 0; k < 40 && high - low > 1e-3 * high; ++k) {
      double middle = low + (high - low) * at_low / (at_low - at_high);
      middle = std::clamp(middle, low + 0.05 * (high - low), high - 0.05 * (high - low));
      const double value = f(middle);
      (value > 0.0 ? low : high) = middle;
      (value > 0.0 ? at_low : at_high) = value;
    }
    return 0.5 * (low + high);
  }

  Mouthpiece mouthpiece_;
  double lip_force_n_;
  std::size_t first_tip_ = 0;
  Eigen::Matrix2Xd places_;
  Eigen::ArrayXd distance_, side_;
  Eigen::MatrixXd compliance_;
  Eigen::VectorXd by_lip_, by_pressure_;
  mutable Eigen::Array<bool, Eigen::Dynamic, 1> touching_;
};

}  // namespace

Closing close_reed(const CloseInputs& inputs, double relative_spread) {
  const Mouthpiece& mouthpiece = inputs.mouthpiece;
  const Closer closer(inputs);
  Closing closing;
  closing.mouthpiece = mouthpiece;
  closing.lip_force_n = inputs.lip.force_n;
  closing.pressure_kpa = closer.closing_pressure_kpa(1.0);
  const bool closes = !std::isnan(closing.pressure_kpa);
  const double last_kpa = closes ? closing.pressure_kpa : kMostPressureKpa;
  constexpr int steps = 16;
  for (int k = 0; k <= steps; ++k) closing.curve.push_back(closer.point(last_kpa * k / steps));
  if (!closes) {
    closing.u_pressure_kpa = closing.right_minus_left_um = closing.facing_right_minus_left_um = std::nan("");
    return closing;
  }
  // The softer neighbour, because it closes too.
  closing.u_pressure_kpa = std::abs(closer.closing_pressure_kpa(1.0 / (1.0 + relative_spread)) - closing.pressure_kpa);
  const ClosingPoint half = closer.point(0.5 * closing.pressure_kpa),
                     even = closer.point(0.5 * closing.pressure_kpa, true);
  closing.right_minus_left_um = 1e3 * (half.right_mm - half.left_mm);
  closing.facing_right_minus_left_um = closing.right_minus_left_um - 1e3 * (even.right_mm - even.left_mm);
  const double opening = 0.5 * (mouthpiece.left.tip_opening_mm + mouthpiece.right.tip_opening_mm);
  for (const double change : {-0.10, -0.05, 0.05, 0.10}) {
    if (opening + change <= 0.2) continue;
    closing.others.push_back({opening + change, closer.stiffness_ratio(closing.pressure_kpa, change)});
  }
  return closing;
}

}  // namespace canewise
