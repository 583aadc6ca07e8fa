#include "scanproc/datum/rim_tip.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "scanproc/core/error.h"
#include "scanproc/core/linear_fit.h"
#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

constexpr double kColumnStep = 0.25;
// Half the curvature of a tip's edge, 1/mm: radii of 4 to 50 mm.
constexpr double kFlattest = 0.01, kRoundest = 0.12;
constexpr double kArcShare = 0.65;  // Of the half width: beyond it the corners bend away from the arc.

// No tip is a circle all the way to its corners, and no scatter shows that: by so much more, on the drawn families, are
// its radius and what is told from it uncertain.
constexpr double kNoCircle = 1.25;

double arc_sag(double radius_mm, double y_mm) {
  return radius_mm - std::sqrt(std::max(1e-6, radius_mm * radius_mm - y_mm * y_mm));
}

/// The points near the tip by columns along x, `reach` of them to each side of the middle one.
struct PointsInColumns {
  int reach;
  std::vector<std::vector<Eigen::Vector3d>> columns;
  [[nodiscard]] double y_mm(int column) const { return (column - reach) * kColumnStep; }
};

PointsInColumns points_in_columns(const std::vector<Eigen::Vector3d>& points, const Eigen::Isometry3d& frame,
                                  double half_width_mm) {
  const int reach = static_cast<int>(std::floor((half_width_mm - 0.5 * kColumnStep) / kColumnStep));
  const auto columns = static_cast<std::size_t>(2 * reach + 1);
  PointsInColumns in{reach, std::vector<std::vector<Eigen::Vector3d>>(columns)};
  for (const auto& raw : points) {
    const Eigen::Vector3d p = frame * raw;
    const double k = std::round(p.y() / kColumnStep) + reach;
    if (k < 0 || k >= static_cast<double>(columns)) continue;
    in.columns[static_cast<std::size_t>(k)].push_back(p);
  }
  return in;
}

/// x of the edge in column k; NaN: not seen.
double edge_in_column(const PointsInColumns& in, int k, const TipSearch& expected, const EdgeFinder& find_edge) {
  const double radius = expected.arc_radius_mm, expected_x = expected.apex_x_mm;
  const StepWindow window{.inside_from_mm = 0.35,
                          .inside_to_mm = 2.35,
                          .outside_mm = 1.2,
                          .search_inside_mm = 2.0,
                          .with_spacing = !find_edge.sees_plate()};
  std::vector<StepSample> samples;
  const int last = static_cast<int>(in.columns.size()) - 1;
  for (int neighbour = std::max(0, k - 1); neighbour <= std::min(last, k + 1); ++neighbour) {
    const bool own = neighbour == k;
    for (const auto& p : in.columns[static_cast<std::size_t>(neighbour)]) {
      // Distance before the expected edge, which moves with y as the arc does.
      const double out = expected_x + arc_sag(radius, p.y()) - arc_sag(radius, in.y_mm(k)) - p.x();
      if (out < -window.inside_to_mm || out > window.outside_mm + 0.5) continue;
      // Beside a plate the neighbours steady the surface's line; without one their raster would hide this column's
      // gaps.
      if (own || (find_edge.sees_plate() && out < -window.inside_from_mm)) samples.push_back({out, p.z()});
    }
  }
  const auto found = find_edge(samples, window);
  if (!found) return std::nan("");
  if (!std::isnan(found->gap_mm)) return expected_x - found->middle_mm();
  return find_edge.sees_plate() ? std::nan("") : expected_x - found->beyond_reed_mm();
}

/// A chip is a stretch of edge that lies well behind the arc: two columns next to each other, so that one stray column
/// is none. Some forty pairs are looked at, which asks for more than the usual 1.645 standard deviations.
Chip chip_of(const std::vector<double>& behind_mm, double scatter_mm) {
  constexpr double chip_mm = 0.2, sure = 3.5, sure_there_is_none = 2.5;
  double deepest = 0.0;
  for (std::size_t k = 0; k + 1 < behind_mm.size(); ++k)
    deepest = std::max(deepest, std::min(behind_mm[k], behind_mm[k + 1]));
  if (deepest > chip_mm + sure * scatter_mm) return Chip::chipped;
  return deepest < chip_mm - sure_there_is_none * scatter_mm ? Chip::whole : Chip::unclear;
}

