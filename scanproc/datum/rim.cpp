#include "scanproc/datum/rim.h"

#include <algorithm>
#include <cmath>

#include "scanproc/core/error.h"
#include "scanproc/core/linear_fit.h"
#include "scanproc/core/parallel.h"
#include "scanproc/core/statistics.h"
#include "scanproc/datum/step_edge.h"

namespace canewise {
namespace {

constexpr double kStationStep = 0.5;
constexpr double kColumnStep = 0.25;
// Half the curvature of a tip's edge, 1/mm: radii of 4 to 50 mm.
constexpr double kFlattest = 0.01, kRoundest = 0.12;
constexpr double kArcShare = 0.65;  // Of the half width: beyond it the corners bend away from the arc.

/// A side's edge at one station.
struct SideEdge {
  double x_mm;
  double line_mm;  ///< y of the line that the edge was looked for at.
  StepEdge edge;   ///< Outwards from that line.
};

/// The edge in a strip of samples, by what lies beside the reed.
class EdgeFinder {
 public:
  EdgeFinder(double noise_mm, Beside beside) : noise_mm_(noise_mm), beside_(beside) {}
  [[nodiscard]] std::optional<StepEdge> operator()(std::vector<StepSample>& samples, const StepWindow& window) const {
    return beside_ == Beside::plate ? find_step_edge(samples, window, noise_mm_)
                                    : find_bare_edge(samples, window, noise_mm_);
  }
  [[nodiscard]] bool sees_plate() const { return beside_ == Beside::plate; }

