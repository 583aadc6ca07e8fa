#include "scanproc/mechanics/plate_mesh.h"

#include <CGAL/Constrained_Delaunay_triangulation_2.h>
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Triangulation_vertex_base_with_info_2.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <stdexcept>

namespace canewise {
namespace {

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using VertexBase = CGAL::Triangulation_vertex_base_with_info_2<int, Kernel>;
using Structure = CGAL::Triangulation_data_structure_2<VertexBase, CGAL::Constrained_triangulation_face_base_2<Kernel>>;
using Triangulation =
    CGAL::Constrained_Delaunay_triangulation_2<Kernel, Structure, CGAL::No_constraint_intersection_tag>;
using Vertex = Triangulation::Vertex_handle;

double distance_to_segment(const Eigen::Vector2d& p, const Eigen::Vector2d& a, const Eigen::Vector2d& b) {
  const Eigen::Vector2d d = b - a;
  const double t = std::clamp((p - a).dot(d) / d.squaredNorm(), 0.0, 1.0);
  return (p - a - t * d).norm();
}

bool inside(const std::vector<Eigen::Vector2d>& polygon, const Eigen::Vector2d& p) {
  bool in = false;
  for (std::size_t i = 0, j = polygon.size() - 1; i < polygon.size(); j = i++) {
    const auto &a = polygon[i], &b = polygon[j];
    if ((a.y() > p.y()) != (b.y() > p.y()) && p.x() < (b.x() - a.x()) * (p.y() - a.y()) / (b.y() - a.y()) + a.x())
      in = !in;
  }
  return in;
}

/// Puts points on a straight line so that none are farther apart than `spacing`, and constrains the pieces.
void insert_line(Triangulation& cdt, const Eigen::Vector2d& a, const Eigen::Vector2d& b, double spacing) {
  const auto pieces = std::max(1, static_cast<int>(std::ceil((b - a).norm() / spacing - 1e-6)));
  Vertex last;
  for (int k = 0; k <= pieces; ++k) {
    const Eigen::Vector2d p = k == pieces ? b : Eigen::Vector2d(a + (b - a) * (static_cast<double>(k) / pieces));
    const Vertex vertex = cdt.insert({p.x(), p.y()});
    if (k > 0 && vertex != last) cdt.insert_constraint(last, vertex);
    last = vertex;
  }
}

/// Points of equal triangles, a mirror image of itself about y = 0, clear of every constrained line.
std::vector<Eigen::Vector2d> lattice(const PlateOutline& outline, double spacing) {
  Eigen::Vector2d low = outline.polygon_mm.front(), high = low;
  for (const auto& p : outline.polygon_mm) {
    low = low.cwiseMin(p);
    high = high.cwiseMax(p);
  }
  std::vector<Eigen::Vector2d> points;
  const double clear = 0.55 * spacing, row_step = 0.5 * std::numbers::sqrt3 * spacing;
  const auto& polygon = outline.polygon_mm;
  const auto first = static_cast<int>(std::floor(low.y() / spacing)) - 1;
  const auto last = static_cast<int>(std::ceil(high.y() / spacing)) + 1;
  int row = 0;
  for (double x = low.x() + 0.5 * row_step; x < high.x(); x += row_step, ++row) {
    for (int k = first; k <= last; ++k) {
      const Eigen::Vector2d p(x, spacing * (row % 2 == 0 ? k : k + 0.5));
      if (!inside(polygon, p)) continue;
      bool free = true;
      for (std::size_t i = 0, j = polygon.size() - 1; free && i < polygon.size(); j = i++)
        free = distance_to_segment(p, polygon[i], polygon[j]) >= clear;
      for (const auto& line : outline.lines_mm) free = free && distance_to_segment(p, line[0], line[1]) >= clear;
      if (free) points.push_back(p);
    }
  }
  return points;
}

}  // namespace

Eigen::Matrix2Xd PlateMesh::thickness_points_mm() const {
  const auto n = nodes(), m = static_cast<Eigen::Index>(sides.size());
  Eigen::Matrix2Xd points(2, n + m);
  points.leftCols(n) = nodes_mm;
  for (Eigen::Index k = 0; k < m; ++k) {
    const auto& side = sides[static_cast<std::size_t>(k)];
    points.col(n + k) = 0.5 * (nodes_mm.col(side[0]) + nodes_mm.col(side[1]));
  }
  return points;
}

PlateMesh mesh_plate(const PlateOutline& outline, double spacing_mm) {
  if (outline.polygon_mm.size() < 3 || !(spacing_mm > 0.0))
    throw std::invalid_argument("a plate's outline needs three corners and a mesh a spacing");
  Triangulation cdt;
  const auto& polygon = outline.polygon_mm;
  for (std::size_t i = 0, j = polygon.size() - 1; i < polygon.size(); j = i++)
    insert_line(cdt, polygon[j], polygon[i], spacing_mm);
  for (const auto& line : outline.lines_mm) insert_line(cdt, line[0], line[1], spacing_mm);
  for (const auto& p : lattice(outline, spacing_mm)) cdt.insert({p.x(), p.y()});

  for (auto v : cdt.finite_vertex_handles()) v->info() = -1;
  PlateMesh mesh;
  std::vector<Eigen::Vector2d> nodes;
  std::map<std::array<int, 2>, int> side_number;
  for (auto face : cdt.finite_face_handles()) {
    std::array<Eigen::Vector2d, 3> corner;
    for (int k = 0; k < 3; ++k)
      corner.at(static_cast<std::size_t>(k)) = {face->vertex(k)->point().x(), face->vertex(k)->point().y()};
    if (!inside(polygon, (corner[0] + corner[1] + corner[2]) / 3.0)) continue;
    // Points of a straight rim leave slivers of rounding between them, which are no part of the plate.
    const Eigen::Vector2d first = corner[1] - corner[0], second = corner[2] - corner[0];
    if (first.x() * second.y() - first.y() * second.x() < 1e-6 * spacing_mm * spacing_mm) continue;
    std::array<int, 3> triangle{}, middles{};
    for (int k = 0; k < 3; ++k) {
      auto& number = face->vertex(k)->info();
      if (number < 0) {
        number = static_cast<int>(nodes.size());
        nodes.push_back(corner.at(static_cast<std::size_t>(k)));
      }
      triangle.at(static_cast<std::size_t>(k)) = number;
    }
    for (std::size_t k = 0; k < 3; ++k) {
      std::array<int, 2> side{triangle.at((k + 1) % 3), triangle.at((k + 2) % 3)};
      std::sort(side.begin(), side.end());
      const auto [entry, fresh] = side_number.try_emplace(side, static_cast<int>(mesh.sides.size()));
      if (fresh) mesh.sides.push_back(side);
      middles.at(k) = entry->second;
    }
    mesh.triangles.push_back(triangle);
    mesh.mid_sides.push_back(middles);
  }
  if (mesh.triangles.empty()) throw std::invalid_argument("a plate's outline encloses nothing");
  mesh.nodes_mm.resize(2, static_cast<Eigen::Index>(nodes.size()));
  for (std::size_t k = 0; k < nodes.size(); ++k) mesh.nodes_mm.col(static_cast<Eigen::Index>(k)) = nodes[k];
  return mesh;
}

TriangleFinder::TriangleFinder(const PlateMesh& mesh) : mesh_(&mesh) {
  low_ = mesh.nodes_mm.rowwise().minCoeff();
  const Eigen::Vector2d size = mesh.nodes_mm.rowwise().maxCoeff() - low_;
  bin_mm_ = std::sqrt(size.x() * size.y() / static_cast<double>(mesh.triangles.size()));
  columns_ = static_cast<Eigen::Index>(size.x() / bin_mm_) + 1;
  rows_ = static_cast<Eigen::Index>(size.y() / bin_mm_) + 1;
  bins_.resize(static_cast<std::size_t>(columns_ * rows_));
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    Eigen::Vector2d low = mesh.nodes_mm.col(mesh.triangles[t][0]), high = low;
    for (const int corner : mesh.triangles[t]) {
      low = low.cwiseMin(mesh.nodes_mm.col(corner));
      high = high.cwiseMax(mesh.nodes_mm.col(corner));
    }
    const Eigen::Array2d from = (low - low_) / bin_mm_, to = (high - low_) / bin_mm_;
    for (auto i = static_cast<Eigen::Index>(from.x()); i <= std::min(columns_ - 1, static_cast<Eigen::Index>(to.x()));
         ++i) {
      for (auto j = static_cast<Eigen::Index>(from.y()); j <= std::min(rows_ - 1, static_cast<Eigen::Index>(to.y()));
           ++j)
        bins_[static_cast<std::size_t>(i * rows_ + j)].push_back(static_cast<int>(t));
    }
  }
}

