#pragma once

#include <Eigen/Core>
#include <array>
#include <optional>
#include <vector>

#include "scanproc/datum/clusters.h"

namespace canewise {

/// Three faces of a rectangular block that meet in a corner.
struct BlockCorner {
  std::array<Eigen::Vector3d, 3> normals;  ///< Outward, unit, made exactly square to each other.
  Eigen::Vector3d corner_mm = Eigen::Vector3d::Zero();
  Eigen::Matrix3d covariance = Eigen::Matrix3d::Zero();  ///< Of the corner.
  double u_turn_rad = 0.0;                               ///< Standard uncertainty of a normal's direction.
  double residual_mm = 0.0;
};

/// The block among the parts of a scan: a part of its size that shows three faces square to each other within 2
/// degrees. Empty if there is none.
[[nodiscard]] std::optional<BlockCorner> find_block(const Eigen::Matrix3Xd& points_mm,
                                                    const std::vector<Cluster>& parts,
                                                    const std::array<double, 3>& edges_mm);

}  // namespace canewise
