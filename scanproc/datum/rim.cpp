#include "scanproc/datum/rim.h"

#include <algorithm>
#include <cmath>

#include "scanproc/core/error.h"
#include "scanproc/core/linear_fit.h"
#include "scanproc/core/parallel.h"
#include "scanproc/datum/rim_butt.h"
#include "scanproc/datum/rim_edge.h"
#include "scanproc/datum/rim_side.h"
#include "scanproc/datum/rim_tip.h"
#include "scanproc/datum/step_edge.h"

namespace canewise {
namespace {

double half_width_mm(const RimFit& rim, double x_mm) { return 0.5 * (rim.right.at(x_mm) - rim.left.at(x_mm)); }

}  // namespace

std::pair<SideLine, SideLine> rough_sides(const Eigen::Matrix3Xd& points_mm, double length_mm, double threshold_mm) {
  const auto stations = static_cast<std::size_t>(std::max(4.0, length_mm - 6.0));
  std::vector<std::vector<double>> across(stations);
  const Eigen::Index step = std::max<Eigen::Index>(1, points_mm.cols() / 200000);
  for (Eigen::Index i = 0; i < points_mm.cols(); i += step) {
    const double k = std::floor(points_mm(0, i) - 2.0);
    if (k < 0 || k >= static_cast<double>(stations) || points_mm(2, i) < threshold_mm) continue;
    if (std::abs(points_mm(1, i)) > 14.0) continue;
    across[static_cast<std::size_t>(k)].push_back(points_mm(1, i));
  }
  std::vector<double> xs, lows, highs;
  for (std::size_t k = 0; k < stations; ++k) {
    auto& values = across[k];
    if (values.size() < 10) continue;
    std::sort(values.begin(), values.end());
    const auto trim = values.size() / 100;
    xs.push_back(2.5 + static_cast<double>(k));
    lows.push_back(values[trim]);
    highs.push_back(values[values.size() - 1 - trim]);
  }
  if (xs.size() < 10) {
    throw NotMeasurable({"rim.no_sides"});
  }
  const auto n = static_cast<Eigen::Index>(xs.size());
  Eigen::MatrixXd design(n, 2);
  for (Eigen::Index i = 0; i < n; ++i) design.row(i) << 1.0, xs[static_cast<std::size_t>(i)];
  const auto line = [&](const std::vector<double>& values) {
    const LinearFit fit = fit_linear_robust(design, Eigen::Map<const Eigen::VectorXd>(values.data(), n), 0.02);
    SideLine side;
    side.offset_mm = fit.coefficients(0);
    side.slope = fit.coefficients(1);
    return side;
  };
  return {line(lows), line(highs)};
}

double rough_tip(const Eigen::Matrix3Xd& points_mm, const Backdrop& backdrop) {
  std::vector<StepSample> samples;
  for (Eigen::Index i = 0; i < points_mm.cols(); ++i) {
    if (std::abs(points_mm(1, i)) > 1.5 || points_mm(0, i) < -10.0 || points_mm(0, i) > 4.5) continue;
    samples.push_back({-points_mm(0, i), points_mm(2, i)});
  }
  const auto edge = EdgeFinder(backdrop)(
      samples, {.inside_from_mm = 0.3, .inside_to_mm = 4.3, .outside_mm = 9.5, .search_inside_mm = 4.0});
  if (!edge || (backdrop.beside == Beside::plate && std::isnan(edge->gap_mm))) {
    throw NotMeasurable({"rim.no_plate_before_tip"});
  }
  return -(std::isnan(edge->gap_mm) ? edge->beyond_reed_mm() : edge->middle_mm());
}

RimFit fit_rim(const RimPoints& points, const Eigen::Isometry3d& frame, const RimFit& previous,
               const Backdrop& backdrop) {
  const EdgeFinder find_edge(backdrop);
  const Beside beside = backdrop.beside;
  const double x_low = previous.apex_x_mm + 4.0;  // Behind the rounded corners.
  const double x_high = previous.butt_x_mm - 1.0;
  const double apex_half = half_width_mm(previous, previous.apex_x_mm);
  const double butt_half = half_width_mm(previous, previous.butt_x_mm);
  constexpr double narrowest_mm = 2.0;
  if (!(apex_half > narrowest_mm && butt_half > narrowest_mm)) {
    throw NotMeasurable({"reed.pointed"});
  }
  std::vector<SideEdge> left_edges, right_edges;
  TipColumns tip;
  ButtEdge butt;
  run_together(
      {[&] {
         left_edges = side_edges(points.left, frame, {previous.left, -1, x_low, x_high}, find_edge);
       },
       [&] {
         right_edges = side_edges(points.right, frame, {previous.right, 1, x_low, x_high}, find_edge);
       },
       [&] {
         tip = find_tip_columns(points.tip, frame, {previous.apex_x_mm, previous.arc_radius_mm, apex_half}, find_edge);
       },
       [&] {
         butt = fit_butt(points.butt, frame, {previous.butt_x_mm, butt_half}, find_edge);
       }});
  const SideFit left = fit_side(left_edges, -1, beside);
  const SideFit right = fit_side(right_edges, 1, beside);
  const double u_half = 0.5 * std::hypot(left.line.u_offset_mm, right.line.u_offset_mm);
  const TipArc arc = fit_arc(tip, {apex_half, u_half}, previous.arc_radius_mm);
  RimFit fit;
  fit.left = left.line;
  fit.right = right.line;
  fit.shadowed_left = beside == Beside::plate && left.shadowed;
  fit.shadowed_right = beside == Beside::plate && right.shadowed;
  fit.pivot_x_mm = 0.5 * (left.pivot_x_mm + right.pivot_x_mm);
  fit.u_centre_y_mm = u_half;
  fit.u_yaw_rad = 0.5 * std::hypot(left.u_slope, right.u_slope);
  fit.apex_x_mm = arc.apex_x_mm;
  fit.u_apex_x_mm = arc.u_apex_x_mm;
  fit.arc_radius_mm = arc.radius_mm;
  fit.u_arc_radius_mm = arc.u_radius_mm;
  fit.butt_x_mm = butt.x_mm;
  fit.u_butt_x_mm = butt.u_mm;
  fit.corner_drop_mm = arc.corner_drop_mm;
  fit.u_corner_drop_mm = arc.u_corner_drop_mm;
  fit.tip_scatter_mm = arc.scatter_mm;
  fit.tip_columns_y_mm = std::move(tip.y_mm);
  fit.tip_columns_x_mm = std::move(tip.x_mm);
  fit.arc_is_at_limit = arc.is_at_limit;
  fit.chip = arc.chip;
  return fit;
}

}  // namespace canewise
