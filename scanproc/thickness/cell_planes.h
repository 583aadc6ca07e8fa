#pragma once

#include <Eigen/Core>
#include <vector>

#include "scanproc/core/plane_moments.h"
#include "scanproc/thickness/bins.h"

namespace canewise {

/// Plane that few wild bins cannot pull, with the scatter of bins about it.
struct RobustPlane {
  LocalPlane plane;
  double scatter_mm = 0.0;
  double limit_mm = 0.0;  ///< Points farther from the plane are outliers.
  bool valid = false;
};

/// One plane for every cell, about the cell's centre.
struct CellPlanes {
  Grid grid;
  std::vector<RobustPlane> planes;  ///< Row by row.

  [[nodiscard]] const RobustPlane& at(Eigen::Index row, Eigen::Index column) const {
    return planes[static_cast<std::size_t>(row * grid.columns + column)];
  }
  /// Of a point, in mm above its cell's plane.
  [[nodiscard]] double residual_mm(const Eigen::Vector3d& point, Eigen::Index row, Eigen::Index column) const {
    const LocalPlane& plane = at(row, column).plane;
    return point.z() - plane.height - plane.slope_x * (point.x() - grid.x_mm(row)) -
           plane.slope_y * (point.y() - grid.y_mm(column));
  }
};

[[nodiscard]] CellPlanes cell_planes(const Bins& bins);

}  // namespace canewise
