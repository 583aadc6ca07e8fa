#pragma once

#include <Eigen/Core>
#include <string>

namespace canewise {

/// A strip of known thickness on the plate, in the plate's axes: its middle, the direction along it and its size.
struct GaugeStrip {
  Eigen::Vector2d middle, along;
  double length_mm = 0.0, width_mm = 0.0;

  [[nodiscard]] Eigen::Vector2d across() const { return {-along.y(), along.x()}; }
};

/// Finds the strip among points in the plate's axes, z up from the plate. Throws InputError that names the file `name`:
/// nothing of that height, or no flat top.
[[nodiscard]] GaugeStrip find_strip(const Eigen::Matrix3Xd& points_mm, double nominal_mm, const std::string& name);

}  // namespace canewise