/// Columns of the arc's stretch in which the edge was seen. Throws NotMeasurable where these are too few.
std::vector<std::size_t> columns_of_arc(const TipColumns& columns, double half_width_mm) {
  std::vector<std::size_t> used;
  std::size_t asked = 0;
  for (std::size_t k = 0; k < columns.y_mm.size(); ++k) {
    if (std::abs(columns.y_mm[k]) > kArcShare * half_width_mm) continue;
    ++asked;
    if (!std::isnan(columns.x_mm[k])) used.push_back(k);
  }
  if (used.size() < 8 || 5 * used.size() < 3 * asked) {
    throw NotMeasurable({"rim.no_tip"});
  }
  return used;
}

/// x = apex + lean * y + sag of the arc at y.
struct Arc {
  double radius_mm;
  LinearFit fit;  ///< Of apex, lean and half the curvature; covariance with the points' correlation.
  [[nodiscard]] double apex_x_mm() const { return fit.coefficients(0); }
  [[nodiscard]] double lean() const { return fit.coefficients(1); }
};

Arc arc_through(const TipColumns& columns, const std::vector<std::size_t>& used, double first_radius_mm) {
  const auto n = static_cast<Eigen::Index>(used.size());
  Eigen::MatrixXd design(n, 3);
  Eigen::VectorXd x(n);
  Arc arc{first_radius_mm, {}};
  constexpr int iterations = 6;
  for (int iteration = 0; iteration < iterations; ++iteration) {
    // The parabola of a circle, corrected by the terms it leaves out.
    for (Eigen::Index i = 0; i < n; ++i) {
      const double y = columns.y_mm[used[static_cast<std::size_t>(i)]];
      design.row(i) << 1.0, y, y * y;
      x(i) =
          columns.x_mm[used[static_cast<std::size_t>(i)]] - (arc_sag(arc.radius_mm, y) - 0.5 * y * y / arc.radius_mm);
    }
    arc.fit = fit_linear_robust(design, x, 1e-4);
    arc.radius_mm = 0.5 / std::clamp(arc.fit.coefficients(2), kFlattest, kRoundest);
  }
  arc.fit.covariance *= square(correlation_factor(x - design * arc.fit.coefficients, arc.fit.residual_sd));
  return arc;
}

/// How far each column's edge lies behind the arc.
std::vector<double> behind_arc(const TipColumns& columns, const std::vector<std::size_t>& used, const Arc& arc) {
  std::vector<double> behind_mm;
  for (const std::size_t k : used) {
    const double y = columns.y_mm[k];
    behind_mm.push_back(columns.x_mm[k] - arc.apex_x_mm() - arc.lean() * y - arc_sag(arc.radius_mm, y));
  }
  return behind_mm;
}

struct CornerDrop {
  double mm = std::nan(""), u_mm = std::nan("");
};

/// How far the edge has dropped behind the arc at y, and how sure that is: a parabola through the columns about it,
/// because the edge may run as steeply there as along.
struct DropAt {
  double mm, u_mm, slope;
};
std::optional<DropAt> drop_at(const TipColumns& columns, double y_mm, const Arc& arc) {
  constexpr double reach_mm = 0.55;
  constexpr std::size_t fewest = 4;
  std::vector<double> offsets, drops;
  for (std::size_t k = 0; k < columns.y_mm.size(); ++k) {
    const double y = columns.y_mm[k];
    if (std::abs(y - y_mm) > reach_mm || std::isnan(columns.x_mm[k])) continue;
    offsets.push_back(y - y_mm);
    drops.push_back(columns.x_mm[k] - (arc.apex_x_mm() + arc.lean() * y + arc_sag(arc.radius_mm, y)));
  }
  if (drops.size() < fewest) return std::nullopt;
  const auto n = static_cast<Eigen::Index>(drops.size());
  Eigen::MatrixXd design(n, 3);
  for (Eigen::Index i = 0; i < n; ++i) {
    const double t = offsets[static_cast<std::size_t>(i)];
    design.row(i) << 1.0, t, t * t;
  }
  const LinearFit fit = fit_linear(design, Eigen::Map<const Eigen::VectorXd>(drops.data(), n));
  // Four or five columns tell little of their scatter: at least one column of the arc's own, and more on a slope.
  const double slope = fit.coefficients(1);
  const double own = std::hypot(1.0, slope) * arc.fit.residual_sd;
  return DropAt{fit.coefficients(0), std::max(own, std::sqrt(fit.covariance(0, 0))), slope};
}

