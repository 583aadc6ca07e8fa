#include "scanproc/thickness/measure_thickness.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "scanproc/core/error.h"
#include "scanproc/core/statistics.h"
#include "scanproc/core/units.h"
#include "scanproc/thickness/bin_points.h"
#include "scanproc/thickness/components.h"
#include "scanproc/thickness/surface.h"
#include "scanproc/words/decimals.h"

namespace canewise {
namespace {

double choose_cell_mm(double spacing_mm) {
  // A footprint of 6 cell^2 must hold about ten points.
  for (const double cell : {0.25, 0.5, 1.0}) {
    if (6.0 * cell * cell >= 10.0 * spacing_mm * spacing_mm) return cell;
  }
  constexpr double coarsest_mm = 0.7;
  throw NotMeasurable({"thickness.coarse", {{"spacing", mm(spacing_mm, 2)}, {"coarsest", mm(coarsest_mm, 1)}}});
}

/// The cane between the top and the table, each measured by itself.
void take_table_away(Surface& top, const Surface& table) {
  top.height_mm -= table.height_mm;  // NaN where either is missing.
  top.slope_x -= table.slope_x;
  top.slope_y -= table.slope_y;
  top.u_local_mm = (top.u_local_mm.square() + table.u_local_mm.square()).sqrt();
  const float missing = std::numeric_limits<float>::quiet_NaN();
  for (Field* field : {&top.u_local_mm, &top.slope_x, &top.slope_y})
    *field = top.height_mm.isNaN().select(missing, *field);
  top.noise.bin_sd_mm = std::hypot(top.noise.bin_sd_mm, table.noise.bin_sd_mm);
  // Both sums are over bins that hold points, of which the two sides may have unlike shares.
  top.noise.covariance_sum_mm2 += table.noise.covariance_sum_mm2 * top.noise.filled_share / table.noise.filled_share;
  top.noise.far_sum_mm2 += table.noise.far_sum_mm2 * top.noise.filled_share / table.noise.filled_share;
  top.noise.far_reach_mm = std::max(top.noise.far_reach_mm, table.noise.far_reach_mm);
  top.point_noise_mm = std::hypot(top.point_noise_mm, table.point_noise_mm);
  top.outlier_share = std::max(top.outlier_share, table.outlier_share);
}

/// The slow error of the scanner: what the plate beside the reed shows of it, at least the prior; what is assumed of
/// scans of this kind where no plate shows it.
void add_smooth(const Aligned& aligned, const Priors& priors, ThicknessMap& map) {
  map.noise.smooth_mm = mm_from_um(priors.smooth_um);
  map.noise.smooth_length_mm = priors.smooth_length_mm;
  // The plate shows it beside the reed, not on it, in a few of its waves, and they may run in stripes.
  constexpr double elsewhere = 1.25;
  // By what is left of either in the mean over a zone, some three millimetres wide.
  constexpr double zone_mm = 3.0;
  const auto in_zone = [](double sd_mm, double length_mm) { return sd_mm * length_mm / (length_mm + zone_mm); };
  if (aligned.slow.seen && in_zone(elsewhere * aligned.slow.sd_mm, aligned.slow.length_mm) >
                               in_zone(map.noise.smooth_mm, map.noise.smooth_length_mm)) {
    map.noise.smooth_mm = elsewhere * aligned.slow.sd_mm;
    map.noise.smooth_length_mm = aligned.slow.length_mm;
  } else if (!aligned.slow.seen) {
    map.noise.smooth_mm = std::max(map.noise.smooth_mm, aligned.assumed_slow_mm);
  }
  if (map.noise.smooth_mm > 0.0) {
    map.u_local_mm = (map.u_local_mm.square() + static_cast<float>(square(map.noise.smooth_mm))).sqrt();
  }
}

}  // namespace

double variance_of_mean(const LocalNoise& noise, double cells, double length_mm, double width_mm) {
  const double bins = cells * noise.bins_per_cell * noise.filled_share;
  // Of what reaches farther than the region is long, the region holds a part.
  const double far_share = noise.far_reach_mm > 0.0 ? length_mm / (length_mm + 0.5 * noise.far_reach_mm) : 0.0;
  const auto alike = [&](double size_mm) { return noise.smooth_length_mm / (noise.smooth_length_mm + size_mm); };
  return (noise.covariance_sum_mm2 + far_share * noise.far_sum_mm2) / bins +
         square(noise.smooth_mm) * alike(length_mm) * alike(width_mm);
}

void validate(const ThicknessOptions& options) {
  if (!(options.cell_mm == 0.0 || (options.cell_mm >= 0.05 && options.cell_mm <= 2.0))) {
    throw UsageError({"thickness.cell", {{"given", number(options.cell_mm, decimals_of(options.cell_mm))}}});
  }
  if (!(options.edge_margin_mm >= 0.0 && options.edge_margin_mm <= 1.0)) {
    throw UsageError(
        {"thickness.edge_margin", {{"given", number(options.edge_margin_mm, decimals_of(options.edge_margin_mm))}}});
  }
}

ThicknessMap measure_thickness(const Aligned& aligned, const Priors& priors, const ThicknessOptions& options) {
  validate(options);
  ThicknessMap map;
  Grid& grid = map.grid;
  grid.cell_mm = options.cell_mm > 0.0 ? options.cell_mm : choose_cell_mm(aligned.spacing_mm);
  const double widest =
      std::max(aligned.outline.half_width_mm(0.0), aligned.outline.half_width_mm(aligned.outline.length_mm));
  grid.rows = static_cast<Eigen::Index>(std::ceil(aligned.outline.length_mm / grid.cell_mm));
  grid.columns = 2 * static_cast<Eigen::Index>(std::ceil(widest / grid.cell_mm));

  const InnerOutline inner{aligned.outline, options.edge_margin_mm};
  Surface surface = measure_surface(points_by_band(aligned.points_mm, aligned.u_mm, inner, grid), grid);
  if (aligned.datum == DatumMode::two_sided) {
    const Surface table = measure_surface(points_by_band(aligned.underside_mm, {}, inner, grid), grid);
    map.table_mm = table.height_mm;
    map.u_table_mm = table.u_local_mm;
    map.table_covariance_sum_mm2 = table.noise.covariance_sum_mm2 / table.noise.filled_share;
    take_table_away(surface, table);
  }
  map.thickness_mm = std::move(surface.height_mm);
  map.u_local_mm = std::move(surface.u_local_mm);
  map.slope_x = std::move(surface.slope_x);
  map.slope_y = std::move(surface.slope_y);
  map.noise = surface.noise;
  map.point_noise_mm = surface.point_noise_mm;
  map.outlier_share = surface.outlier_share;
  add_smooth(aligned, priors, map);
  map.common = common_effects(map, aligned, priors);
  Field variance = map.u_local_mm.square();
  for (const auto& effect : map.common) variance += effect.shift_mm.square();
  map.u_mm = variance.sqrt();
  return map;
}

}  // namespace canewise
