#pragma once

#include <Eigen/Core>
#include <Eigen/Geometry>
#include <vector>

#include "scanproc/datum/aligned.h"
#include "scanproc/datum/rim.h"
#include "scanproc/datum/rim_edge.h"
#include "scanproc/datum/step_edge.h"

namespace canewise {

/// A side's edge at one station.
struct SideEdge {
  double x_mm;
  double line_mm;  ///< y of the line that the edge was looked for at.
  StepEdge edge;   ///< Outwards from that line.
};

/// Where a side is looked for: along `line`, -1 left or 1 right, between two stations.
struct SideSearch {
  SideLine line;
  int side;
  double x_low, x_high;
};

struct SideFit {
  SideLine line;
  double pivot_x_mm = 0.0;  ///< Middle of the fitted stretch.
  double u_slope = 0.0;
  bool shadowed = false;
};

[[nodiscard]] std::vector<SideEdge> side_edges(const std::vector<Eigen::Vector3d>& points,
                                               const Eigen::Isometry3d& frame_from_points, const SideSearch& search,
                                               const EdgeFinder& find_edge);

/// Throws NotMeasurable where too little of the side is seen.
[[nodiscard]] SideFit fit_side(const std::vector<SideEdge>& edges, int side, Beside beside);

}  // namespace canewise
