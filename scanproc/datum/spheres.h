#pragma once

#include <Eigen/Core>
#include <optional>
#include <vector>

#include "scanproc/datum/clusters.h"

namespace canewise {

struct Sphere {
  Eigen::Vector3d centre_mm = Eigen::Vector3d::Zero();
  double radius_mm = 0.0;
  Eigen::Matrix3d covariance = Eigen::Matrix3d::Zero();  ///< Of the centre, with the noise's correlation within 1 mm.
  double residual_mm = 0.0;                              ///< Root mean square distance of its points.
  std::size_t points = 0;
};

/// Spheres of 2 to 40 mm diameter among the given parts of a scan; `diameter_mm`, if known, keeps others out. A sphere
/// counts if its cap spans at least 35 degrees to each side. Sample consensus finds them; then geometric least squares
/// with free radius [Shakarji1998]. Largest cap first.
[[nodiscard]] std::vector<Sphere> find_spheres(const Eigen::Matrix3Xd& points_mm, const std::vector<Cluster>& parts,
                                               std::optional<double> diameter_mm);

}  // namespace canewise
