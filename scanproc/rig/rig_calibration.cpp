#include "scanproc/rig/rig_calibration.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "scanproc/core/units.h"

namespace canewise {
namespace {

/// Place between two of `count` nodes: the lower node and the share of the upper.
struct Between {
  Eigen::Index low;
  double share;
};
Between between(double at, Eigen::Index count) {
  if (count < 2) return {0, 0.0};
  const double inside = std::clamp(at, 0.0, static_cast<double>(count - 1));
  const auto low = std::min(static_cast<Eigen::Index>(inside), count - 2);
  return {low, inside - static_cast<double>(low)};
}

}  // namespace

double PlateForm::height_mm(const Eigen::Vector3d& point_mm) const {
  const Eigen::Vector3d from_corner = point_mm - origin_mm;
  const double x = along.dot(from_corner) / step_mm, y = normal.cross(along).dot(from_corner) / step_mm;
  constexpr double beyond = 1.5;  // Steps: farther out nothing was seen.
  if (heights_um.size() == 0 || x < -beyond || y < -beyond || x > static_cast<double>(heights_um.cols() - 1) + beyond ||
      y > static_cast<double>(heights_um.rows() - 1) + beyond)
    return 0.0;
  const Between c = between(x, heights_um.cols()), r = between(y, heights_um.rows());
  double sum = 0.0, weight = 0.0;
  for (Eigen::Index i = 0; i < 2; ++i) {
    for (Eigen::Index j = 0; j < 2; ++j) {
      const double value =
          heights_um(std::min(r.low + i, heights_um.rows() - 1), std::min(c.low + j, heights_um.cols() - 1));
      const double w = (i == 1 ? r.share : 1.0 - r.share) * (j == 1 ? c.share : 1.0 - c.share);
      if (std::isnan(value)) continue;
      sum += w * value;
      weight += w;
    }
  }
  constexpr double enough = 0.3;
  return weight > enough ? mm_from_um(sum / weight) : 0.0;
}

double DepthCorrection::error_mm(double column, double row, double depth_mm) const {
  const auto n = static_cast<Eigen::Index>(depths_mm.size());
  if (n == 0) return 0.0;
  const auto above = std::upper_bound(depths_mm.begin(), depths_mm.end(), depth_mm);
  const auto high = std::clamp<Eigen::Index>(above - depths_mm.begin(), n > 1 ? 1 : 0, n - 1);
  const Eigen::Index low = n > 1 ? high - 1 : 0;
  const auto at = [&](Eigen::Index k) { return depths_mm[static_cast<std::size_t>(k)]; };
  const double share = n > 1 ? std::clamp((depth_mm - at(low)) / (at(high) - at(low)), 0.0, 1.0) : 0.0;
  const Between c = between((column + 0.5) * static_cast<double>(columns) / static_cast<double>(width) - 0.5,
                            static_cast<Eigen::Index>(columns));
  const Between r = between((row + 0.5) * static_cast<double>(rows) / static_cast<double>(height) - 0.5,
                            static_cast<Eigen::Index>(rows));
  const auto tile = [&](Eigen::Index k) {
    double sum = 0.0;
    for (Eigen::Index i = 0; i < 2; ++i) {
      for (Eigen::Index j = 0; j < 2; ++j) {
        const auto row_at =
            static_cast<std::size_t>(std::min<Eigen::Index>(r.low + i, static_cast<Eigen::Index>(rows) - 1));
        const auto column_at =
            static_cast<std::size_t>(std::min<Eigen::Index>(c.low + j, static_cast<Eigen::Index>(columns) - 1));
        sum += (i == 1 ? r.share : 1.0 - r.share) * (j == 1 ? c.share : 1.0 - c.share) *
               errors_um[(static_cast<std::size_t>(k) * rows + row_at) * columns + column_at];
      }
    }
    return sum;
  };
  return mm_from_um((1.0 - share) * tile(low) + share * tile(high));
}

}  // namespace canewise
