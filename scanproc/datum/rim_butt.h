#pragma once

#include <Eigen/Core>
#include <Eigen/Geometry>
#include <vector>

#include "scanproc/datum/rim_edge.h"

namespace canewise {

/// Where the butt's edge crosses the centreline.
struct ButtEdge {
  double x_mm = 0.0, u_mm = 0.0;
};

struct ButtSearch {
  double x_mm, half_width_mm;
};

/// Throws NotMeasurable where too little of the edge is seen where it is looked for.
[[nodiscard]] ButtEdge fit_butt(const std::vector<Eigen::Vector3d>& points, const Eigen::Isometry3d& frame_from_points,
                                const ButtSearch& search, const EdgeFinder& find_edge);

}  // namespace canewise
