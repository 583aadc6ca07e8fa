#pragma once

#include <Eigen/Core>
#include <Eigen/Geometry>
#include <vector>

#include "calib/board.h"
#include "scanproc/rig/camera.h"

namespace canewise {

using Vector6d = Eigen::Matrix<double, 6, 1>;

/// Where a board lies before a camera.
struct BoardPose {
  Eigen::Isometry3d camera_from_board = Eigen::Isometry3d::Identity();
  Eigen::Matrix<double, 6, 6> covariance = Eigen::Matrix<double, 6, 6>::Zero();  ///< Turn (rad), shift (mm), about it.
  double rms_px = 0.0;
};

/// A small turn and shift after `pose`.
[[nodiscard]] Eigen::Isometry3d moved(const Eigen::Isometry3d& pose, const Vector6d& turn_and_shift);

/// Residuals (measured minus projected, u and v in turn, 2 N) of a view.
[[nodiscard]] Eigen::VectorXd residuals_of(const Camera& camera, const BoardView& view, const Eigen::Isometry3d& pose);

/// Derivatives of a view's projections, 2 N rows: by the camera's parameters (9 columns) and by a small turn and shift
/// of the pose (6). Central differences.
[[nodiscard]] Eigen::MatrixXd by_camera(const Camera& camera, const BoardView& view, const Eigen::Isometry3d& pose);
[[nodiscard]] Eigen::MatrixXd by_pose(const Camera& camera, const BoardView& view, const Eigen::Isometry3d& pose);

/// Least-squares pose with the camera as it is: from the homography [Zhang2000], then Gauss-Newton. `sd_px` is the
/// corners' standard deviation for the covariance; 0 takes the residuals'. Throws std::invalid_argument for fewer than
/// four corners.
[[nodiscard]] BoardPose pose_of(const Camera& camera, const BoardView& view, double sd_px = 0.0);

}  // namespace canewise
