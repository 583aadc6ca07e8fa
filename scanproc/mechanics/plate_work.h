#pragma once

#include <Eigen/Core>
#include <array>
#include <tuple>
#include <type_traits>

#include "scanproc/mechanics/plate.h"
#include "scanproc/mechanics/plate_element.h"
#include "scanproc/mechanics/plate_triangles.h"

namespace canewise {

/// A triangle's cane where bending work is integrated.
struct BendingTriangle {
  struct Point {
    Eigen::Matrix<double, 6, 1> shapes;
    double cube, cube_by_thickness, under_bark_mm, side;  ///< See LocalCane.
    double area_mm2;
  };
  std::array<Eigen::Index, 6> six;                ///< Its thickness points.
  Eigen::Matrix<double, 9, 9> corner_curvatures;  ///< See PlateElement.
  std::array<Point, std::tuple_size_v<std::remove_cvref_t<decltype(triangle_points())>>> points;
  /// Sum over the points of area and cube times the products of their area coordinates.
  Eigen::Matrix3d cubes = Eigen::Matrix3d::Zero();
};

[[nodiscard]] BendingTriangle bending_triangle(const PlateModel& model, std::size_t t);

/// What the derivatives of the work that one state does on another are made of.
struct WorkSums {
  Eigen::VectorXd by_thickness;
  Eigen::Matrix3d bending = Eigen::Matrix3d::Zero();  ///< Curvature times curvature, cubes of thickness as weights.
  Eigen::Vector2d rest = Eigen::Vector2d::Zero();     ///< By gradient, by left_right.

  /// `left`, `right`: the triangle's nine displacements in two states. `stiffness`: of the plane stress.
  void add(const BendingTriangle& triangle, const Eigen::Matrix<double, 9, 1>& left,
           const Eigen::Matrix<double, 9, 1>& right, const Eigen::Matrix3d& stiffness);
  void add(const WorkSums& other);
};

/// From the sums over all triangles.
[[nodiscard]] PlateDerivative derivative_from(WorkSums sums, const Cane& cane);

}  // namespace canewise
