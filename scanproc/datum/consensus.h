#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <optional>
#include <vector>

#include "scanproc/datum/plane_search.h"

namespace canewise {

/// Where sample consensus looks for planes. Points are first averaged over cells, whose neighbourhoods give normals:
/// a point counts for a plane by its distance and by how far its normal leans from it.
struct PlaneConsensus {
  double cell_mm = 0.4;        ///< > 0.
  double tolerance_mm = 0.15;  ///< > 0; of distance and lean together.
  std::size_t fewest = 30;     ///< Cells on a plane; >= 3.
  std::size_t most = 10;       ///< Planes.
};

/// Planes in a cloud, the largest first: PCL's sample consensus with normals [Rusu2011], one plane after the other.
/// They say where to look: callers fit their own. Equal points give equal planes. Throws std::invalid_argument where an
/// option is out of its bounds.
[[nodiscard]] std::vector<Plane> consensus_planes(const std::vector<Eigen::Vector3d>& points_mm,
                                                  const PlaneConsensus& options = {});

struct Ball {
  Eigen::Vector3d centre_mm = Eigen::Vector3d::Zero();
  double radius_mm = 0.0;
  [[nodiscard]] double distance(const Eigen::Vector3d& p) const { return (p - centre_mm).norm() - radius_mm; }
};

struct BallConsensus {
  double cell_mm = 0.5;        ///< > 0.
  double tolerance_mm = 0.15;  ///< > 0; of distance and lean together.
  std::size_t fewest = 20;     ///< Cells on a ball; >= 4.
  double least_radius_mm = 1.0, largest_radius_mm = 20.0;
};

/// The ball with the most points, found alike; empty if there is none of such a radius.
[[nodiscard]] std::optional<Ball> consensus_ball(const std::vector<Eigen::Vector3d>& points_mm,
                                                 const BallConsensus& options = {});

}  // namespace canewise
