#pragma once

#include <Eigen/Core>
#include <Eigen/Geometry>
#include <array>
#include <cstddef>
#include <cstring>

#include "scanproc/core/parallel.h"

namespace canewise {

/// Moves all points by `pose`.
void transform_in_place(Eigen::Matrix3Xd& points, const Eigen::Isometry3d& pose);

/// Takes out the second and later copies of equal points; returns their number.
/// `u`, one entry a point or empty, goes with them.
std::size_t drop_duplicates(Eigen::Matrix3Xd& points, Eigen::VectorXf& u);
std::size_t drop_duplicates(Eigen::Matrix3Xd& points);

/// Keeps the columns for which keep(point) holds, in their order, without a second copy. `u`, one entry a point or
/// empty, goes with them.
template <typename Keep>
void keep_points(Eigen::Matrix3Xd& points, Eigen::VectorXf& u, const Keep& keep) {
  const bool with_u = u.size() == points.cols() && u.size() > 0;
  std::array<std::size_t, kParallelParts> begins{}, kept{};
  parallel_parts(static_cast<std::size_t>(points.cols()), [&](std::size_t part, std::size_t begin, std::size_t end) {
    std::size_t to = begin;
    for (std::size_t i = begin; i < end; ++i) {
      const Eigen::Vector3d p = points.col(static_cast<Eigen::Index>(i));
      if (!keep(p)) continue;
      if (with_u) u(static_cast<Eigen::Index>(to)) = u(static_cast<Eigen::Index>(i));
      points.col(static_cast<Eigen::Index>(to++)) = p;
    }
    begins.at(part) = begin;
    kept.at(part) = to - begin;
  });
  std::size_t total = kept[0];
  for (std::size_t part = 1; part < kParallelParts; ++part) {
    std::memmove(points.data() + 3 * total, points.data() + 3 * begins.at(part), 3 * kept.at(part) * sizeof(double));
    if (with_u) std::memmove(u.data() + total, u.data() + begins.at(part), kept.at(part) * sizeof(float));
    total += kept.at(part);
  }
  points.conservativeResize(Eigen::NoChange, static_cast<Eigen::Index>(total));
  if (with_u) u.conservativeResize(static_cast<Eigen::Index>(total));
}
template <typename Keep>
void keep_points(Eigen::Matrix3Xd& points, const Keep& keep) {
  Eigen::VectorXf none;
  keep_points(points, none, keep);
}

}  // namespace canewise
