#include "scanproc/scan/depth_camera.h"

#include <Eigen/LU>
#include <cmath>

#include "scanproc/scan/settings.h"

namespace canewise {

DepthCamera read_depth_camera(const std::filesystem::path& path) {
  Settings settings = Settings::read(path);
  DepthCamera camera;
  constexpr double largest_side = 20000, far = 1e6;
  const auto needed = [&](const char* key, double low, double high) {
    const auto value = settings.number(key, low, high);
    if (!value) settings.fail(key, "is missing. The camera file must give width, height, fx, fy, cx and cy in pixels.");
    return *value;
  };
  const auto side = [&](const char* key) {
    const double value = needed(key, 2, largest_side);
    if (value != std::floor(value)) settings.fail(key, "must be a whole number of pixels.");
    return static_cast<std::size_t>(value);
  };
  camera.width = side("width");
  camera.height = side("height");
  camera.fx = needed("fx", 1, far);
  camera.fy = needed("fy", 1, far);
  camera.cx = needed("cx", -far, far);
  camera.cy = needed("cy", -far, far);
  if (const auto d = settings.numbers("distortion", 5, -100.0, 100.0); !d.empty()) {
    camera.k1 = d[0], camera.k2 = d[1], camera.p1 = d[2], camera.p2 = d[3], camera.k3 = d[4];
  }
  settings.number_into(camera.depth_unit_mm, "depth_unit_mm", 1e-6, 1e3);
  camera.frames = settings.texts("frames");
  for (const auto& frame : camera.frames) {
    if (frame.empty() || frame.find('/') != std::string::npos || frame.find('\\') != std::string::npos)
      settings.fail("frames", "must name images in the camera file's own folder.");
  }
  settings.refuse_unknown();
  return camera;
}

namespace {

struct Distorted {
  Eigen::Vector2d place;
  Eigen::Matrix2d slope;  ///< Derivative of `place` by the undistorted place.
  /// Not folded over: outward still is outward.
  [[nodiscard]] bool is_upright() const { return slope(0, 0) > 0.0 && slope.determinant() > 0.0; }
};

Distorted distort(const DepthCamera& c, const Eigen::Vector2d& at) {
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

Eigen::Vector2d project(const DepthCamera& c, const Eigen::Vector2d& direction) {
  const Eigen::Vector2d place = distort(c, direction).place;
  return {c.fx * place.x() + c.cx, c.fy * place.y() + c.cy};
}

std::optional<Eigen::Vector2d> direction_of(const DepthCamera& c, double u, double v) {
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
