#include "scanproc/datum/rim_side.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "scanproc/core/error.h"
#include "scanproc/core/linear_fit.h"
#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

constexpr double kStationStep = 0.5;

/// How the plate's first point recedes from a wall with the wall's height: gap = raster's own + tangent * height. The
/// tangent is zero where nothing recedes that is sure; its uncertainty then holds what may be there.
struct Recess {
  double tangent = 0.0, u_tangent = 0.0;
  double with_plate = 0.0;  ///< Share of the stations that see plate.
  double usual_height_mm = 0.0;
  double height_slope = 0.0;  ///< Of the wall's height along x.
  [[nodiscard]] bool is_seen() const { return tangent > 0.0; }
};

/// A shadow, of the light or of the camera, reaches farther from a high wall than from a low one; gaps of the raster
/// and of dropped points do not. Its law is read from the side itself, because few scans say where light and camera
/// stood.
Recess find_recess(const std::vector<SideEdge>& edges, double spacing_mm) {
  Recess recess;
  std::vector<const SideEdge*> seen;
  std::vector<double> heights;
  for (const auto& edge : edges) {
    heights.push_back(edge.edge.height_mm);
    if (!std::isnan(edge.edge.gap_mm)) seen.push_back(&edge);
  }
  recess.usual_height_mm = median(heights);
  recess.with_plate = static_cast<double>(seen.size()) / static_cast<double>(edges.size());
  constexpr std::size_t fewest = 20;
  if (seen.size() < fewest) return recess;
  const auto n = static_cast<Eigen::Index>(seen.size());
  Eigen::MatrixXd design(n, 2), along(n, 2);
  Eigen::VectorXd gap(n), height(n);
  for (Eigen::Index i = 0; i < n; ++i) {
    const SideEdge& edge = *seen[static_cast<std::size_t>(i)];
    height(i) = std::max(0.0, edge.edge.height_mm);
    design.row(i) << 1.0, height(i);
    along.row(i) << 1.0, 0.01 * edge.x_mm;
    gap(i) = edge.edge.gap_mm;
  }
  // From a wall that is equally high everywhere no law can be read.
  constexpr double alike_mm = 1e-3;
  if (height.maxCoeff() - height.minCoeff() < alike_mm) return recess;
  const LinearFit fit = fit_linear_robust(design, gap, 1e-3);
  const double factor = correlation_factor(gap - design * fit.coefficients, fit.residual_sd);
  recess.tangent = fit.coefficients(1);
  recess.u_tangent = factor * std::sqrt(fit.covariance(1, 1));
  recess.height_slope = 0.01 * fit_linear_robust(along, height, 1e-3).coefficients(1);
  constexpr double sure = 3.0, least_tangent = 0.02;
  if (recess.tangent < std::max(least_tangent, sure * recess.u_tangent)) {
    // Without a shadow the gap is the raster's own, to a tenth or so: that bounds what there may be of one.
    const double u_raster = 0.1 * spacing_mm + 0.003;
    const Eigen::Matrix2d covariance = square(factor) * fit.covariance;
    const double gain = covariance(1, 0) / (covariance(0, 0) + square(u_raster));
    const double tangent = fit.coefficients(1) + gain * (spacing_mm - fit.coefficients(0));
    recess.u_tangent =
        std::hypot(std::max(0.0, tangent), std::sqrt(std::max(0.0, covariance(1, 1) - gain * covariance(1, 0))));
    recess.tangent = 0.0;
  }
  return recess;
}

/// How far beyond the outermost reed point the side is taken to be, and how sure that is for all stations together.
struct Beyond {
  std::vector<double> out_mm;  ///< One a station; NaN: left out.
  double u_mm = 0.0;           ///< Common to the whole side.
  double u_slope = 0.0;
  bool shadowed = false;
};

/// Two witnesses: the reed's own points, which reach the edge to within their spacing if none is lost there, and the
/// plate's first points once the shadow's share of their distance is taken off. Where no shadow is seen they are one
/// interval, whose middle is taken. Else both are weighed, and where they disagree the doubt is half of it.
Beyond find_beyond(const std::vector<SideEdge>& edges) {
  Beyond beyond;
  std::vector<double> spacings;
  for (const auto& edge : edges) spacings.push_back(edge.edge.spacing_mm);
  const double spacing = median(spacings);
  const Recess recess = find_recess(edges, spacing);
  constexpr double most_stations = 0.6, alike = 1.6;
  const bool has_plate = recess.with_plate > most_stations;
  std::vector<double> gaps;
  for (const auto& edge : edges) {
    if (!std::isnan(edge.edge.gap_mm)) gaps.push_back(edge.edge.gap_mm);
  }
  // A shadow whose reach does not grow with the wall, or none that the law shows: the gaps alone tell.
  const bool is_wide = has_plate && median(gaps) > alike * spacing + 0.01;
  beyond.shadowed = !has_plate || recess.is_seen() || is_wide;
  // Whether the reed's points reach its edge is assumed, not seen: a fifth of the spacing.
  constexpr double reach_share = 0.2;
  const double u_own = reach_share * spacing + 0.003;
  if (!beyond.shadowed) {
    for (const auto& edge : edges)
      beyond.out_mm.push_back(std::isnan(edge.edge.gap_mm) ? std::nan("") : edge.edge.middle_mm());
    // A shadow too short to be seen moves the middle by half its reach.
    beyond.u_mm = 0.5 * recess.u_tangent * recess.usual_height_mm;
    beyond.u_slope = 0.5 * recess.u_tangent * std::abs(recess.height_slope);
    return beyond;
  }
  const bool has_law = has_plate && recess.is_seen();
  const double u_law = has_law ? 0.5 * recess.u_tangent * recess.usual_height_mm + 0.1 * spacing : 1e9;
  const double share = square(u_own) / (square(u_own) + square(u_law));  // Of the plate's witness.
  std::vector<double> apart;
  for (const auto& edge : edges) {
    const double own = edge.edge.beyond_reed_mm();
    if (!has_law || std::isnan(edge.edge.gap_mm)) {
      beyond.out_mm.push_back(own);
      continue;
    }
    const double left = edge.edge.gap_mm - recess.tangent * std::max(0.0, edge.edge.height_mm);
    const double law = edge.edge.reed_mm + 0.5 * left;
    apart.push_back(law - own);
    beyond.out_mm.push_back((1.0 - share) * own + share * law);
  }
  beyond.u_mm = has_law ? u_own * u_law / std::hypot(u_own, u_law) : u_own;
  if (!apart.empty()) {
    const double disagreement = std::abs(median(apart));
    constexpr double alike_sd = 2.0;
    if (disagreement > alike_sd * std::hypot(u_own, u_law)) beyond.u_mm = std::hypot(beyond.u_mm, 0.5 * disagreement);
  }
  beyond.u_slope = share * 0.5 * recess.u_tangent * std::abs(recess.height_slope);
  return beyond;
}

}  // namespace

