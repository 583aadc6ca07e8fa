#pragma once

#include <functional>

#include "scanproc/mechanics/plate.h"
#include "scanproc/mechanics/plate_element.h"

namespace canewise::test {

/// Pressure, megapascals, by place; exact for the element's deflection if it is constant.
inline Eigen::VectorXd pressure(const Plate& plate, const std::function<double(const Eigen::Vector2d&)>& mpa) {
  const PlateMesh& mesh = plate.model().mesh;
  const auto triangles = static_cast<Eigen::Index>(mesh.triangles.size());
  PointLoads loads{Eigen::Matrix2Xd(2, 12 * triangles), Eigen::VectorXd(12 * triangles)};
  Eigen::Index n = 0;
  for (const auto& triangle : mesh.triangles) {
    Eigen::Matrix<double, 2, 3> corners;
    corners << mesh.nodes_mm.col(triangle[0]), mesh.nodes_mm.col(triangle[1]), mesh.nodes_mm.col(triangle[2]);
    for (const auto& point : triangle_points()) {
      loads.points_mm.col(n) = corners * point.area;
      loads.weights(n) = point.share * PlateElement(corners).area_mm2() * mpa(loads.points_mm.col(n));
      ++n;
    }
  }
  return plate.load_of(loads);
}
inline Eigen::VectorXd pressure(const Plate& plate, double mpa) {
  return pressure(plate, [mpa](const auto&) { return mpa; });
}

/// Spread evenly over the edge at x = 0, one newton in all.
inline Eigen::VectorXd edge_force(const Plate& plate, double width_mm) {
  constexpr int count = 600;
  PointLoads loads{Eigen::Matrix2Xd::Zero(2, count), Eigen::VectorXd::Constant(count, 1.0 / count)};
  for (int i = 0; i < count; ++i) loads.points_mm(1, i) = width_mm * ((i + 0.5) / count - 0.5);
  return plate.load_of(loads);
}

}  // namespace canewise::test
