#pragma once

#include <Eigen/Core>
#include <Eigen/Geometry>
#include <string>
#include <vector>

#include "scanproc/datum/spheres.h"

namespace canewise {

/// A place that two scans both saw, in the first one's frame.
struct TiePoint {
  Eigen::Vector3d at_mm;
  Eigen::Matrix3d covariance;  ///< Of the difference between the two scans.
};

/// A way to bring the second scan onto the first.
struct TiedMotion {
  Eigen::Isometry3d first_from_second = Eigen::Isometry3d::Identity();
  std::vector<TiePoint> ties;
  double residual_mm = 0.0;
  std::string method;  ///< For people: '4 spheres'.
};

/// Every way to lay three spheres of one scan on three of the other, not in a row, refined with all that then agree.
/// Several entries may be the same motion.
[[nodiscard]] std::vector<TiedMotion> match_spheres(const std::vector<Sphere>& in_first,
                                                    const std::vector<Sphere>& in_second);

/// Covariance of the second scan's shift (mm) and turn (rad) in the frame that `frame_from_first` leads to.
[[nodiscard]] Eigen::Matrix<double, 6, 6> tie_covariance(const std::vector<TiePoint>& ties,
                                                         const Eigen::Isometry3d& frame_from_first);

}  // namespace canewise
