#pragma once

#include <Eigen/Core>
#include <Eigen/Geometry>
#include <cstddef>
#include <string>
#include <vector>

#include "scanproc/datum/spheres.h"
#include "scanproc/words/message.h"

namespace canewise {

/// Of a motion's small error: shift x, y, z (mm), then turn about x, y, z (rad) about the frame's origin.
using PlaceCovariance = Eigen::Matrix<double, 6, 6>;

/// The same uncertainty as seen in another frame.
[[nodiscard]] PlaceCovariance in_frame(const PlaceCovariance& covariance, const Eigen::Isometry3d& new_from_old);

/// A way to bring the second scan onto the first.
struct TiedMotion {
  Eigen::Isometry3d first_from_second = Eigen::Isometry3d::Identity();
  PlaceCovariance covariance = PlaceCovariance::Zero();  ///< In the first scan's axes.
  std::size_t ties = 0;                                  ///< Things that both scans show.
  double residual_mm = 0.0;
  Message method;  ///< For people: '4 spheres'.
};

/// Every way to lay three spheres of one scan on three of the other, not in a row, refined with all that then agree.
/// Several entries may be the same motion.
[[nodiscard]] std::vector<TiedMotion> match_spheres(const std::vector<Sphere>& in_first,
                                                    const std::vector<Sphere>& in_second);

}  // namespace canewise