std::vector<SideEdge> side_edges(const std::vector<Eigen::Vector3d>& points, const Eigen::Isometry3d& frame,
                                 const SideSearch& search, const EdgeFinder& find_edge) {
  const auto& [line, side, x_low, x_high] = search;
  const auto stations = static_cast<std::size_t>(std::max(0.0, (x_high - x_low) / kStationStep));
  std::vector<std::vector<StepSample>> samples(stations);
  const StepWindow window;
  for (const auto& raw : points) {
    const Eigen::Vector3d p = frame * raw;
    const double k = std::floor((p.x() - x_low) / kStationStep);
    if (k < 0 || k >= static_cast<double>(stations)) continue;
    // Measured from the line at the point's own x, so that the taper does not blur the station.
    const double out = side * (p.y() - line.at(p.x()));
    if (out < -window.inside_to_mm - 0.1 || out > window.outside_mm + 1.2) continue;
    samples[static_cast<std::size_t>(k)].push_back({out, p.z()});
  }
  std::vector<SideEdge> edges;
  for (std::size_t k = 0; k < stations; ++k) {
    const auto edge = find_edge(samples[k], window);
    if (!edge) continue;
    const double x = x_low + (static_cast<double>(k) + 0.5) * kStationStep;
    edges.push_back({x, line.at(x), *edge});
  }
  return edges;
}

SideFit fit_side(const std::vector<SideEdge>& edges, int side, Beside beside) {
  constexpr std::size_t fewest = 20;
  const auto refuse = [side] { throw NotMeasurable({"rim.no_side", {{"side", word(side < 0 ? "left" : "right")}}}); };
  if (edges.size() < fewest) refuse();
  // A shadow may hide the plate along most of a side; a scan that shows none at all may end anywhere on the reed.
  constexpr std::size_t fewest_with_plate = 8;
  const auto with_plate = static_cast<std::size_t>(
      std::count_if(edges.begin(), edges.end(), [](const SideEdge& edge) { return !std::isnan(edge.edge.gap_mm); }));
  if (beside == Beside::plate && with_plate < fewest_with_plate) refuse();
  const Beyond beyond = find_beyond(edges);
  std::vector<double> xs, ys, spacings, gaps;
  for (std::size_t i = 0; i < edges.size(); ++i) {
    if (std::isnan(beyond.out_mm[i])) continue;
    if (!std::isnan(edges[i].edge.gap_mm)) gaps.push_back(edges[i].edge.gap_mm);
    xs.push_back(edges[i].x_mm);
    ys.push_back(edges[i].line_mm + side * beyond.out_mm[i]);
    spacings.push_back(edges[i].edge.spacing_mm);
  }
  if (xs.size() < fewest) refuse();
  const auto n = static_cast<Eigen::Index>(xs.size());
  double pivot = 0.0;
  for (const double x : xs) pivot += x / static_cast<double>(n);
  Eigen::MatrixXd design(n, 2);
  for (Eigen::Index i = 0; i < n; ++i) design.row(i) << 1.0, xs[static_cast<std::size_t>(i)] - pivot;
  const Eigen::Map<const Eigen::VectorXd> y(ys.data(), n);
  const LinearFit fit = fit_linear_robust(design, y, 1e-4);
  const double factor = correlation_factor(y - design * fit.coefficients, fit.residual_sd);
  SideFit fitted;
  fitted.shadowed = beyond.shadowed;
  fitted.line.slope = fit.coefficients(1);
  fitted.line.offset_mm = fit.coefficients(0) - fit.coefficients(1) * pivot;
  // A raster that runs nearly along the side beats with it, which the scatter along the side does not show.
  constexpr double beat_share = 1.0 / 30.0;
  const double spacing = median(std::move(spacings));
  const double u_phase = u_of_phase(beyond.shadowed ? spacing : median(std::move(gaps)), fit.residual_sd);
  const double u_raster = std::hypot(beat_share * spacing, u_phase);
  fitted.line.u_offset_mm = std::hypot(factor * std::sqrt(fit.covariance(0, 0)), std::hypot(u_raster, beyond.u_mm));
  fitted.line.scatter_mm = fit.residual_sd;
  fitted.pivot_x_mm = pivot;
  // Where the raster gains less than a step on the side from end to end, the line turns with it.
  const double half_span_mm = 0.5 * (xs.back() - xs.front());
  fitted.u_slope =
      std::hypot(factor * std::sqrt(fit.covariance(1, 1)), std::hypot(beyond.u_slope, u_phase / half_span_mm));
  return fitted;
}

}  // namespace canewise
