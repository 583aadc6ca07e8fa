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
std::size_t drop_duplicates(Eigen::Matrix3Xd& points);

/// Keeps the columns for which keep(point) holds, in their order, without a second copy.
template <typename Keep>
void keep_points(Eigen::Matrix3Xd& points, const Keep& keep) {
  std::array<std::size_t, kParallelParts> begins{}, kept{};
  parallel_parts(static_cast<std::size_t>(points.cols()), [&](std::size_t part, std::size_t begin, std::size_t end) {
    std::size_t to = begin;
    for (std::size_t i = begin; i < end; ++i) {
      const Eigen::Vector3d p = points.col(static_cast<Eigen::Index>(i));
      if (!keep(p)) continue;
      points.col(static_cast<Eigen::Index>(to++)) = p;
    }
    begins.at(part) = begin;
    kept.at(part) = to - begin;
  });
  std::size_t total = kept[0];
  for (std::size_t part = 1; part < kParallelParts; ++part) {
    std::memmove(points.data() + 3 * total, points.data() + 3 * begins.at(part), 3 * kept.at(part) * sizeof(double));
    total += kept.at(part);
  }
  points.conservativeResize(Eigen::NoChange, static_cast<Eigen::Index>(total));
}

}  // namespace canewise
