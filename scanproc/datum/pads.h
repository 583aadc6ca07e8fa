#pragma once

#include <Eigen/Core>
#include <Eigen/Geometry>
#include <vector>

#include "scanproc/rig/rig.h"

namespace canewise {

/// The plane of a jig's pads, and the table's plane below it.
struct PadsPlane {
  Eigen::Isometry3d table_from_scan =
      Eigen::Isometry3d::Identity();                     ///< z up from the table; the pads lie at their height.
  double noise_mm = 0.0;                                 ///< Robust standard deviation of pad points.
  Eigen::Matrix3d covariance = Eigen::Matrix3d::Zero();  ///< Height, slope x, slope y in the table's frame.
  double height_mm = 0.0;
  /// A pad's box along its own axes, in the table's frame.
  struct Pad {
    Eigen::Vector2d middle, along;  ///< `along` is a unit vector.
    double half_length_mm = 0.0, half_width_mm = 0.0;
    [[nodiscard]] Eigen::Vector2d in_own_axes(const Eigen::Vector3d& p) const {
      const Eigen::Vector2d d = p.head<2>() - middle;
      return {along.dot(d), along.x() * d.y() - along.y() * d.x()};
    }
  };
  std::vector<Pad> pads;
  /// A point of a pad, in the table's frame.
  [[nodiscard]] bool holds(const Eigen::Vector3d& p) const;
};

/// Finds the pads: of the planes in view the one that shows as at least three patches apart that do not lie in a row.
/// Which side is up shows by the reed between them, which is higher in the middle than at its sides. Throws
/// NotMeasurable where there is no such plane.
[[nodiscard]] PadsPlane find_pads(const Eigen::Matrix3Xd& points_mm, const Pads& pads);

}  // namespace canewise
