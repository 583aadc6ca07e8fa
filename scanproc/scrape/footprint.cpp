#include "scanproc/scrape/footprint.h"

#include <algorithm>
#include <cmath>

#include "scanproc/core/statistics.h"
#include "scanproc/scrape/scrape_region.h"

namespace canewise {
namespace {

/// Of a box of this width, smeared by one direction's slip.
double blur_mm(double box_mm, double slip_mm) { return std::sqrt(square(box_mm) / 12.0 + 0.5 * square(slip_mm)); }

/// Cells about a polygon.
struct Window {
  Eigen::Index first_row, rows, first_column, columns;
};
Window window_about(const Grid& grid, const std::vector<PlanPoint>& polygon, double along_mm, double across_mm) {
  double x0 = 1e9, x1 = -1e9, y0 = 1e9, y1 = -1e9;
  for (const PlanPoint& p : polygon) {
    x0 = std::min(x0, p.x_mm), x1 = std::max(x1, p.x_mm);
    y0 = std::min(y0, p.y_mm), y1 = std::max(y1, p.y_mm);
  }
  const double half = 0.5 * static_cast<double>(grid.columns);
  const auto cell = [&](double mm) { return static_cast<Eigen::Index>(std::floor(mm / grid.cell_mm)); };
  const Eigen::Index first_row = std::max<Eigen::Index>(0, cell(x0 - along_mm)),
                     end_row = std::min(grid.rows, cell(x1 + along_mm) + 1);
  const Eigen::Index first_column = cell(y0 - across_mm + half * grid.cell_mm),
                     end_column = cell(y1 + across_mm + half * grid.cell_mm) + 1;
  // Beyond the rim the tool cuts air, but what it cuts there is needed for the cut's soft border on the reed.
  return {first_row, std::max<Eigen::Index>(0, end_row - first_row), first_column, end_column - first_column};
}

/// Share of a cell inside the polygon, by sub-cells.
float covered(const std::vector<PlanPoint>& polygon, double x_mm, double y_mm, double cell_mm) {
  constexpr int n = 2;
  int inside = 0;
  for (int i = 0; i < n; ++i) {
    for (int j = 0; j < n; ++j)
      inside += holds(polygon, x_mm + cell_mm * ((i + 0.5) / n - 0.5), y_mm + cell_mm * ((j + 0.5) / n - 0.5));
  }
  return static_cast<float>(inside) / (n * n);
}

std::vector<float> bell(double sd_cells) {
  const int reach = static_cast<int>(std::ceil(3.0 * sd_cells));
  std::vector<float> weights;
  float sum = 0.0F;
  for (int k = -reach; k <= reach; ++k) {
    weights.push_back(static_cast<float>(std::exp(-0.5 * square(k / sd_cells))));
    sum += weights.back();
  }
  for (float& weight : weights) weight /= sum;
  return weights;
}

}  // namespace

CutShare expected_cut(const Grid& grid, const std::vector<PlanPoint>& polygon, const Footprint& footprint) {
  CutShare cut;
  if (polygon.size() < 3) return cut;
  const double along_mm = blur_mm(footprint.run_out_mm, footprint.slip_mm),
               across_mm = blur_mm(footprint.edge_mm, footprint.slip_mm);
  const Window w = window_about(grid, polygon, 3.0 * along_mm, 3.0 * across_mm);
  Field sharp(w.rows, w.columns);
  for (Eigen::Index c = 0; c < w.columns; ++c) {
    const double y = grid.y_mm(w.first_column + c);
    for (Eigen::Index r = 0; r < w.rows; ++r)
      sharp(r, c) = covered(polygon, grid.x_mm(w.first_row + r), y, grid.cell_mm);
  }
  const auto along = bell(along_mm / grid.cell_mm), across = bell(across_mm / grid.cell_mm);
  Field half = Field::Zero(w.rows, w.columns), soft = half;
  const auto reach_along = static_cast<Eigen::Index>(along.size() / 2),
             reach_across = static_cast<Eigen::Index>(across.size() / 2);
  for (Eigen::Index r = 0; r < w.rows; ++r) {
    for (Eigen::Index k = -reach_along; k <= reach_along; ++k) {
      if (r + k >= 0 && r + k < w.rows)
        half.row(r) += along[static_cast<std::size_t>(k + reach_along)] * sharp.row(r + k);
    }
  }
  for (Eigen::Index c = 0; c < w.columns; ++c) {
    for (Eigen::Index k = -reach_across; k <= reach_across; ++k) {
      if (c + k >= 0 && c + k < w.columns)
        soft.col(c) += across[static_cast<std::size_t>(k + reach_across)] * half.col(c + k);
    }
  }
  constexpr float nothing = 0.01F;
  for (Eigen::Index c = 0; c < w.columns; ++c) {
    const Eigen::Index column = w.first_column + c;
    if (column < 0 || column >= grid.columns) continue;
    for (Eigen::Index r = 0; r < w.rows; ++r) {
      if (soft(r, c) < nothing) continue;
      cut.cells.push_back(column * grid.rows + w.first_row + r);
      cut.share.push_back(std::min(1.0F, soft(r, c)));
    }
  }
  return cut;
}

}  // namespace canewise
