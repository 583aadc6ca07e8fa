#include "scanproc/thickness/cell_planes.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

#include "scanproc/core/parallel.h"
#include "scanproc/core/statistics.h"
#include "scanproc/thickness/footprint.h"

namespace canewise {
namespace {

RobustPlane robust_plane(const Footprint& footprint) {
  RobustPlane robust;
  if (footprint.count < 4) return robust;
  std::array<double, Footprint::kMost> weight{}, deviations{}, sorted{};
  weight.fill(1.0);
  constexpr int iterations = 6;
  for (int iteration = 0; iteration < iterations; ++iteration) {
    PlaneMoments sums;
    std::size_t k = 0;
    for (const auto& bin : footprint) {
      const PlaneMoments& m = *bin.moments;
      const double w = weight.at(k++) * std::min(m.n, 4.0);
      const double x = bin.dx_mm + m.x / m.n, y = bin.dy_mm + m.y / m.n, z = m.z / m.n;
      sums.n += w, sums.x += w * x, sums.y += w * y, sums.z += w * z;
      sums.xx += w * x * x, sums.xy += w * x * y, sums.yy += w * y * y, sums.xz += w * x * z, sums.yz += w * y * z;
    }
    robust.plane = sums.fit();
    k = 0;
    double largest = 0.0;
    for (const auto& bin : footprint) {
      const PlaneMoments& m = *bin.moments;
      deviations.at(k) = std::abs(m.z / m.n - robust.plane.height - robust.plane.slope_x * (bin.dx_mm + m.x / m.n) -
                                  robust.plane.slope_y * (bin.dy_mm + m.y / m.n));
      largest = std::max(largest, deviations.at(k++));
    }
    sorted = deviations;
    const auto middle = sorted.begin() + static_cast<std::ptrdiff_t>(footprint.count / 2);
    std::nth_element(sorted.begin(), middle, sorted.begin() + static_cast<std::ptrdiff_t>(footprint.count));
    robust.scatter_mm = std::max(1e-4, 1.4826 * *middle);
    // Least squares are best where nothing is wild. Two wild bins in a corner tilt them and hide behind the tilt, so
    // that neither lies four scatters off. (Three in a corner tilt a robust plane as well.)
    constexpr double nothing_wild = 2.5;
    if (iteration == 0 && largest < nothing_wild * robust.scatter_mm) break;
    for (k = 0; k < footprint.count; ++k) {
      const double s = deviations.at(k) / robust.scatter_mm;
      weight.at(k) = iteration < 3 ? 1.0 / std::max(s, 0.3) : s < 6.0 ? square(1.0 - square(s / 6.0)) : 0.0;
    }
  }
  robust.valid = true;
  return robust;
}

}  // namespace

CellPlanes cell_planes(const Bins& bins) {
  const Grid& grid = bins.grid;
  CellPlanes cells{grid, std::vector<RobustPlane>(static_cast<std::size_t>(grid.rows * grid.columns))};
  run_parts([&](std::size_t part) {
    for (Eigen::Index row = static_cast<Eigen::Index>(part); row < grid.rows; row += kParallelParts) {
      for (Eigen::Index column = 0; column < grid.columns; ++column) {
        cells.planes[static_cast<std::size_t>(row * grid.columns + column)] =
            robust_plane(footprint_of(bins, row, column));
      }
    }
  });
  return cells;
}

}  // namespace canewise
