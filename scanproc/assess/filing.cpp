#include "scanproc/assess/filing.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <vector>

#include "scanproc/core/budget.h"
#include "scanproc/core/linear_fit.h"
#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

constexpr std::array kLanes{0.5, 0.6, 0.7, 0.8, 0.9, 1.0};  // Limits, of the half width.
constexpr double kRim_mm = 0.35;                            // A corner's own edge is rounded.
constexpr double kStretch_mm = 1.5, kStep_mm = 0.75;
constexpr double kReach_mm = 9.0;   // Behind the vamp's end: no filing is longer (common practice).
constexpr double kBehind_mm = 0.6;  // A cell's footprint away from the cut itself.

/// The reed's own bark: a straight crown and a fall to the sides in y^2 and y^4, fitted where it is plain.
class PlainBark {
 public:
  PlainBark(const ThicknessMap& map, const Outline& outline, double from_mm, double to_mm) : from_mm_(from_mm) {
    std::vector<std::array<double, 3>> cells;
    for (Eigen::Index r = 0; r < map.grid.rows; ++r) {
      const double x = map.grid.x_mm(r);
      if (x < from_mm || x > to_mm) continue;
      for (Eigen::Index c = r % 2; c < map.grid.columns; c += 2) {
        if (map.measured(r, c) && outline.holds(x, map.grid.y_mm(c), kRim_mm))
          cells.push_back({x, map.grid.y_mm(c), static_cast<double>(map.thickness_mm(r, c))});
      }
    }
    constexpr std::size_t fewest = 200;
    if (cells.size() < fewest) return;
    Eigen::MatrixXd design(static_cast<Eigen::Index>(cells.size()), 5);
    Eigen::VectorXd height(design.rows());
    for (Eigen::Index i = 0; i < design.rows(); ++i) {
      const auto& [x, y, z] = cells[static_cast<std::size_t>(i)];
      design.row(i) = basis(x, y).transpose();
      height(i) = z;
    }
    coefficients_ = fit_linear_robust(design, height, 1e-3).coefficients;
  }
  [[nodiscard]] bool known() const { return coefficients_.size() > 0; }
  [[nodiscard]] double at(double x, double y) const { return basis(x, y).dot(coefficients_); }

 private:
  [[nodiscard]] Eigen::VectorXd basis(double x, double y) const {
    Eigen::VectorXd b(5);
    b << 1.0, 0.1 * (x - from_mm_), 0.1 * y, 0.01 * y * y, 1e-4 * y * y * y * y;
    return b;
  }
  double from_mm_;
  Eigen::VectorXd coefficients_;
};

/// A stretch of a lane on one side, which is -1 or 1.
struct Patch {
  double from_mm;
  std::size_t lane;
  int side;
};

/// What is missing from the bark in a patch, against the middle of the reed at the same place.
double missing_mm(const ThicknessMap& map, const Outline& outline, const PlainBark& bark, const Patch& patch) {
  const auto [from_mm, lane, side] = patch;
  double sum = 0.0, cells = 0.0, middle = 0.0, middle_cells = 0.0, possible = 0.0;
  constexpr double middle_share = 0.3;
  for (auto r = static_cast<Eigen::Index>(from_mm / map.grid.cell_mm); r < map.grid.rows; ++r) {
    const double x = map.grid.x_mm(r);
    if (x < from_mm) continue;
    if (x > from_mm + kStretch_mm) break;
    for (Eigen::Index c = 0; c < map.grid.columns; ++c) {
      const double y = map.grid.y_mm(c), e = side * y / outline.half_width_mm(x);
      const bool in_lane = e > kLanes.at(lane) && e < kLanes.at(lane + 1) && outline.holds(x, y, kRim_mm);
      possible += in_lane;
      if (!map.measured(r, c)) continue;
      const double missing = bark.at(x, y) - static_cast<double>(map.thickness_mm(r, c));
      if (in_lane) sum += missing, cells += 1.0;
      if (std::abs(e) < middle_share) middle += missing, middle_cells += 1.0;
    }
  }
  constexpr double seen_share = 0.5, fewest = 4.0;
  if (cells < fewest || cells < seen_share * possible || middle_cells < fewest) return std::nan("");
  return sum / cells - middle / middle_cells;
}

/// What is missing on the side that misses less, and on the mean of both.
struct BothCorners {
  double less_mm, mean_mm;
};

}  // namespace

Filing find_filing(const ThicknessMap& map, const Outline& outline, const VampEnd& end, double plain_from_mm) {
  Filing filing;
  filing.shaved_mm = {std::nan(""), std::nan("")};
  const double plain_to = outline.length_mm - 1.5;
  const PlainBark bark(map, outline, plain_from_mm, plain_to);
  if (!bark.known()) return filing;
  double most = std::nan(""), squares = 0.0, count = 0.0;
  for (std::size_t lane = 0; lane + 1 < kLanes.size(); ++lane) {
    const auto on_both = [&](double x) -> std::optional<BothCorners> {
      const double left = missing_mm(map, outline, bark, {x, lane, -1}),
                   right = missing_mm(map, outline, bark, {x, lane, 1});
      if (std::isnan(left) || std::isnan(right)) return std::nullopt;
      return BothCorners{std::min(left, right), 0.5 * (left + right)};
    };
    for (double x = plain_from_mm; x + kStretch_mm < plain_to; x += kStep_mm) {
      if (const auto both = on_both(x)) squares += square(both->mean_mm), count += 1.0;
    }
    // The cut's end runs askew where it is off the centre.
    const double askew = std::abs(end.off_centre.value) * outline.half_width_mm(end.at_mm.value) * kLanes.at(lane + 1);
    const double first = end.at_mm.value + kBehind_mm + kCoverage95 * end.at_mm.u + askew;
    for (double x = first; x < std::min(end.at_mm.value + kReach_mm, plain_from_mm); x += kStep_mm) {
      // Filing shaves both corners: half of it must be on either side.
      if (const auto both = on_both(x)) most = std::fmax(most, std::min(both->mean_mm, 2.0 * both->less_mm));
    }
  }
  constexpr double fewest = 5.0;
  if (std::isnan(most) || count < fewest) return filing;
  constexpr double u_least_mm = 0.005;
  filing.shaved_mm = {std::max(0.0, most), std::hypot(u_least_mm, std::sqrt(squares / count))};
  const auto& [value, u] = filing.shaved_mm;
  constexpr double farthest_mm = 1e9;
  if (judge(value, u, kFiledAbove_mm, farthest_mm) == Verdict::within) filing.filed = Verdict::within;
  if (judge(value, u, -farthest_mm, kUnfiledBelow_mm) == Verdict::within) filing.filed = Verdict::outside;
  return filing;
}

}  // namespace canewise
