#pragma once

#include <Eigen/Core>
#include <array>
#include <cstdint>
#include <string>
#include <vector>

#include "scanproc/clouds/cloud.h"
#include "scanproc/clouds/room.h"

namespace canewise {

/// A surface of triangles as a file holds it.
struct Mesh {
  Eigen::Matrix3Xd vertices;  ///< 3 x V, in the file's unit; may hold copies (STL) and non-finite ones.
  std::vector<std::array<std::uint32_t, 3>> triangles;
  std::string format;
};

/// Cuts a face, whose corners come one by one, into a fan of triangles; those that `room` does not hold are left out.
class TriangleFan {
 public:
  TriangleFan(std::vector<std::array<std::uint32_t, 3>>& triangles, Room& room) : triangles_(triangles), room_(room) {}
  void add(std::uint32_t corner) {
    // Twice: a list that grows is copied.
    if (++corners_ >= 3 && room_.take(2 * sizeof(triangles_.front()))) triangles_.push_back({first_, last_, corner});
    if (corners_ == 1) first_ = corner;
    last_ = corner;
  }
  [[nodiscard]] std::uint64_t corners() const { return corners_; }

 private:
  std::vector<std::array<std::uint32_t, 3>>& triangles_;
  Room& room_;
  std::uint64_t corners_ = 0;
  std::uint32_t first_ = 0, last_ = 0;
};

/// Points on the surface: its own vertices, which are what was measured, and between them as many as it takes to leave
/// no place barer than the rest, so that large facets do not read as holes. Every point lies on the surface exactly. A
/// closed surface (each edge shared by two triangles) also gets normals, pointing out. Deterministic. Non-finite
/// vertices are left out and counted, with the triangles that use them.
/// `wanted_points`: so many that a reed has one every 0.06 mm; more where the scanner itself saw more.
[[nodiscard]] Cloud cloud_from(const Mesh& mesh, double mm_per_unit, double wanted_points = 800000);

}  // namespace canewise
