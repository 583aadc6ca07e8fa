#include "scanproc/rig/camera.h"

#include <Eigen/LU>
#include <cmath>

namespace canewise {

Eigen::Matrix<double, Camera::kParameters, 1> Camera::parameters() const {
  Eigen::Matrix<double, kParameters, 1> p;
  p << fx, fy, cx, cy, k1, k2, p1, p2, k3;
  return p;
}

void Camera::set_parameters(const Eigen::Matrix<double, kParameters, 1>& p) {
  fx = p(0), fy = p(1), cx = p(2), cy = p(3), k1 = p(4), k2 = p(5), p1 = p(6), p2 = p(7), k3 = p(8);
}

namespace {

struct Distorted {
  Eigen::Vector2d place;
  Eigen::Matrix2d slope;  ///< Derivative of `place` by the undistorted place.
  /// Not folded over: outward still is outward.
  [[nodiscard]] bool is_upright() const { return slope(0, 0) > 0.0 && slope.determinant() > 0.0; }
};

Distorted distort(const Camera& c, const Eigen::Vector2d& at) {
  const double x = at.x(), y = at.y(), r2 = x * x + y * y;
  const double radial = 1.0 + r2 * (c.k1 + r2 * (c.k2 + r2 * c.k3));
  const double d_radial = c.k1 + r2 * (2.0 * c.k2 + r2 * 3.0 * c.k3);  // By r^2.
  Distorted d;
  d.place = {x * radial + 2.0 * c.p1 * x * y + c.p2 * (r2 + 2.0 * x * x),
             y * radial + c.p1 * (r2 + 2.0 * y * y) + 2.0 * c.p2 * x * y};
  d.slope(0, 0) = radial + 2.0 * x * x * d_radial + 2.0 * c.p1 * y + 6.0 * c.p2 * x;
  d.slope(0, 1) = 2.0 * x * y * d_radial + 2.0 * c.p1 * x + 2.0 * c.p2 * y;
  d.slope(1, 0) = 2.0 * x * y * d_radial + 2.0 * c.p1 * x + 2.0 * c.p2 * y;
  d.slope(1, 1) = radial + 2.0 * y * y * d_radial + 6.0 * c.p1 * y + 2.0 * c.p2 * x;
  return d;
}

}  // namespace

Eigen::Vector2d project(const Camera& c, const Eigen::Vector2d& direction) {
  const Eigen::Vector2d place = distort(c, direction).place;
  return {c.fx * place.x() + c.cx, c.fy * place.y() + c.cy};
}

std::optional<Eigen::Vector2d> direction_of(const Camera& c, double u, double v) {
  const Eigen::Vector2d wanted((u - c.cx) / c.fx, (v - c.cy) / c.fy);
  Eigen::Vector2d at = wanted;
  constexpr int most_steps = 20;
  constexpr double close = 1e-13;
  for (int step = 0; step < most_steps; ++step) {
    const Distorted d = distort(c, at);
    // Beyond the fold the model maps two directions to one pixel.
    if (!d.is_upright()) return std::nullopt;
    const Eigen::Vector2d change = d.slope.inverse() * (wanted - d.place);
    at += change;
    if (change.norm() <= close * (1.0 + at.norm()))
      return distort(c, at).is_upright() ? std::optional(at) : std::nullopt;
  }
  return std::nullopt;
}

}  // namespace canewise
