#include "scanproc/rig/light_sheet.h"

#include <Eigen/Geometry>
#include <cmath>
#include <numbers>

#include "scanproc/core/statistics.h"

namespace canewise {

std::optional<OnSheet> on_sheet(const Camera& camera, const LaserPlane& plane, const LineCentre& centre) {
  const auto direction = direction_of(camera, centre.column, centre.row);
  if (!direction) return std::nullopt;
  const Eigen::Vector3d d(direction->x(), direction->y(), 1.0);
  const double facing = plane.q.dot(d);
  const double grazing = std::sin(2.0 * std::numbers::pi / 180.0);
  if (!(facing > grazing * plane.q.norm() * d.norm())) return std::nullopt;
  OnSheet found;
  found.point_mm = d / facing;
  // The neighbouring ray half a pixel across the line, without the distortion's change over so short a way.
  const Eigen::Vector3d change(centre.normal_column / camera.fx, centre.normal_row / camera.fy, 0.0);
  found.mm_per_px = (change / facing - d * plane.q.dot(change) / square(facing)).norm();
  return found;
}

}  // namespace canewise
