#include "scanproc/scan/mesh.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <bit>
#include <cmath>
#include <unordered_map>

namespace canewise {
namespace {

using Triangle = std::array<std::uint32_t, 3>;

/// Equal vertices made one, in the order of their first use; triangles number the columns listed in `kept`.
struct Welded {
  std::vector<std::uint32_t> kept;
  std::vector<Triangle> triangles;
  std::size_t dropped = 0;  ///< Non-finite vertices.
};

Welded weld(const Mesh& mesh) {
  Welded welded;
  struct Hash {
    std::size_t operator()(const std::array<double, 3>& p) const {
      std::uint64_t h = 0x9E3779B97F4A7C15ULL;
      for (const double v : p) h = (h ^ std::bit_cast<std::uint64_t>(v)) * 0xBF58476D1CE4E5B9ULL, h ^= h >> 32U;
      return h;
    }
  };
  std::unordered_map<std::array<double, 3>, std::uint32_t, Hash> number;
  number.reserve(static_cast<std::size_t>(mesh.vertices.cols()));
  constexpr std::uint32_t unusable = 0xFFFFFFFFU;
  std::vector<std::uint32_t> number_of(static_cast<std::size_t>(mesh.vertices.cols()), unusable);
  for (Eigen::Index i = 0; i < mesh.vertices.cols(); ++i) {
    if (!mesh.vertices.col(i).allFinite()) {
      ++welded.dropped;
      continue;
    }
    // + 0.0 makes one of the two noughts.
    const std::array<double, 3> p{mesh.vertices(0, i) + 0.0, mesh.vertices(1, i) + 0.0, mesh.vertices(2, i) + 0.0};
    const auto [entry, fresh] = number.emplace(p, static_cast<std::uint32_t>(welded.kept.size()));
    if (fresh) welded.kept.push_back(static_cast<std::uint32_t>(i));
    number_of[static_cast<std::size_t>(i)] = entry->second;
  }
  for (const Triangle& t : mesh.triangles) {
    const Triangle out{number_of[t[0]], number_of[t[1]], number_of[t[2]]};
    if (std::find(out.begin(), out.end(), unusable) != out.end()) continue;
    if (out[0] != out[1] && out[1] != out[2] && out[0] != out[2]) welded.triangles.push_back(out);
  }
  return welded;
}

/// Each edge is run through once in each direction.
bool is_closed(const std::vector<Triangle>& triangles) {
  std::vector<std::uint64_t> there, back;
  there.reserve(3 * triangles.size());
  back.reserve(3 * triangles.size());
  for (const Triangle& t : triangles) {
    for (std::size_t k = 0; k < 3; ++k) {
      const std::uint64_t a = t.at(k), b = t.at((k + 1) % 3);
      there.push_back(a << 32U | b);
      back.push_back(b << 32U | a);
    }
  }
  std::sort(there.begin(), there.end());
  std::sort(back.begin(), back.end());
  return !there.empty() && there == back && std::adjacent_find(there.begin(), there.end()) == there.end();
}

}  // namespace

Cloud cloud_from(const Mesh& mesh, double mm_per_unit, double wanted_points) {
  const Welded welded = weld(mesh);
  const auto vertices = static_cast<Eigen::Index>(welded.kept.size());
  Eigen::Matrix3Xd corners(3, vertices);
  for (Eigen::Index i = 0; i < vertices; ++i)
    corners.col(i) = mm_per_unit * mesh.vertices.col(welded.kept[static_cast<std::size_t>(i)]);

  double area = 0.0, volume = 0.0;
  Eigen::Vector3d facing = Eigen::Vector3d::Zero();  // An open surface faces the scanner.
  Eigen::Matrix3Xd vertex_normals = Eigen::Matrix3Xd::Zero(3, vertices);
  const Eigen::Vector3d middle = vertices > 0 ? Eigen::Vector3d(corners.rowwise().mean()) : Eigen::Vector3d::Zero();
  for (const Triangle& t : welded.triangles) {
    const Eigen::Vector3d a = corners.col(t[0]), b = corners.col(t[1]), c = corners.col(t[2]);
    const Eigen::Vector3d twice_area = (b - a).cross(c - a);
    area += 0.5 * twice_area.norm();
    facing += twice_area;
    volume += (a - middle).dot(twice_area) / 6.0;
    for (const auto k : t) vertex_normals.col(k) += twice_area;
  }
  const bool closed = is_closed(welded.triangles);
  const float outward = volume < 0.0 ? -1.0F : 1.0F;
  facing.normalize();

  const double per_area = area > 0.0 ? wanted_points / area : 0.0;
  Cloud cloud;
  std::vector<std::pair<std::size_t, std::size_t>> inside;  // Triangle, and how many points it gets.
  std::size_t total = static_cast<std::size_t>(vertices);
  for (std::size_t i = 0; i < welded.triangles.size(); ++i) {
    const Triangle& t = welded.triangles[i];
    const Eigen::Vector3d a = corners.col(t[0]), b = corners.col(t[1]), c = corners.col(t[2]);
    const Eigen::Vector3d twice_area = (b - a).cross(c - a);
    // A scanner saw nothing on what is steeper: such facets only bridge an edge between two surfaces.
    constexpr double cosine_of_steepest = 0.26;
    if (!closed && std::abs(facing.dot(twice_area)) < cosine_of_steepest * twice_area.norm()) continue;
    // Half a vertex stands for each triangle of a mesh.
    const double share = per_area * 0.5 * twice_area.norm() - 0.5;
    if (!(share >= 0.5)) continue;
    inside.emplace_back(i, static_cast<std::size_t>(std::lround(share)));
    total += inside.back().second;
  }
  cloud.points_mm.resize(3, static_cast<Eigen::Index>(total));
  cloud.points_mm.leftCols(vertices) = corners;
  if (closed) {
    cloud.normals.resize(3, static_cast<Eigen::Index>(total));
    cloud.normals.leftCols(vertices) = outward * vertex_normals.colwise().normalized().cast<float>();
  }
  Eigen::Index at = vertices;
  for (const auto& [index, count] : inside) {
    const Triangle& t = welded.triangles[index];
    const Eigen::Vector3d a = corners.col(t[0]), ab = corners.col(t[1]) - a, ac = corners.col(t[2]) - a;
    const Eigen::Vector3f normal = outward * ab.cross(ac).normalized().cast<float>();
    for (std::size_t k = 1; k <= count; ++k) {
      // A sequence that spreads evenly over the unit square: multiples of the powers of the plastic number's inverse.
      constexpr double first = 0.7548776662466927, second = 0.5698402909980532;
      double u = first * static_cast<double>(k), v = second * static_cast<double>(k);
      u -= std::floor(u);
      v -= std::floor(v);
      if (u + v > 1.0) u = 1.0 - u, v = 1.0 - v;
      cloud.points_mm.col(at) = a + u * ab + v * ac;
      if (closed) cloud.normals.col(at) = normal;
      ++at;
    }
  }
  cloud.format = mesh.format;
  cloud.dropped_non_finite = welded.dropped;
  if (static_cast<double>(total) > 1.5 * static_cast<double>(vertices)) {
    cloud.notes.push_back({"mesh.facets"});
  }
  return cloud;
}

}  // namespace canewise
