#include "scanproc/clouds/mesh.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <bit>
#include <cmath>
#include <unordered_map>
#include <utility>

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

/// The welded vertices in millimetres.
Eigen::Matrix3Xd corners_of(const Mesh& mesh, const Welded& welded, double mm_per_unit) {
  Eigen::Matrix3Xd corners(3, static_cast<Eigen::Index>(welded.kept.size()));
  for (Eigen::Index i = 0; i < corners.cols(); ++i)
    corners.col(i) = mm_per_unit * mesh.vertices.col(welded.kept[static_cast<std::size_t>(i)]);
  return corners;
}

/// A triangle's normal, twice as long as its area.
Eigen::Vector3d twice_area(const Eigen::Matrix3Xd& corners, const Triangle& t) {
  const Eigen::Vector3d a = corners.col(t[0]), b = corners.col(t[1]), c = corners.col(t[2]);
  return (b - a).cross(c - a);
}

/// What all triangles together say of the surface.
struct Surface {
  double area_mm2 = 0.0;
  bool closed = false;
  float outward = 1.0F;                              ///< Of a closed one: the sign that turns normals out.
  Eigen::Vector3d facing = Eigen::Vector3d::Zero();  ///< An open surface faces the scanner.
  Eigen::Matrix3Xd vertex_normals;                   ///< Weighted by area.
};

Surface surface_of(const Eigen::Matrix3Xd& corners, const std::vector<Triangle>& triangles) {
  Surface surface;
  double volume = 0.0;
  surface.vertex_normals = Eigen::Matrix3Xd::Zero(3, corners.cols());
  const Eigen::Vector3d middle =
      corners.cols() > 0 ? Eigen::Vector3d(corners.rowwise().mean()) : Eigen::Vector3d::Zero();
  for (const Triangle& t : triangles) {
    const Eigen::Vector3d a = corners.col(t[0]), normal = twice_area(corners, t);
    surface.area_mm2 += 0.5 * normal.norm();
    surface.facing += normal;
    volume += (a - middle).dot(normal) / 6.0;
    for (const auto k : t) surface.vertex_normals.col(k) += normal;
  }
  surface.closed = is_closed(triangles);
  surface.outward = volume < 0.0 ? -1.0F : 1.0F;
  surface.facing.normalize();
  return surface;
}

/// A triangle that gets points of its own, and how many.
struct Share {
  std::size_t triangle, points;
};

std::vector<Share> shares_of(const Eigen::Matrix3Xd& corners, const std::vector<Triangle>& triangles,
                             const Surface& surface, double wanted_points) {
  const double per_area = surface.area_mm2 > 0.0 ? wanted_points / surface.area_mm2 : 0.0;
  std::vector<Share> shares;
  for (std::size_t i = 0; i < triangles.size(); ++i) {
    const Eigen::Vector3d normal = twice_area(corners, triangles[i]);
    // A scanner saw nothing on what is steeper: such facets only bridge an edge between two surfaces.
    constexpr double cosine_of_steepest = 0.26;
    if (!surface.closed && std::abs(surface.facing.dot(normal)) < cosine_of_steepest * normal.norm()) continue;
    // Half a vertex stands for each triangle of a mesh.
    const double share = per_area * 0.5 * normal.norm() - 0.5;
    if (share >= 0.5) shares.push_back({i, static_cast<std::size_t>(std::lround(share))});
  }
  return shares;
}

/// The k-th of a sequence that spreads evenly over a triangle's two edges: multiples of the powers of the plastic
/// number's inverse, in the unit square, whose upper half is folded down.
std::pair<double, double> evenly_spread(std::size_t k) {
  constexpr double first = 0.7548776662466927, second = 0.5698402909980532;
  double u = first * static_cast<double>(k), v = second * static_cast<double>(k);
  u -= std::floor(u);
  v -= std::floor(v);
  if (u + v > 1.0) u = 1.0 - u, v = 1.0 - v;
  return {u, v};
}

/// The vertices, then each triangle's own points; with normals if the surface is closed.
Cloud points_on(const Eigen::Matrix3Xd& corners, const std::vector<Triangle>& triangles, const Surface& surface,
                const std::vector<Share>& shares) {
  const Eigen::Index vertices = corners.cols();
  auto total = static_cast<std::size_t>(vertices);
  for (const Share& share : shares) total += share.points;
  Cloud cloud;
  cloud.points_mm.resize(3, static_cast<Eigen::Index>(total));
  cloud.points_mm.leftCols(vertices) = corners;
  if (surface.closed) {
    cloud.normals.resize(3, static_cast<Eigen::Index>(total));
    cloud.normals.leftCols(vertices) = surface.outward * surface.vertex_normals.colwise().normalized().cast<float>();
  }
  Eigen::Index at = vertices;
  for (const Share& share : shares) {
    const Triangle& t = triangles[share.triangle];
    const Eigen::Vector3d a = corners.col(t[0]), ab = corners.col(t[1]) - a, ac = corners.col(t[2]) - a;
    const Eigen::Vector3f normal = surface.outward * ab.cross(ac).normalized().cast<float>();
    for (std::size_t k = 1; k <= share.points; ++k) {
      const auto [u, v] = evenly_spread(k);
      cloud.points_mm.col(at) = a + u * ab + v * ac;
      if (surface.closed) cloud.normals.col(at) = normal;
      ++at;
    }
  }
  return cloud;
}

}  // namespace

Cloud cloud_from(const Mesh& mesh, double mm_per_unit, double wanted_points) {
  const Welded welded = weld(mesh);
  const Eigen::Matrix3Xd corners = corners_of(mesh, welded, mm_per_unit);
  const Surface surface = surface_of(corners, welded.triangles);
  const auto shares = shares_of(corners, welded.triangles, surface, wanted_points);
  Cloud cloud = points_on(corners, welded.triangles, surface, shares);
  cloud.format = mesh.format;
  cloud.dropped_non_finite = welded.dropped;
  if (static_cast<double>(cloud.points_mm.cols()) > 1.5 * static_cast<double>(corners.cols())) {
    cloud.notes.push_back({"mesh.facets"});
  }
  return cloud;
}

}  // namespace canewise
