#pragma once

#include <array>

#include "scanproc/rig/rig_calibration.h"

namespace canewise {

// How sure a person is of the parts of a laser rig that no step of ours found: standard uncertainties in plain
// measures, turned into the covariances that the rig keeps. The defaults are this project's own, wide assumptions for
// numbers that come without any: half a per cent of a reed's height, so that nobody takes a guess for a calibration.

struct StatedCamera {
  double u_focal_rel = 2e-3;                                       ///< Of both focal lengths together.
  double u_centre_px = 3.0;                                        ///< Of cx and of cy, each by itself.
  std::array<double, 5> u_distortion{0.02, 0.2, 1e-3, 1e-3, 1.0};  ///< Of k1, k2, p1, p2, k3, each by itself.
};
struct StatedPlane {
  double u_normal_deg = 0.1;  ///< Of the normal, about either axis across it.
  double u_distance_mm =
      0.1;  ///< Of the plane's place where the rig works (middle_mm, else its point nearest the camera).
};
struct StatedStage {
  double u_step_rel = 2e-3;      ///< Of the way's length.
  double u_direction_deg = 0.2;  ///< Of its direction, about either axis across it.
};

[[nodiscard]] CameraCovariance covariance_of(const Camera& camera, const StatedCamera& stated);
/// Of plane.q. The plane turns about its place where the rig works.
[[nodiscard]] Eigen::Matrix3d covariance_of(const LaserPlane& plane, const StatedPlane& stated);
/// Of stage.motion.
[[nodiscard]] Eigen::Matrix3d covariance_of(const Stage& stage, const StatedStage& stated);

}  // namespace canewise
