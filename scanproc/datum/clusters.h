#pragma once

#include <Eigen/Core>
#include <vector>

namespace canewise {

/// A thing that stands apart: its points' columns and its box along its own axes.
struct Cluster {
  std::vector<Eigen::Index> points;
  Eigen::Vector3d middle = Eigen::Vector3d::Zero();
  Eigen::Matrix3d axes = Eigen::Matrix3d::Identity();   ///< Columns: longest axis first.
  Eigen::Vector3d extent_mm = Eigen::Vector3d::Zero();  ///< Along those axes, all but the outermost points.
};

/// Parts of a scan that stand apart, by half-gap cells that touch: what is nearer than half of `gap_mm` always belongs
/// together, what is farther than 1.75 of it never does. Parts of fewer than `fewest` points are left out. Largest
/// first.
[[nodiscard]] std::vector<Cluster> find_clusters(const Eigen::Matrix3Xd& points_mm, double gap_mm, std::size_t fewest);

/// True for a box as long and as wide as some reed.
[[nodiscard]] bool is_reed_sized(const Cluster& cluster);

}  // namespace canewise
