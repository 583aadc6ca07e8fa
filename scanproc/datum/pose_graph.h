#pragma once

#include <Eigen/Geometry>
#include <cstddef>
#include <vector>

#include "scanproc/datum/ties.h"

namespace canewise {

/// What is known of two passes' places to each other.
struct PoseLink {
  std::size_t first, second;  ///< first < second.
  Eigen::Isometry3d first_from_second;
  PlaceCovariance covariance;
};

/// Places of all passes on the first one that satisfy the links best: Open3D's pose graph, by Levenberg-Marquardt with
/// each link's full covariance. `places` are the start, and agree with at least some of the links.
[[nodiscard]] std::vector<Eigen::Isometry3d> even_out(const std::vector<Eigen::Isometry3d>& places,
                                                      const std::vector<PoseLink>& links);

}  // namespace canewise
