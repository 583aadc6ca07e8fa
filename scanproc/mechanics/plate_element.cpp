#include "scanproc/mechanics/plate_element.h"

namespace canewise {

const std::array<TrianglePoint, 12>& triangle_points() {
  static const std::array<TrianglePoint, 12> points = [] {
    std::array<TrianglePoint, 12> p;
    std::size_t n = 0;
    const auto three = [&](double share, double a) {
      const double b = 0.5 * (1.0 - a);
      p.at(n++) = {{a, b, b}, share};
      p.at(n++) = {{b, a, b}, share};
      p.at(n++) = {{b, b, a}, share};
    };
    three(0.116786275726379, 0.501426509658179);
    three(0.050844906370207, 0.873821971016996);
    const double share = 0.082851075618374, a = 0.053145049844817, b = 0.310352451033784, c = 1.0 - a - b;
    for (const Eigen::Vector3d& q : {Eigen::Vector3d(a, b, c), Eigen::Vector3d(a, c, b), Eigen::Vector3d(b, a, c),
                                     Eigen::Vector3d(b, c, a), Eigen::Vector3d(c, a, b), Eigen::Vector3d(c, b, a)})
      p.at(n++) = {q, share};
    return p;
  }();
  return points;
}

Eigen::Matrix<double, 6, 1> quadratic_shapes(const Eigen::Vector3d& area) {
  Eigen::Matrix<double, 6, 1> shapes;
  for (int k = 0; k < 3; ++k) {
    shapes(k) = area(k) * (2.0 * area(k) - 1.0);
    shapes(3 + k) = 4.0 * area((k + 1) % 3) * area((k + 2) % 3);
  }
  return shapes;
}

PlateElement::PlateElement(const Eigen::Matrix<double, 2, 3>& corners_mm) : corners_mm_(corners_mm) {
  const auto edge = [&](Eigen::Index from, Eigen::Index to) -> Eigen::Vector2d {
    return corners_mm.col(to) - corners_mm.col(from);
  };
  area_mm2_ = 0.5 * (edge(0, 1).x() * edge(0, 2).y() - edge(0, 1).y() * edge(0, 2).x());
  slopes_.setZero();
  for (Eigen::Index k = 0; k < 3; ++k) {
    const Eigen::Index i = (k + 1) % 3, j = (k + 2) % 3;
    const Eigen::Vector2d side = edge(i, j);
    gradients_.col(k) = Eigen::Vector2d(-side.y(), side.x()) / (2.0 * area_mm2_);
    slopes_.block<2, 2>(2 * k, 3 * k + 1).setIdentity();
    // At the middle of a side the slope along it is that of the cubic through the ends, the slope across it the mean.
    const double length = side.norm();
    const Eigen::Vector2d along = side / length, across(-along.y(), along.x());
    const Eigen::Matrix2d along_part = along * along.transpose(), across_part = across * across.transpose();
    auto middle = slopes_.block<2, 9>(6 + 2 * k, 0);
    middle.col(3 * i) = -1.5 / length * along;
    middle.col(3 * j) = 1.5 / length * along;
    middle.block<2, 2>(0, 3 * i + 1) = middle.block<2, 2>(0, 3 * j + 1) = -0.25 * along_part + 0.5 * across_part;
  }
}

Eigen::Matrix<double, 3, 9> PlateElement::curvature(const Eigen::Vector3d& area) const {
  Eigen::Matrix<double, 2, 6> shape_gradients;
  for (Eigen::Index k = 0; k < 3; ++k) {
    const Eigen::Index i = (k + 1) % 3, j = (k + 2) % 3;
    shape_gradients.col(k) = (4.0 * area(k) - 1.0) * gradients_.col(k);
    shape_gradients.col(3 + k) = 4.0 * (area(i) * gradients_.col(j) + area(j) * gradients_.col(i));
  }
  Eigen::Matrix<double, 3, 9> curvature = Eigen::Matrix<double, 3, 9>::Zero();
  for (Eigen::Index n = 0; n < 6; ++n) {
    const double dx = shape_gradients(0, n), dy = shape_gradients(1, n);
    curvature.row(0) += dx * slopes_.row(2 * n);
    curvature.row(1) += dy * slopes_.row(2 * n + 1);
    curvature.row(2) += dy * slopes_.row(2 * n) + dx * slopes_.row(2 * n + 1);
  }
  return curvature;
}

Eigen::Matrix<double, 9, 9> PlateElement::corner_curvatures() const {
  Eigen::Matrix<double, 9, 9> all;
  for (Eigen::Index k = 0; k < 3; ++k) all.block<3, 9>(3 * k, 0) = curvature(Eigen::Vector3d::Unit(k));
  return all;
}

Eigen::Matrix<double, 1, 9> PlateElement::deflection(const Eigen::Vector3d& area) const {
  Eigen::Matrix<double, 1, 9> shapes;
  const double bubble = 0.5 * area(0) * area(1) * area(2);
  for (Eigen::Index i = 0; i < 3; ++i) {
    const Eigen::Index j = (i + 1) % 3, k = (i + 2) % 3;
    const double a = area(i), b = area(j), c = area(k);
    shapes(3 * i) = a + a * a * (b + c) - a * (b * b + c * c);
    const Eigen::Vector2d slope = (a * a * b + bubble) * (corners_mm_.col(j) - corners_mm_.col(i)) +
                                  (a * a * c + bubble) * (corners_mm_.col(k) - corners_mm_.col(i));
    shapes(3 * i + 1) = slope.x();
    shapes(3 * i + 2) = slope.y();
  }
  return shapes;
}

}  // namespace canewise
