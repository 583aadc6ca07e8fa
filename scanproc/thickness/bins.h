#pragma once

#include <Eigen/Core>
#include <vector>

#include "scanproc/core/plane_moments.h"
#include "scanproc/thickness/thickness_map.h"

namespace canewise {

/// Half-cell bins under a Grid: bin (r, c) of 2 * rows x 2 * columns; moments about the bin's own centre.
struct Bins {
  Grid grid;
  Eigen::Index rows = 0, columns = 0;
  std::vector<PlaneMoments> moments;
  std::vector<float> points;  ///< Number in each bin, only where points have weights; moments hold the weights' sum.

  explicit Bins(const Grid& g)
      : grid(g), rows(2 * g.rows), columns(2 * g.columns), moments(static_cast<std::size_t>(rows * columns)) {}
  [[nodiscard]] double size_mm() const { return 0.5 * grid.cell_mm; }
  [[nodiscard]] double x_mm(Eigen::Index row) const { return (static_cast<double>(row) + 0.5) * size_mm(); }
  [[nodiscard]] double y_mm(Eigen::Index column) const {
    return (static_cast<double>(column) + 0.5 - 0.5 * static_cast<double>(columns)) * size_mm();
  }
  [[nodiscard]] const PlaneMoments& at(Eigen::Index row, Eigen::Index column) const {
    return moments[static_cast<std::size_t>(row * columns + column)];
  }
};

}  // namespace canewise
