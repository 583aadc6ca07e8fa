#pragma once

#include <Eigen/Core>
#include <optional>

#include "scanproc/images/line_centres.h"
#include "scanproc/rig/rig_calibration.h"

namespace canewise {

/// Place where the ray through a centre meets the sheet of light, camera axes, and how far an error across the line
/// moves it.
struct OnSheet {
  Eigen::Vector3d point_mm = Eigen::Vector3d::Zero();
  double mm_per_px = 0.0;
};

/// X = d / (q . d) for the undistorted direction d = (x, y, 1). Empty where ray and sheet run within 2 degrees of each
/// other, where the camera's model folds, or where the point lies behind the camera.
[[nodiscard]] std::optional<OnSheet> on_sheet(const Camera& camera, const LaserPlane& plane, const LineCentre& centre);

}  // namespace canewise
