#include "scanproc/datum/rim_butt.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "scanproc/core/error.h"
#include "scanproc/core/linear_fit.h"
#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

constexpr double kRowStep = 0.5;

/// The butt's edge at one distance from the centreline.
struct ButtStation {
  double y_mm;
  StepEdge edge;
};

std::vector<ButtStation> butt_stations(const std::vector<Eigen::Vector3d>& points, const Eigen::Isometry3d& frame,
                                       const ButtSearch& search, const EdgeFinder& find_edge) {
  const int reach = static_cast<int>(0.75 * search.half_width_mm / kRowStep);
  std::vector<std::vector<StepSample>> samples(static_cast<std::size_t>(2 * reach + 1));
  const StepWindow window{.inside_from_mm = 0.4, .inside_to_mm = 1.8, .outside_mm = 1.6, .search_inside_mm = 1.6};
  for (const auto& raw : points) {
    const Eigen::Vector3d p = frame * raw;
    const double k = std::round(p.y() / kRowStep) + reach;
    const double out = p.x() - search.x_mm;
    if (k < 0 || k >= static_cast<double>(samples.size()) || std::abs(out) > 2.8) continue;
    samples[static_cast<std::size_t>(k)].push_back({out, p.z()});
  }
  std::vector<ButtStation> stations;
  for (std::size_t k = 0; k < samples.size(); ++k) {
    if (const auto edge = find_edge(samples[k], window))
      stations.push_back({(static_cast<int>(k) - reach) * kRowStep, *edge});
  }
  return stations;
}

}  // namespace

ButtEdge fit_butt(const std::vector<Eigen::Vector3d>& points, const Eigen::Isometry3d& frame, const ButtSearch& search,
                  const EdgeFinder& find_edge) {
  const auto stations = butt_stations(points, frame, search, find_edge);
  std::vector<double> gaps, spacings;
  for (const auto& [y, edge] : stations) {
    spacings.push_back(edge.spacing_mm);
    if (!std::isnan(edge.gap_mm)) gaps.push_back(edge.gap_mm);
  }
  // Plate behind the butt may lie in shadow or out of view: then the reed's own points tell.
  constexpr double alike = 1.6, most_stations = 0.6, reach_share = 0.2;
  const double spacing = median(std::move(spacings));
  const bool is_clear = static_cast<double>(gaps.size()) > most_stations * static_cast<double>(stations.size()) &&
                        median(gaps) < alike * spacing + 0.01;
  constexpr std::size_t fewest = 5;
  if (stations.size() < fewest || (find_edge.sees_plate() && gaps.size() < fewest)) {
    throw NotMeasurable({"rim.no_butt"});
  }
  const auto n = static_cast<Eigen::Index>(stations.size());
  Eigen::MatrixXd design(n, 2);
  Eigen::VectorXd x(n);
  for (Eigen::Index i = 0; i < n; ++i) {
    const auto& [y, edge] = stations[static_cast<std::size_t>(i)];
    design.row(i) << 1.0, y;
    x(i) = search.x_mm + (is_clear && !std::isnan(edge.gap_mm) ? edge.middle_mm() : edge.beyond_reed_mm());
  }
  const LinearFit line = fit_linear_robust(design, x, 1e-3);
  const double u_common = is_clear ? u_of_phase(median(std::move(gaps)), line.residual_sd)
                                   : std::hypot(reach_share * spacing + 0.003, u_of_phase(spacing, line.residual_sd));
  return {line.coefficients(0), std::hypot(std::sqrt(line.covariance(0, 0)), u_common)};
}

}  // namespace canewise
