#pragma once

#include <Eigen/Core>
#include <array>
#include <vector>

namespace canewise {

/// Triangles over a flat plate. Sides have a middle of their own, where the thickness is known besides the corners.
struct PlateMesh {
  Eigen::Matrix2Xd nodes_mm;                  ///< 2 x N corners.
  std::vector<std::array<int, 3>> triangles;  ///< Corners, counter-clockwise.
  std::vector<std::array<int, 3>> mid_sides;  ///< Middle k lies opposite corner k; counted from 0 to M - 1.
  std::vector<std::array<int, 2>> sides;      ///< M sides by their corners.
  [[nodiscard]] Eigen::Index nodes() const { return nodes_mm.cols(); }
  /// Corners first, then the middles of the sides: 2 x (N + M).
  [[nodiscard]] Eigen::Matrix2Xd thickness_points_mm() const;
};

struct PlateOutline {
  /// Corners of a simple polygon, counter-clockwise.
  std::vector<Eigen::Vector2d> polygon_mm;
  /// Straight cuts through the plate, from one corner of the polygon to another, along which triangles must have sides
  /// (a line of support). None may cross.
  std::vector<std::array<Eigen::Vector2d, 2>> lines_mm;
};

/// Constrained Delaunay triangulation (CGAL) of the polygon, its lines and a lattice of equal triangles of this side,
/// which is its own mirror image about y = 0. Throws std::invalid_argument for a polygon that is none, and CGAL's
/// exception where lines cross.
[[nodiscard]] PlateMesh mesh_plate(const PlateOutline& outline, double spacing_mm);

/// Finds the triangle at a place.
class TriangleFinder {
 public:
  explicit TriangleFinder(const PlateMesh& mesh);
  struct Place {
    int triangle = -1;                               ///< -1: outside.
    Eigen::Vector3d area = Eigen::Vector3d::Zero();  ///< Area coordinates.
  };
  [[nodiscard]] Place find(const Eigen::Vector2d& point_mm) const;

 private:
  const PlateMesh* mesh_;
  Eigen::Vector2d low_;
  double bin_mm_;
  Eigen::Index columns_ = 0, rows_ = 0;
  std::vector<std::vector<int>> bins_;
};

}  // namespace canewise
