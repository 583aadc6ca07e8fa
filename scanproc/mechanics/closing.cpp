#include "scanproc/mechanics/closing.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "scanproc/mechanics/bending_figures.h"

namespace canewise {
namespace {

constexpr double kClosedShare = 0.02;
constexpr double kNPerMm2PerKpa = 1e-3;
/// Ten times and more what anyone blows: a reed that is still open does not close.
constexpr double kMostPressureKpa = 200.0;

/// Everything of the closing that does not change with load.
class Closer {
 public:
  explicit Closer(const CloseInputs& inputs)
      : embouchure_(inputs.embouchure), reed_(inputs.reed), places_(reed_.places()) {
    const Plate& plate = inputs.figures.plate();
    const Lip& lip = embouchure_.lip;
    const double tip = inputs.figures.reed().tip_x_mm;
    Eigen::MatrixXd loads(3 * plate.model().mesh.nodes(), 2);
    loads.col(0) = lip.force_n * inputs.figures.loads().col(BendingFigures::kLipLoad);
    loads.col(1) = kNPerMm2PerKpa * plate.load_of(pressure_points(tip, tip + lip.at_mm, inputs.outline));
    const Eigen::MatrixXd moved = reed_.at_places(plate.solve(loads));
    by_lip_ = moved.col(0);
    by_kpa_ = moved.col(1);
  }

  struct State {
    Eigen::ArrayXd opening_mm;  ///< At the tip's samples.
    Resting resting;
    [[nodiscard]] double mean() const { return opening_mm.mean(); }
  };

  /// A reed so many times as stiff moves as this one does under loads divided by as much.
  State at(double pressure_kpa, double stiffness_ratio, double opening_change_mm, bool even_facing = false) const {
    const Eigen::VectorXd gap = gaps(opening_change_mm, even_facing);
    const Pressed pressed = reed_.press(by_lip_ + pressure_kpa * by_kpa_, gap, stiffness_ratio, last_force_);
    last_force_ = pressed.force_n;
    return {(-pressed.depth_mm.tail(tip_samples())).array().max(0.0),
            resting_of(places_, pressed, embouchure_.mouthpiece.window_end_mm)};
  }
  double mean_opening_mm(double opening_change_mm) const {
    return gaps(opening_change_mm, false).tail(tip_samples()).mean();
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
        const double w = std::exp(-std::pow((places_.side(places_.first_of_tip() + k) - e) / 0.15, 2));
        found += w * state.opening_mm(k);
        weight += w;
      }
      return found / weight;
    };
    return {pressure_kpa,          value(-kTipPatchAside), value(0.0),
            value(kTipPatchAside), state.resting.left_mm,  state.resting.right_mm};
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
  [[nodiscard]] Eigen::Index tip_samples() const { return places_.side.size() - places_.first_of_tip(); }
  Eigen::VectorXd gaps(double opening_change_mm, bool even_facing) const {
    FacingCurve left = embouchure_.mouthpiece.left, right = embouchure_.mouthpiece.right;
    if (even_facing) left = right = mean_of(left, right);
    return gaps_at(places_, with_opening(left, left.tip_opening_mm + opening_change_mm),
                   with_opening(right, right.tip_opening_mm + opening_change_mm));
  }
  /// Of a falling function in millimetres, by regula falsi with Illinois' halving [Dowell1971]; `high` is moved out
  /// until it is below nought.
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
    constexpr double near_mm = 1e-6;
    double found = high, value = at_high;
    for (int k = 0, same_side = 0; k < 60 && std::abs(value) > near_mm; ++k) {
      found = low + (high - low) * at_low / (at_low - at_high);
      value = f(found);
      const int side = value > 0.0 ? 1 : -1;
      (side > 0 ? low : high) = found;
      (side > 0 ? at_low : at_high) = value;
      if (side == same_side) (side > 0 ? at_high : at_low) *= 0.5;
      same_side = side;
    }
    return found;
  }

  const Embouchure& embouchure_;
  const ReedOnFacing& reed_;
  const RailPlaces& places_;
  Eigen::VectorXd by_lip_, by_kpa_;
  mutable Eigen::VectorXd last_force_;  ///< A good start for the next state.
};

}  // namespace

Closing close_reed(const CloseInputs& inputs, double relative_spread) {
  const Mouthpiece& mouthpiece = inputs.embouchure.mouthpiece;
  const Closer closer(inputs);
  Closing closing;
  closing.mouthpiece = mouthpiece;
  closing.lip_force_n = inputs.embouchure.lip.force_n;
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
