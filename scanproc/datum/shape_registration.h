#pragma once

#include <Eigen/Core>
#include <Eigen/Geometry>
#include <vector>

#include "scanproc/datum/levelled_pass.h"

namespace canewise {

struct ShapeFit {
  Eigen::Isometry3d first_from_second = Eigen::Isometry3d::Identity();
  Eigen::Matrix<double, 6, 6> covariance;  ///< Shift (mm) and turn (rad), in the first plate's frame.
  Agreement agreement;
};

/// Every place of the second pass on the first where the shapes agree, best first; empty if there is none. Guesses come
/// from matching local features (Open3D's FPFH with sample consensus [Rusu2009]) and from laying the long axes on each
/// other at every slide and both ways round; each is refined point to plane (Open3D's ICP with Tukey's loss). The
/// covariance is that of its normal matrix and residuals, neighbouring cells' noise taken to be shared by two of them.
[[nodiscard]] std::vector<ShapeFit> fits_by_shape(const LevelledPass& first, const LevelledPass& second);

}  // namespace canewise
