#include "scanproc/compare/difference.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "scanproc/compare/thickness_at.h"
#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

double white_variance(const LocalNoise& noise) {
  return noise.covariance_sum_mm2 / (noise.bins_per_cell * noise.filled_share);
}

Field removed_between(const ThicknessMap& before, const ThicknessMap& after, double shift_mm) {
  const Grid& grid = before.grid;
  Field removed_mm = Field::Constant(grid.rows, grid.columns, std::numeric_limits<float>::quiet_NaN());
  for (Eigen::Index c = 0; c < grid.columns; ++c) {
    for (Eigen::Index r = 0; r < grid.rows; ++r) {
      if (!before.measured(r, c)) continue;
      const double now = thickness_at(after, grid.x_mm(r) - shift_mm, grid.y_mm(c));
      removed_mm(r, c) = static_cast<float>(static_cast<double>(before.thickness_mm(r, c)) - now);
    }
  }
  return removed_mm;
}

}  // namespace

Clip clip_between(const Result& before, const Result& after) {
  Clip clip;
  clip.shorter_mm = before.outline.length_mm - after.outline.length_mm;
  const double u = std::hypot(before.outline.u_length_mm, after.outline.u_length_mm);
  constexpr double least_mm = 0.05;
  if (clip.shorter_mm > std::max(least_mm, 3.0 * u)) {
    clip.clipped_mm = clip.shorter_mm;
    clip.u_clipped_mm = u;
  }
  return clip;
}

Difference difference_between(const Result& before, const Result& after, const Clip& clip, const Field& planned_mm) {
  const LocalNoise &noise_before = before.map.noise, &noise_after = after.map.noise;
  Difference difference;
  difference.grid = before.map.grid;
  difference.removed_mm = removed_between(before.map, after.map, clip.shorter_mm);
  difference.layings = laying_shapes(before, after, planned_mm);
  difference.variance_mm2 = white_variance(noise_before) + white_variance(noise_after);
  difference.slow_variance_mm2 = square(noise_before.smooth_mm) + square(noise_after.smooth_mm);
  difference.slow_length_mm = std::max(noise_before.smooth_length_mm, noise_after.smooth_length_mm);
  return difference;
}

Field left_over_right(const Field& field) { return field - field.rowwise().reverse(); }

Difference left_over_right(Difference difference) {
  difference.left_right_only = true;
  difference.removed_mm = left_over_right(difference.removed_mm);
  for (Field& shape : difference.layings.fields) shape = left_over_right(shape);
  difference.variance_mm2 *= 2.0;
  difference.slow_variance_mm2 *= 2.0;
  return difference;
}

}  // namespace canewise
