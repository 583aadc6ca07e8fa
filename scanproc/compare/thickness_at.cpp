#include "scanproc/compare/thickness_at.h"

#include <cmath>

namespace canewise {

double thickness_at(const ThicknessMap& map, double x_mm, double y_mm) {
  const Grid& grid = map.grid;
  const double row = x_mm / grid.cell_mm - 0.5,
               column = y_mm / grid.cell_mm + 0.5 * static_cast<double>(grid.columns) - 0.5;
  const double first_row = std::floor(row), first_column = std::floor(column);
  double sum = 0.0;
  for (int i = 0; i < 2; ++i) {
    for (int j = 0; j < 2; ++j) {
      const double a = row - first_row, b = column - first_column;
      const double weight = (i == 0 ? 1.0 - a : a) * (j == 0 ? 1.0 - b : b);
      constexpr double rounding = 1e-6;  // Columns of equal cells lie upon each other.
      if (weight < rounding) continue;
      const auto r = static_cast<Eigen::Index>(first_row) + i, c = static_cast<Eigen::Index>(first_column) + j;
      if (r < 0 || c < 0 || r >= grid.rows || c >= grid.columns) return std::nan("");
      sum += weight * static_cast<double>(map.thickness_mm(r, c));
    }
  }
  return sum;
}

}  // namespace canewise
