#pragma once

#include <Eigen/Core>
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "scanproc/datum/clusters.h"
#include "scanproc/words/message.h"

namespace canewise {

/// A flat face of a block as one scan saw it.
struct BlockFace {
  int axis = 0;                                         ///< Of SeenBlock::axes.
  Eigen::Vector3d normal = Eigen::Vector3d::UnitZ();    ///< Outward, unit.
  Eigen::Vector3d middle_mm = Eigen::Vector3d::Zero();  ///< On the face: the mean of its points.
  Eigen::Vector3d u = Eigen::Vector3d::UnitX(),
                  v = Eigen::Vector3d::UnitY();  ///< In the face; normal, u, v are right-handed.
  /// Of height over the true face at the middle (mm) and slopes along u and v (rad), with the noise's correlation.
  Eigen::Matrix3d covariance = Eigen::Matrix3d::Zero();
  double sigma_mm = 0.0;  ///< Standard deviation of its points.
};

/// A rectangular block in a scan.
struct SeenBlock {
  std::array<Eigen::Vector3d, 3> axes{};  ///< Outward normals of the three largest faces, nearly square to each other.
  std::vector<BlockFace> faces;           ///< Those three first; others that also show behind them.
  std::array<double, 3> extent_mm{};      ///< Along the axes, as far as the faces show it.
  /// Every way to give the axes the known edges that the extents allow: `edge_of[k]` is the edge along axis k. Rarely
  /// more than one, where edges are alike or ends are hidden.
  std::vector<std::array<std::size_t, 3>> edge_of;
};

struct BlockSearch {
  std::optional<SeenBlock> block;
  Message problem;  ///< For people, where there is no block: 'no part shows three faces square to each other'.
};

/// The block among the parts of a scan. Sample consensus finds planes, the best three that are square to each other
/// within 2 degrees and bound one convex corner are the block's if their extents fit the known edges; then each face is
/// fitted anew to its own points, away from its rim. Faces beyond three only add to it.
[[nodiscard]] BlockSearch find_block(const Eigen::Matrix3Xd& points_mm, const std::vector<Cluster>& parts,
                                     const std::array<double, 3>& edges_mm);

}  // namespace canewise
