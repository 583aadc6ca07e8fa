#include "scanproc/rig/stated_rig.h"

#include <numbers>

#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

constexpr double kRadiansPerDegree = std::numbers::pi / 180.0;

/// Leaves of a vector what lies across `unit`.
Eigen::Matrix3d across(const Eigen::Vector3d& unit) { return Eigen::Matrix3d::Identity() - unit * unit.transpose(); }

}  // namespace

CameraCovariance covariance_of(const Camera& camera, const StatedCamera& stated) {
  CameraCovariance covariance = CameraCovariance::Zero();
  const Eigen::Vector2d focal = stated.u_focal_rel * Eigen::Vector2d(camera.fx, camera.fy);
  covariance.topLeftCorner<2, 2>() = focal * focal.transpose();
  covariance(2, 2) = covariance(3, 3) = square(stated.u_centre_px);
  for (Eigen::Index k = 0; k < 5; ++k)
    covariance(4 + k, 4 + k) = square(stated.u_distortion.at(static_cast<std::size_t>(k)));
  return covariance;
}

Eigen::Matrix3d covariance_of(const LaserPlane& plane, const StatedPlane& stated) {
  const double distance = 1.0 / plane.q.norm();
  const Eigen::Vector3d normal = distance * plane.q;
  // q = n / d, d = n . m with the plane's place m: dq = t / d - n (t . m + e) / d^2 for a turn t and a shift e.
  const Eigen::Vector3d place = plane.middle_mm.norm() > 0.0 ? plane.middle_mm : Eigen::Vector3d(distance * normal);
  const Eigen::Matrix3d by_turn =
      (Eigen::Matrix3d::Identity() - normal * place.transpose() / distance) * across(normal) / distance;
  return square(stated.u_normal_deg * kRadiansPerDegree) * by_turn * by_turn.transpose() +
         square(stated.u_distance_mm / square(distance)) * normal * normal.transpose();
}

Eigen::Matrix3d covariance_of(const Stage& stage, const StatedStage& stated) {
  const double length = stage.motion.norm();
  const Eigen::Vector3d along = stage.motion / length;
  return square(length) * (square(stated.u_step_rel) * along * along.transpose() +
                           square(stated.u_direction_deg * kRadiansPerDegree) * across(along));
}

}  // namespace canewise
