#pragma once

#include <Eigen/Core>

#include "scanproc/clouds/cloud.h"
#include "scanproc/rig/rig_calibration.h"

namespace canewise {

/// Side of a tile of the plate.
inline constexpr double kTile_mm = 2.0;

// Maps of the plate: heights of its tiles, rows x columns as the plate's form has them; NaN = not seen.

/// Mean height of one scan in each tile of `frame`, mm. Points farther than `limit_mm` from the plane are no plate.
[[nodiscard]] Eigen::ArrayXXd tile_means_mm(const Cloud& cloud, const PlateForm& frame, double limit_mm);

/// Without the map's own plane: where the plate lay is no form.
[[nodiscard]] Eigen::ArrayXXd levelled(const Eigen::ArrayXXd& heights);

/// Bow along, bow across and twist, each 30 mm from the middle, by least squares.
[[nodiscard]] Eigen::Vector3d shapes_of(const Eigen::ArrayXXd& heights);

/// Without bow and twist, which are stated by themselves.
[[nodiscard]] Eigen::ArrayXXd without_shapes(const Eigen::ArrayXXd& heights);

/// Mean of each tile and its neighbours; missing tiles stay missing.
[[nodiscard]] Eigen::ArrayXXd smoothed(const Eigen::ArrayXXd& heights);

}  // namespace canewise
