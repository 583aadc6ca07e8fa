#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <limits>
#include <string>
#include <vector>

#include "scanproc/core/moisture.h"
#include "scanproc/rig/camera.h"

namespace canewise {

// What calibration found out about a rig, as the rig file keeps it. Positions are in the scanner's own axes: the
// camera's for a laser line or a depth camera, the file's for all others.

using CameraCovariance = Eigen::Matrix<double, Camera::kParameters, Camera::kParameters>;
/// Change of three numbers with each of the camera's parameters.
using ByCamera = Eigen::Matrix<double, 3, Camera::kParameters>;

struct CalibratedCamera {
  Camera camera;
  CameraCovariance covariance = CameraCovariance::Zero();
  double rms_px = 0.0;              ///< Of all corners about their model.
  double cross_validated_px = 0.0;  ///< The same of photographs that the fit had not seen.
};

/// The sheet of light: q . X = 1, with q = normal / distance (1/mm). It never passes through the camera's centre.
struct LaserPlane {
  Eigen::Vector3d q = Eigen::Vector3d::Zero();
  Eigen::Matrix3d covariance = Eigen::Matrix3d::Zero();  ///< Of q, with the camera as it is.
  ByCamera by_camera = ByCamera::Zero();
  Eigen::Vector3d middle_mm = Eigen::Vector3d::Zero();  ///< Of the lines that it was found from: where the rig works.
  bool crosses_columns = true;   ///< The line runs from left to right in the picture, one centre a column.
  double line_sigma_px = 2.0;    ///< Width of the line as the standard deviation of its profile.
  double centre_noise_px = 0.0;  ///< Scatter of its centres on plain paper: speckle and all else.
  double residual_um = 0.0;      ///< Root mean square distance of the lines on the boards from the plane.
};

struct Stage {
  Eigen::Vector3d motion = Eigen::Vector3d::Zero();      ///< Of what it carries, per nominal millimetre; length near 1.
  Eigen::Matrix3d covariance = Eigen::Matrix3d::Zero();  ///< With the camera as it is.
  ByCamera by_camera = ByCamera::Zero();
  double travel_per_frame_mm = 0.0;  ///< Nominal.
  double straightness_um = 0.0;      ///< Root mean square distance of the tracked board from its straight way.
  double out_of_square_deg = 0.0;    ///< Between the motion and the normal of the laser's plane.
};

/// Heights of the empty plate over its own best plane, on a square raster.
struct PlateForm {
  Eigen::Vector3d origin_mm = Eigen::Vector3d::Zero(), along = Eigen::Vector3d::UnitX(),
                  normal = Eigen::Vector3d::UnitZ();  ///< The raster's corner, first axis and the way up, unit length.
  double step_mm = 2.0;
  Eigen::ArrayXXd heights_um;  ///< rows (second axis) x columns (along); NaN = not seen.
  double u_um = 0.0;           ///< Standard uncertainty of a height, from repeated empty scans.
  /// Height of the plate over its plane at a point in the scanner's axes, bilinear; 0 where it was not seen.
  [[nodiscard]] double height_mm(const Eigen::Vector3d& point_mm) const;
};

/// Depth that each part of a depth camera's picture shows too much, at several depths.
struct DepthCorrection {
  std::size_t width = 0, height = 0;  ///< Of the pictures that it is for.
  std::size_t columns = 0, rows = 0;  ///< Of its tiles.
  std::vector<double> depths_mm;      ///< Ascending.
  std::vector<double> errors_um;      ///< depths x rows x columns, columns fastest.
  double u_um = 0.0;                  ///< Standard uncertainty of an error.
  double noise_um = 0.0;              ///< Scatter of a pixel from frame to frame at the middle depth...
  double noise_per_depth_um = 0.0;    ///< ...and its growth per millimetre of depth.
  double frame_correlation = 0.0;     ///< From one frame to the next.
  std::size_t advised_frames = 0;     ///< Beyond these more frames add little.
  /// Error at a pixel and depth: bilinear between the tiles' middles, linear between depths, constant beyond.
  [[nodiscard]] double error_mm(double column, double row, double depth_mm) const;
};

/// Heights over the plate are multiplied by this.
struct HeightScale {
  double factor = 1.0;
  double u_rel = 0.0;
  Eigen::Vector3d up = Eigen::Vector3d::UnitZ();  ///< Away from the plate, scanner's axes, unit length.
};

/// What a cross-check against touch says that light does not see of cane: bias = offset + per_mm * (thickness -
/// middle_mm) + per_slope * slope, to be added to the optical thickness.
struct LightDepth {
  double offset_um = 0.0, per_mm_um = 0.0, per_slope_um = 0.0;
  double middle_mm = 1.0;
  Eigen::Matrix3d covariance_um2 = Eigen::Matrix3d::Zero();  ///< Of the three, in their order.
  double scatter_um = 0.0;                                   ///< Of single places about it.
  MoistureState state = MoistureState::unknown;              ///< Of the reed that was used.
};

/// One measurement of the piece that does not change.
struct CheckRecord {
  std::string at;                         ///< ISO 8601, UTC.
  double heart_um = 0.0, rails_um = 0.0;  ///< Thickness of the heart; right minus left of the rails, middle.
};

/// What this rig showed on the reed of the last budget: the smallest left-right difference, and where 'outside' is
/// sure.
struct SmallestDifference {
  double tip_um = std::numeric_limits<double>::quiet_NaN(), rails_um = tip_um;
  double tip_outside_um = tip_um, rails_outside_um = tip_um;
};

}  // namespace canewise
