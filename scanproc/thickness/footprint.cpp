#include "scanproc/thickness/footprint.h"

#include <algorithm>

namespace canewise {

Footprint footprint_of(const Bins& bins, Eigen::Index row, Eigen::Index column) {
  Footprint footprint;
  const double x = bins.grid.x_mm(row), y = bins.grid.y_mm(column);
  const Eigen::Index row0 = 2 * row + 1 - kFootprintAlong / 2, column0 = 2 * column + 1 - kFootprintAcross / 2;
  for (Eigen::Index r = std::max<Eigen::Index>(0, row0); r < std::min(bins.rows, row0 + kFootprintAlong); ++r) {
    for (Eigen::Index c = std::max<Eigen::Index>(0, column0); c < std::min(bins.columns, column0 + kFootprintAcross);
         ++c) {
      const PlaneMoments& m = bins.at(r, c);
      if (!(m.n > 0)) continue;
      footprint.bins.at(footprint.count++) = {&m, bins.x_mm(r) - x, bins.y_mm(c) - y, r, c};
      footprint.points += m.n;
    }
  }
  return footprint;
}

}  // namespace canewise