 private:
  double noise_mm_;
  Beside beside_;
};

std::vector<SideEdge> side_edges(const std::vector<Eigen::Vector3d>& points, const Eigen::Isometry3d& frame,
                                 const SideLine& line, int side, double x_low, double x_high,
                                 const EdgeFinder& find_edge) {
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

/// Neighbouring edge points share raster lines and so errors: the factor by which the residuals' autocorrelation widens
/// the uncertainty of a fit, sqrt(1 + 2 sum of rho_k) over the lags before the first that is not positive. Never
/// below 1.
double correlation_factor(const Eigen::VectorXd& residuals, double sd) {
  constexpr Eigen::Index longest_lag = 20;
  const Eigen::VectorXd r = residuals.cwiseMin(3.0 * sd).cwiseMax(-3.0 * sd);
  const double squares = r.squaredNorm();
  if (!(squares > 0.0)) return 1.0;
  double sum = 0.0;
  for (Eigen::Index lag = 1; lag <= std::min(longest_lag, r.size() / 3); ++lag) {
    const double rho = r.head(r.size() - lag).dot(r.tail(r.size() - lag)) / squares;
    if (rho <= 0.0) break;
    sum += rho;
  }
  return std::sqrt(1.0 + 2.0 * sum);
}

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

struct SideFit {
  SideLine line;
  double pivot_x_mm = 0.0;
  double u_slope = 0.0;
  bool shadowed = false;
};

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

/// Where an edge falls in the gap between two samples is by chance, a twelfth of the gap squared in all. What of that
/// does not show as scatter from station to station, because the raster runs along the edge, all stations share.
double u_of_phase(double gap_mm, double scatter_mm) {
  return std::sqrt(std::max(0.0, square(gap_mm) / 12.0 - square(scatter_mm)));
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

double arc_sag(double radius_mm, double y_mm) {
  return radius_mm - std::sqrt(std::max(1e-6, radius_mm * radius_mm - y_mm * y_mm));
}

/// Edge of the tip in columns along x, found from the middle outwards because each column tells where to look next.
void find_tip_columns(const std::vector<Eigen::Vector3d>& points, const Eigen::Isometry3d& frame,
                      const RimFit& previous, double half_width_mm, const EdgeFinder& find_edge, RimFit& fit) {
  const int reach = static_cast<int>(std::floor((half_width_mm - 0.5 * kColumnStep) / kColumnStep));
  const auto columns = static_cast<std::size_t>(2 * reach + 1);
  std::vector<std::vector<Eigen::Vector3d>> in_column(columns);
  for (const auto& raw : points) {
    const Eigen::Vector3d p = frame * raw;
    const double k = std::round(p.y() / kColumnStep) + reach;
    if (k < 0 || k >= static_cast<double>(columns)) continue;
    in_column[static_cast<std::size_t>(k)].push_back(p);
  }
  const double radius = previous.arc_radius_mm;
  std::vector<double> edge(columns, std::nan(""));
  const StepWindow window{.inside_from_mm = 0.35,
                          .inside_to_mm = 2.35,
                          .outside_mm = 1.2,
                          .search_inside_mm = 2.0,
                          .with_spacing = !find_edge.sees_plate()};
  std::vector<StepSample> samples;
  const auto look = [&](int k, double expected) {
    samples.clear();
    for (int neighbour = std::max(0, k - 1); neighbour <= std::min(static_cast<int>(columns) - 1, k + 1); ++neighbour) {
      const bool own = neighbour == k;
      for (const auto& p : in_column[static_cast<std::size_t>(neighbour)]) {
        // Distance before the expected edge, which moves with y as the arc does.
        const double out = expected + arc_sag(radius, p.y()) - arc_sag(radius, (k - reach) * kColumnStep) - p.x();
        if (out < -window.inside_to_mm || out > window.outside_mm + 0.5) continue;
        // Beside a plate the neighbours steady the surface's line; without one their raster would hide this column's
        // gaps.
        if (own || (find_edge.sees_plate() && out < -window.inside_from_mm)) samples.push_back({out, p.z()});
      }
    }
    const auto found = find_edge(samples, window);
    if (!found) return std::nan("");
    if (!std::isnan(found->gap_mm)) return expected - found->middle_mm();
    return find_edge.sees_plate() ? std::nan("") : expected - found->beyond_reed_mm();
  };
  edge[static_cast<std::size_t>(reach)] = look(reach, previous.apex_x_mm);
  for (const int direction : {-1, 1}) {
    double last = edge[static_cast<std::size_t>(reach)];
    if (std::isnan(last)) last = previous.apex_x_mm;
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
  for (std::size_t k = 0; k < columns; ++k) {
    fit.tip_columns_y_mm.push_back((static_cast<int>(k) - reach) * kColumnStep);
    fit.tip_columns_x_mm.push_back(edge[k]);
  }
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

void fit_arc(double half_width_mm, const RimFit& previous, RimFit& fit) {
  std::vector<std::size_t> used;
  std::size_t asked = 0;
  for (std::size_t k = 0; k < fit.tip_columns_y_mm.size(); ++k) {
    if (std::abs(fit.tip_columns_y_mm[k]) > kArcShare * half_width_mm) continue;
    ++asked;
    if (!std::isnan(fit.tip_columns_x_mm[k])) used.push_back(k);
  }
  if (used.size() < 8 || 5 * used.size() < 3 * asked) {
    throw NotMeasurable({"rim.no_tip"});
  }
  const auto n = static_cast<Eigen::Index>(used.size());
  Eigen::MatrixXd design(n, 3);
  Eigen::VectorXd x(n);
  double radius = previous.arc_radius_mm;
  LinearFit result;
  for (int iteration = 0; iteration < 6;
       ++iteration) {  // The parabola of a circle, corrected by the terms it leaves out.
    for (Eigen::Index i = 0; i < n; ++i) {
      const double y = fit.tip_columns_y_mm[used[static_cast<std::size_t>(i)]];
      design.row(i) << 1.0, y, y * y;
      x(i) = fit.tip_columns_x_mm[used[static_cast<std::size_t>(i)]] - (arc_sag(radius, y) - 0.5 * y * y / radius);
    }
    result = fit_linear_robust(design, x, 1e-4);
    radius = 0.5 / std::clamp(result.coefficients(2), kFlattest, kRoundest);
  }
  result.covariance *= square(correlation_factor(x - design * result.coefficients, result.residual_sd));
  fit.arc_is_at_limit = result.coefficients(2) <= kFlattest || result.coefficients(2) >= kRoundest;
  fit.apex_x_mm = result.coefficients(0);
  fit.u_apex_x_mm = std::sqrt(result.covariance(0, 0));
  fit.arc_radius_mm = radius;
  fit.u_arc_radius_mm = 2.0 * radius * radius * std::sqrt(result.covariance(2, 2));
  fit.tip_scatter_mm = result.residual_sd;
  std::vector<double> behind_mm;
  for (const std::size_t k : used) {
    const double y = fit.tip_columns_y_mm[k];
    behind_mm.push_back(fit.tip_columns_x_mm[k] - fit.apex_x_mm - result.coefficients(1) * y - arc_sag(radius, y));
  }
  fit.chip = chip_of(behind_mm, result.residual_sd);
  // Roundness: how far the edge has dropped behind the arc at 0.9 of the half width, both corners together.
  std::vector<double> drops;
  for (std::size_t k = 0; k < fit.tip_columns_y_mm.size(); ++k) {
    const double y = fit.tip_columns_y_mm[k];
    if (std::abs(std::abs(y) - 0.9 * half_width_mm) > 0.5 * kColumnStep || std::isnan(fit.tip_columns_x_mm[k]))
      continue;
    drops.push_back(fit.tip_columns_x_mm[k] - (fit.apex_x_mm + result.coefficients(1) * y + arc_sag(radius, y)));
  }
  fit.corner_drop_mm = drops.empty() ? std::nan("") : 0.0;
  for (const double drop : drops) fit.corner_drop_mm += drop / static_cast<double>(drops.size());
  // The arc is extrapolated from 0.65 to 0.9 of the half width; its curvature's uncertainty dominates.
  const double y_corner = 0.9 * half_width_mm;
  Eigen::VectorXd at_corner(3);
  at_corner << 1.0, 0.0, y_corner * y_corner;
  fit.u_corner_drop_mm =
      std::sqrt(at_corner.dot(result.covariance * at_corner) +
                square(fit.tip_scatter_mm) / std::max<double>(1.0, static_cast<double>(drops.size())));
}

void fit_butt(const std::vector<Eigen::Vector3d>& points, const Eigen::Isometry3d& frame, double expected_x,
              double half_width_mm, const EdgeFinder& find_edge, RimFit& fit) {
  const int reach = static_cast<int>(0.75 * half_width_mm / kStationStep);
  std::vector<std::vector<StepSample>> samples(static_cast<std::size_t>(2 * reach + 1));
  const StepWindow window{.inside_from_mm = 0.4, .inside_to_mm = 1.8, .outside_mm = 1.6, .search_inside_mm = 1.6};
  for (const auto& raw : points) {
    const Eigen::Vector3d p = frame * raw;
    const double k = std::round(p.y() / kStationStep) + reach;
    const double out = p.x() - expected_x;
    if (k < 0 || k >= static_cast<double>(samples.size()) || std::abs(out) > 2.8) continue;
    samples[static_cast<std::size_t>(k)].push_back({out, p.z()});
  }
  std::vector<StepEdge> found;
  std::vector<double> ys, gaps, spacings;
  for (std::size_t k = 0; k < samples.size(); ++k) {
    if (const auto edge = find_edge(samples[k], window)) {
      found.push_back(*edge);
      ys.push_back((static_cast<int>(k) - reach) * kStationStep);
      spacings.push_back(edge->spacing_mm);
      if (!std::isnan(edge->gap_mm)) gaps.push_back(edge->gap_mm);
    }
  }
  // Plate behind the butt may lie in shadow or out of view: then the reed's own points tell.
  constexpr double alike = 1.6, most_stations = 0.6, reach_share = 0.2;
  const double spacing = median(spacings);
  const bool is_clear = static_cast<double>(gaps.size()) > most_stations * static_cast<double>(found.size()) &&
                        median(gaps) < alike * spacing + 0.01;
  std::vector<double> edges;
  for (const auto& edge : found)
    edges.push_back(expected_x + (is_clear && !std::isnan(edge.gap_mm) ? edge.middle_mm() : edge.beyond_reed_mm()));
  constexpr std::size_t fewest = 5;
  if (edges.size() < fewest || (find_edge.sees_plate() && gaps.size() < fewest)) {
    throw NotMeasurable({"rim.no_butt"});
  }
  const auto n = static_cast<Eigen::Index>(edges.size());
  Eigen::MatrixXd design(n, 2);
  Eigen::VectorXd x(n);
  for (Eigen::Index i = 0; i < n; ++i) {
    design.row(i) << 1.0, ys[static_cast<std::size_t>(i)];
    x(i) = edges[static_cast<std::size_t>(i)];
  }
  const LinearFit result = fit_linear_robust(design, x, 1e-3);
  fit.butt_x_mm = result.coefficients(0);
  const double u_common = is_clear ? u_of_phase(median(std::move(gaps)), result.residual_sd)
                                   : std::hypot(reach_share * spacing + 0.003, u_of_phase(spacing, result.residual_sd));
  fit.u_butt_x_mm = std::hypot(std::sqrt(result.covariance(0, 0)), u_common);
}

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

double rough_tip(const Eigen::Matrix3Xd& points_mm, double noise_mm, Beside beside) {
  std::vector<StepSample> samples;
  for (Eigen::Index i = 0; i < points_mm.cols(); ++i) {
    if (std::abs(points_mm(1, i)) > 1.5 || points_mm(0, i) < -10.0 || points_mm(0, i) > 4.5) continue;
    samples.push_back({-points_mm(0, i), points_mm(2, i)});
  }
  const auto edge = EdgeFinder(noise_mm, beside)(
      samples, {.inside_from_mm = 0.3, .inside_to_mm = 4.3, .outside_mm = 9.5, .search_inside_mm = 4.0});
  if (!edge || (beside == Beside::plate && std::isnan(edge->gap_mm))) {
    throw NotMeasurable({"rim.no_plate_before_tip"});
  }
  return -(std::isnan(edge->gap_mm) ? edge->beyond_reed_mm() : edge->middle_mm());
}

RimFit fit_rim(const RimPoints& points, const Eigen::Isometry3d& frame, const RimFit& previous, double noise_mm,
               Beside beside) {
  RimFit fit;
  const EdgeFinder find_edge(noise_mm, beside);
  const double x_low = previous.apex_x_mm + 4.0;  // Behind the rounded corners.
  const double x_high = previous.butt_x_mm - 1.0;
  std::vector<SideEdge> left_edges, right_edges;
  const double apex_half = 0.5 * (previous.right.at(previous.apex_x_mm) - previous.left.at(previous.apex_x_mm));
  const double butt_half = 0.5 * (previous.right.at(previous.butt_x_mm) - previous.left.at(previous.butt_x_mm));
  constexpr double narrowest_mm = 2.0;
  if (!(apex_half > narrowest_mm && butt_half > narrowest_mm)) {
    throw NotMeasurable({"reed.pointed"});
  }
  run_parts([&](std::size_t part) {
    if (part == 0) {
      left_edges = side_edges(points.left, frame, previous.left, -1, x_low, x_high, find_edge);
      find_tip_columns(points.tip, frame, previous, apex_half, find_edge, fit);
    } else {
      right_edges = side_edges(points.right, frame, previous.right, 1, x_low, x_high, find_edge);
      fit_butt(points.butt, frame, previous.butt_x_mm, butt_half, find_edge, fit);
    }
  });
  const SideFit left = fit_side(left_edges, -1, beside);
  const SideFit right = fit_side(right_edges, 1, beside);
  fit.left = left.line;
  fit.right = right.line;
  fit.shadowed_left = beside == Beside::plate && left.shadowed;
  fit.shadowed_right = beside == Beside::plate && right.shadowed;
  fit.pivot_x_mm = 0.5 * (left.pivot_x_mm + right.pivot_x_mm);
  fit.u_centre_y_mm = 0.5 * std::hypot(left.line.u_offset_mm, right.line.u_offset_mm);
  fit.u_yaw_rad = 0.5 * std::hypot(left.u_slope, right.u_slope);
  fit_arc(apex_half, previous, fit);
  return fit;
}

}  // namespace canewise