/// Roundness: how far the edge has dropped behind the arc at 0.9 of the half width, both corners together.
CornerDrop corner_drop(const TipColumns& columns, const HalfWidth& half, const Arc& arc) {
  const double y_corner = 0.9 * half.mm;
  CornerDrop both;
  double squares = 0.0, slope = 0.0, sides = 0.0;
  for (const double y : {-y_corner, y_corner}) {
    const auto drop = drop_at(columns, y, arc);
    if (!drop) continue;
    both.mm = (sides > 0.0 ? both.mm : 0.0) + drop->mm;
    squares += square(drop->u_mm), slope += std::abs(drop->slope), sides += 1.0;
  }
  if (sides == 0.0) return both;
  both.mm /= sides;
  // The arc is extrapolated from 0.65 to 0.9 of the half width; and where that is, is as sure as the width.
  Eigen::VectorXd at_corner(3);
  at_corner << 1.0, 0.0, y_corner * y_corner;
  both.u_mm = std::sqrt(square(kNoCircle) * at_corner.dot(arc.fit.covariance * at_corner) + squares / square(sides) +
                        square(0.9 * half.u_mm * slope / sides));
  return both;
}

}  // namespace

TipColumns find_tip_columns(const std::vector<Eigen::Vector3d>& points, const Eigen::Isometry3d& frame,
                            const TipSearch& search, const EdgeFinder& find_edge) {
  const PointsInColumns in = points_in_columns(points, frame, search.half_width_mm);
  const int reach = in.reach;
  const double radius = search.arc_radius_mm;
  std::vector<double> edge(in.columns.size(), std::nan(""));
  const auto look = [&](int k, double expected_x) {
    return edge_in_column(in, k, {expected_x, radius, search.half_width_mm}, find_edge);
  };
  edge[static_cast<std::size_t>(reach)] = look(reach, search.apex_x_mm);
  // From the middle outwards, because each column tells where to look next.
  for (const int direction : {-1, 1}) {
    double last = edge[static_cast<std::size_t>(reach)];
    if (std::isnan(last)) last = search.apex_x_mm;
    double last_y = 0.0;
    double step = 0.0;  // What the corners add to the arc's own step from column to column.
    for (int i = 1; i <= reach; ++i) {
      const double y = direction * i * kColumnStep;
      const double expected = last + arc_sag(radius, y) - arc_sag(radius, last_y) + step;
      const double found = look(reach + direction * i, expected);
      edge[static_cast<std::size_t>(reach + direction * i)] = found;
      if (std::isnan(found)) continue;
      const bool corner = i > kArcShare * reach;
      step = corner ? std::clamp(found - last - (arc_sag(radius, y) - arc_sag(radius, last_y)), 0.0, 0.5) : 0.0;
      last = corner ? found : expected + 0.5 * std::clamp(found - expected, -0.2, 0.2);
      last_y = y;
    }
  }
  TipColumns columns;
  for (std::size_t k = 0; k < edge.size(); ++k) columns.y_mm.push_back(in.y_mm(static_cast<int>(k)));
  columns.x_mm = std::move(edge);
  return columns;
}

TipArc fit_arc(const TipColumns& columns, const HalfWidth& half_width, double first_radius_mm) {
  const auto used = columns_of_arc(columns, half_width.mm);
  const Arc arc = arc_through(columns, used, first_radius_mm);
  const CornerDrop drop = corner_drop(columns, half_width, arc);
  const double half_curvature = arc.fit.coefficients(2);
  TipArc found;
  found.apex_x_mm = arc.apex_x_mm();
  found.u_apex_x_mm = std::sqrt(arc.fit.covariance(0, 0));
  found.radius_mm = arc.radius_mm;
  found.u_radius_mm = kNoCircle * 2.0 * arc.radius_mm * arc.radius_mm * std::sqrt(arc.fit.covariance(2, 2));
  found.corner_drop_mm = drop.mm;
  found.u_corner_drop_mm = drop.u_mm;
  found.scatter_mm = arc.fit.residual_sd;
  found.is_at_limit = half_curvature <= kFlattest || half_curvature >= kRoundest;
  found.chip = chip_of(behind_arc(columns, used, arc), arc.fit.residual_sd);
  return found;
}

}  // namespace canewise
