#include "calib/touch_place.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>
#include <vector>

#include "scanproc/core/error.h"
#include "scanproc/core/linear_fit.h"
#include "scanproc/core/statistics.h"
#include "scanproc/core/units.h"
#include "scanproc/words/decimals.h"

namespace canewise {
namespace {

constexpr double kRadialModulus_mpa = 400.0;
constexpr double kRestsOn_sd = 2.0;

/// The reading's place in words.
Arguments where_of(const TouchReading& reading, std::size_t which) {
  return {{"reading", count(which)},
          {"x", mm(reading.x_mm, decimals_of(reading.x_mm))},
          {"y", mm(reading.y_mm, decimals_of(reading.y_mm))}};
}

/// Points under the anvil, from its middle.
struct PointsUnder {
  std::vector<Eigen::Vector2d> at_mm;
  std::vector<double> heights_mm;
};

PointsUnder points_under(const Eigen::Matrix3Xd& points, const TouchReading& reading, double radius) {
  PointsUnder under;
  for (Eigen::Index i = 0; i < points.cols(); ++i) {
    const Eigen::Vector3d p = points.col(i);
    const double dx = p.x() - reading.x_mm, dy = p.y() - reading.y_mm;
    if (dx * dx + dy * dy > square(radius)) continue;
    under.at_mm.emplace_back(dx, dy);
    under.heights_mm.push_back(p.z());
  }
  return under;
}

/// Powers of x and y up to `order`, in parts of the anvil's radius.
Eigen::VectorXd powers(double x, double y, double radius, int order) {
  Eigen::VectorXd terms((order + 1) * (order + 2) / 2);
  Eigen::Index at = 0;
  for (int sum = 0; sum <= order; ++sum) {
    for (int i = 0; i <= sum; ++i) terms(at++) = std::pow(x / radius, sum - i) * std::pow(y / radius, i);
  }
  return terms;
}

/// The smooth surface under the anvil: a polynomial about its middle.
struct SmoothSurface {
  double radius = 0.0;
  int order = 2;
  LinearFit fit;

  [[nodiscard]] double middle_mm() const { return fit.coefficients(0); }
  [[nodiscard]] double slope() const { return std::hypot(fit.coefficients(1), fit.coefficients(2)) / radius; }
  [[nodiscard]] double over_middle_mm(double x, double y) const {
    return fit.coefficients.dot(powers(x, y, radius, order)) - fit.coefficients(0);
  }
};

SmoothSurface smooth_surface(const PointsUnder& under, double radius) {
  // As many powers as the points carry: what is left must be texture, not form.
  constexpr std::size_t enough_for_quartic = 80;
  SmoothSurface surface;
  surface.radius = radius;
  surface.order = under.at_mm.size() > enough_for_quartic ? 4 : 2;
  const auto n = static_cast<Eigen::Index>(under.at_mm.size());
  Eigen::MatrixXd design(n, powers(0.0, 0.0, radius, surface.order).size());
  for (std::size_t i = 0; i < under.at_mm.size(); ++i) {
    design.row(static_cast<Eigen::Index>(i)) =
        powers(under.at_mm[i].x(), under.at_mm[i].y(), radius, surface.order).transpose();
  }
  surface.fit = fit_linear_robust(design, Eigen::Map<const Eigen::VectorXd>(under.heights_mm.data(), n), 1e-4);
  return surface;
}

/// How far the smooth surface rises under the anvil over its middle.
double highest_mm(const SmoothSurface& surface, const Outline& outline, const TouchReading& reading) {
  double highest = 0.0;
  constexpr int rings = 6, around = 24;
  for (int i = 1; i <= rings; ++i) {
    for (int j = 0; j < around; ++j) {
      const double r = surface.radius * i / rings, angle = 2.0 * std::numbers::pi * j / around;
      const double x = r * std::cos(angle), y = r * std::sin(angle);
      if (!outline.holds(reading.x_mm + x, reading.y_mm + y)) continue;
      highest = std::max(highest, surface.over_middle_mm(x, y));
    }
  }
  return highest;
}

/// Uncertainty of the place's thickness by its own points: the map's, or else the fit's.
double local_u_um(const ThicknessMap& map, const TouchReading& reading, const LinearFit& fit, std::size_t points) {
  const auto row = static_cast<Eigen::Index>(reading.x_mm / map.grid.cell_mm);
  const auto column =
      static_cast<Eigen::Index>(reading.y_mm / map.grid.cell_mm + 0.5 * static_cast<double>(map.grid.columns));
  if (row >= 0 && column >= 0 && row < map.grid.rows && column < map.grid.columns && map.measured(row, column))
    return um_from_mm(static_cast<double>(map.u_local_mm(row, column)));
  return um_from_mm(fit.residual_sd) / std::sqrt(static_cast<double>(points));
}

void check_thickness(const TouchReading& reading, double thickness_mm, std::size_t which) {
  constexpr double no_thickness = 0.5;
  if (!(std::abs(reading.reading_mm - thickness_mm) > std::max(0.15, no_thickness * thickness_mm))) return;
  Arguments with = where_of(reading, which);
  with["says"] = mm(reading.reading_mm, decimals_of(reading.reading_mm));
  with["shows"] = mm(thickness_mm, 3);
  throw UsageError({"touch.no_thickness", std::move(with)});
}

}  // namespace

TouchPlace place_of(const TouchedReed& reed, const TouchReading& reading, const TouchTool& tool, std::size_t which) {
  const double radius = 0.5 * tool.anvil_diameter_mm;
  const Outline& outline = reed.aligned.outline;
  if (!outline.holds(reading.x_mm, reading.y_mm, std::min(radius, 0.4)))
    throw UsageError({"touch.off_reed", where_of(reading, which)});
  const PointsUnder under = points_under(reed.aligned.points_mm, reading, radius);
  constexpr std::size_t fewest = 12;
  if (under.at_mm.size() < fewest) throw UsageError({"touch.few_points", {{"reading", count(which)}}});
  const SmoothSurface surface = smooth_surface(under, radius);
  const LinearFit& fit = surface.fit;
  const double rise_um = um_from_mm(highest_mm(surface, outline, reading));
  const double texture_um =
      um_from_mm(std::sqrt(std::max(0.0, square(fit.residual_sd) - square(reed.aligned.plate_noise_mm))));
  const double pressure_mpa = tool.force_n / (std::numbers::pi * square(radius));
  TouchPlace place;
  place.reading = reading;
  place.thickness_mm = surface.middle_mm();
  place.mean_um = um_from_mm(place.thickness_mm);
  place.slope = surface.slope();
  place.peaks_um = kRestsOn_sd * texture_um + rise_um;
  place.indentation_um = um_from_mm(pressure_mpa / kRadialModulus_mpa * place.thickness_mm);
  place.difference_um = um_from_mm(reading.reading_mm) - place.mean_um - place.peaks_um + place.indentation_um;
  const double local_um = local_u_um(reed.map, reading, fit, under.at_mm.size());
  place.u_um = std::sqrt(square(local_um) + square(0.5 * texture_um) + square(place.indentation_um) +
                         square(um_from_mm(tool.u_place_mm * place.slope)) + square(0.03 * rise_um));
  check_thickness(reading, place.thickness_mm, which);
  return place;
}

}  // namespace canewise
