#pragma once

#include <Eigen/Core>
#include <array>

namespace canewise {

/// A point of a triangle in area coordinates, with its share of the area.
struct TrianglePoint {
  Eigen::Vector3d area;
  double share;
};
/// Exact for polynomials up to degree 6. Source: [Dunavant1985], n = 12.
[[nodiscard]] const std::array<TrianglePoint, 12>& triangle_points();

/// Quadratic shape functions at the corners and at the middles of the sides (middle k opposite corner k).
[[nodiscard]] Eigen::Matrix<double, 6, 1> quadratic_shapes(const Eigen::Vector3d& area);

/// Triangular thin plate bending element. Degrees of freedom: w, dw/dx, dw/dy at each of three corners.
///
/// Curvature: the discrete Kirchhoff triangle, whose slopes are quadratic and agree with w along the sides. Source:
/// [Batoz1980]; here its slopes are written down side by side instead of as the paper's closed shape functions.
/// Deflection (for masses and loads, of which the element has none of its own): the nine-parameter cubic of
/// [Bazeley1965].
class PlateElement {
 public:
  /// Corners counter-clockwise, 2 x 3, mm.
  explicit PlateElement(const Eigen::Matrix<double, 2, 3>& corners_mm);
  [[nodiscard]] double area_mm2() const { return area_mm2_; }
  /// (w_xx, w_yy, 2 w_xy) from the nine degrees of freedom.
  [[nodiscard]] Eigen::Matrix<double, 3, 9> curvature(const Eigen::Vector3d& area) const;
  /// The same at the three corners, one below the other: curvature is linear between them.
  [[nodiscard]] Eigen::Matrix<double, 9, 9> corner_curvatures() const;
  /// w from the nine degrees of freedom.
  [[nodiscard]] Eigen::Matrix<double, 1, 9> deflection(const Eigen::Vector3d& area) const;

 private:
  Eigen::Matrix<double, 2, 3> corners_mm_;
  double area_mm2_;
  Eigen::Matrix<double, 2, 3> gradients_;  ///< Of the area coordinates.
  Eigen::Matrix<double, 12, 9> slopes_;    ///< (dw/dx, dw/dy) at corners, then at middles, from the degrees of freedom.
};

}  // namespace canewise
