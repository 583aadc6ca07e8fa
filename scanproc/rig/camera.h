#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <optional>

namespace canewise {

/// Intrinsics of a camera in pixels, pixel centres at whole numbers; model of [Brown1971] as image libraries store it.
/// Camera axes: x to the right of the picture, y down, z away from the camera.
struct Camera {
  static constexpr int kParameters = 9;  ///< fx, fy, cx, cy, k1, k2, p1, p2, k3: the order of every covariance.
  std::size_t width = 0, height = 0;
  double fx = 0, fy = 0, cx = 0, cy = 0;
  double k1 = 0, k2 = 0, p1 = 0, p2 = 0, k3 = 0;

  [[nodiscard]] Eigen::Matrix<double, kParameters, 1> parameters() const;
  void set_parameters(const Eigen::Matrix<double, kParameters, 1>& parameters);
};

/// Image place (pixels) of a direction (x/z, y/z).
[[nodiscard]] Eigen::Vector2d project(const Camera& camera, const Eigen::Vector2d& direction);

/// Direction (x/z, y/z) that the pixel (u, v) looks in: the model inverted by Newton's method. Empty where the model
/// folds over itself, as large distortions do far from the centre.
[[nodiscard]] std::optional<Eigen::Vector2d> direction_of(const Camera& camera, double u, double v);

}  // namespace canewise
