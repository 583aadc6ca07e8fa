#include "scanproc/report/csv.h"

#include <fmt/format.h>

#include <iterator>

#include "scanproc/core/budget.h"

namespace canewise {

std::string thickness_csv(const ThicknessMap& map) {
  std::string csv = "x_mm,y_mm,thickness_mm,u95_mm\n";
  for (Eigen::Index r = 0; r < map.grid.rows; ++r) {
    for (Eigen::Index c = 0; c < map.grid.columns; ++c) {
      if (!map.measured(r, c)) continue;
      fmt::format_to(std::back_inserter(csv), "{:.3f},{:.3f},{:.5f},{:.5f}\n", map.grid.x_mm(r), map.grid.y_mm(c),
                     map.thickness_mm(r, c), kCoverage95 * static_cast<double>(map.u_mm(r, c)));
    }
  }
  return csv;
}

}  // namespace canewise