TriangleFinder::Place TriangleFinder::find(const Eigen::Vector2d& point_mm) const {
  const Eigen::Array2d at = (point_mm - low_) / bin_mm_;
  constexpr double rounding = 1e-9;
  if (!(at.minCoeff() >= -rounding)) return {};
  const auto i = static_cast<Eigen::Index>(std::max(0.0, at.x())), j = static_cast<Eigen::Index>(std::max(0.0, at.y()));
  if (i >= columns_ || j >= rows_) return {};
  for (const int t : bins_[static_cast<std::size_t>(i * rows_ + j)]) {
    const auto& corners = mesh_->triangles[static_cast<std::size_t>(t)];
    const Eigen::Vector2d a = mesh_->nodes_mm.col(corners[0]), b = mesh_->nodes_mm.col(corners[1]),
                          c = mesh_->nodes_mm.col(corners[2]);
    const auto cross = [](const Eigen::Vector2d& u, const Eigen::Vector2d& v) { return u.x() * v.y() - u.y() * v.x(); };
    const double whole = cross(b - a, c - a);
    Eigen::Vector3d area(cross(b - point_mm, c - point_mm), cross(c - point_mm, a - point_mm),
                         cross(a - point_mm, b - point_mm));
    area /= whole;
    if (area.minCoeff() >= -rounding) return {t, area};
  }
  return {};
}

}  // namespace canewise
