#include "scanproc/mechanics/plate_work.h"

#include <utility>

#include "scanproc/mechanics/cane.h"

namespace canewise {

BendingTriangle bending_triangle(const PlateModel& model, std::size_t t) {
  const PlateElement element = element_of(model.mesh, t);
  BendingTriangle triangle{points_of(model.mesh, t), element.corner_curvatures(), {}};
  for (std::size_t p = 0; p < triangle.points.size(); ++p) {
    const TrianglePoint& point = triangle_points().at(p);
    const auto shapes = quadratic_shapes(point.area);
    const LocalCane cane = cane_at(model, triangle.six, shapes);
    const double area_mm2 = point.share * element.area_mm2();
    triangle.points.at(p) = {shapes, cane.cube(), cane.cube_by_thickness(), cane.under_bark_mm, cane.side, area_mm2};
    triangle.cubes += area_mm2 * cane.cube() * point.area * point.area.transpose();
  }
  return triangle;
}

void WorkSums::add(const BendingTriangle& triangle, const Eigen::Matrix<double, 9, 1>& left,
                   const Eigen::Matrix<double, 9, 1>& right, const Eigen::Matrix3d& stiffness) {
  const Eigen::Matrix<double, 9, 1> left_at_corners = triangle.corner_curvatures * left,
                                    right_at_corners = triangle.corner_curvatures * right;
  const Eigen::Map<const Eigen::Matrix3d> of_left(left_at_corners.data()), of_right(right_at_corners.data());
  // Curvatures are linear in the area coordinates, and so the work of a point is a product of theirs.
  const Eigen::Matrix3d works = of_left.transpose() * stiffness * of_right;
  Eigen::Matrix<double, 6, 1> by_six = Eigen::Matrix<double, 6, 1>::Zero();
  for (std::size_t p = 0; p < triangle.points.size(); ++p) {
    const BendingTriangle::Point& point = triangle.points.at(p);
    const Eigen::Vector3d& area = triangle_points().at(p).area;
    const double work = point.area_mm2 * area.dot(works * area);
    by_six -= work * point.cube_by_thickness * point.shapes;
    rest += Eigen::Vector2d(point.under_bark_mm, -point.side) * work * point.cube;
  }
  bending += of_left * triangle.cubes * of_right.transpose();
  for (int k = 0; k < 6; ++k) by_thickness(triangle.six.at(static_cast<std::size_t>(k))) += by_six(k);
}

void WorkSums::add(const WorkSums& other) {
  by_thickness += other.by_thickness;
  bending += other.bending;
  rest += other.rest;
}

PlateDerivative derivative_from(WorkSums sums, const Cane& cane) {
  // Q depends on E_L and E_T through m as well, hence differences; Q is smooth enough for rounding alone to count.
  const auto by_modulus = [&](double Cane::*modulus) {
    constexpr double step = 1e-5;
    Cane more = cane, less = cane;
    more.*modulus *= 1.0 + step;
    less.*modulus *= 1.0 - step;
    const Eigen::Matrix3d change = (plane_stress_stiffness(more) - plane_stress_stiffness(less)) / (2.0 * step);
    return -sums.bending.cwiseProduct(change).sum();
  };
  PlateDerivative derivative{std::move(sums.by_thickness), {}};
  derivative.by_cane << by_modulus(&Cane::e_l_mpa), by_modulus(&Cane::e_t_mpa), by_modulus(&Cane::g_lt_mpa), 0.0,
      sums.rest(0), sums.rest(1);
  return derivative;
}

}  // namespace canewise
