#pragma once

#include "scanproc/thickness/bin_points.h"
#include "scanproc/thickness/thickness_map.h"

namespace canewise {

/// Heights of one side of the reed over the grid.
struct Surface {
  Field height_mm, u_local_mm, slope_x, slope_y;  ///< NaN = not measured.
  LocalNoise noise;
  double point_noise_mm = 0.0, outlier_share = 0.0;
};

/// Throws NotMeasurable where too few points lie on the reed.
[[nodiscard]] Surface measure_surface(const BinnedPoints& points, const Grid& grid);

}  // namespace canewise
