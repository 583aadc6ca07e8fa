#pragma once

#include <Eigen/Core>
#include <Eigen/Geometry>
#include <optional>
#include <vector>

#include "scanproc/datum/aligned.h"
#include "scanproc/datum/rim.h"

namespace canewise {

constexpr double kPlateReach_mm = 12.0;  ///< Plate farther away says little about where the reed lies.

/// Plate near the reed, but not so near that it may be mixed with it; point and rim in one frame.
[[nodiscard]] bool is_beside_reed(const Eigen::Vector3d& point_mm, const RimFit& rim);

/// Which points of a scan are the plate's beside the reed.
struct PlateView {
  const Eigen::Matrix3Xd& points_mm;
  const Eigen::Isometry3d& frame;        ///< Brings the points into the rim's frame, with the plate near z = 0.
  const RimFit& rim;                     ///< Where the reed is, so far as it is known.
  double noise_mm;                       ///< Of plate points.
  static constexpr double kLimit = 4.5;  ///< Farther from z = 0, in standard deviations of the noise, is no plate.
};

/// What the plate's points say of their plane and of the scanner.
struct PlateScatter {
  /// Of height (mm), slope along x and slope along y.
  Eigen::Matrix3d plane_covariance = Eigen::Matrix3d::Zero();
  std::vector<PlateBlock> blocks;
  SlowError slow;
};

/// How far the plate in view is from its plane, where that would hide a tip of a tenth of a millimetre: its own bow and
/// twist or the scanner's, a quadratic in x and y less that quadratic's own plane.
struct PlateBow {
  Eigen::Matrix<double, 6, 1> coefficients = Eigen::Matrix<double, 6, 1>::Zero();
  double middle_mm = 0.0;
  [[nodiscard]] double at_mm(double x_mm, double y_mm) const;
};

/// Empty where the plate is flat enough. `rim` is where the reed is, so far as it is known.
[[nodiscard]] std::optional<PlateBow> find_plate_bow(const Eigen::Matrix3Xd& points_mm, const RimFit& rim,
                                                     double noise_mm);

/// The view's frame is level by the plate already. The plane's covariance comes from the scatter of block means: it
/// holds whatever correlation the noise has inside a block, and the plate's own form beyond it (a sandwich estimate
/// [White1980]); blocks that slow error moves together count together. What block means of a millimetre share with
/// others of a millimetre and more away, beside a quadratic form, is slow error: its size is the covariance at the
/// nearest lags carried back to none, its length twice the area under the correlation up to where nothing is left of
/// it. `assumed_slow_mm` is what scans of this kind have: few patches of plate may happen to be quiet, so that it
/// counts like four of them.
[[nodiscard]] PlateScatter plate_scatter(const PlateView& view, double assumed_slow_mm = 0.0);

}  // namespace canewise
