#include "scanproc/assess/zone_shares.h"

#include <algorithm>
#include <cmath>

namespace canewise {
namespace {

using Index = Eigen::Index;

/// How much each row counts in a band: all alike, but the first and the last as far as the band reaches. Else a mean
/// would jump by a row's share where the vamp's end moves by a hair.
Eigen::ArrayXd rows_of(const Grid& grid, const ZoneMap& zones, AlongBand along) {
  const auto k = static_cast<std::size_t>(along);
  const double from = ZoneLimits::t.at(k) * zones.vamp_length_mm, to = ZoneLimits::t.at(k + 1) * zones.vamp_length_mm;
  Eigen::ArrayXd weight = Eigen::ArrayXd::Ones(grid.rows);
  const auto inside = [&](Index r) { return grid.x_mm(r) >= from && grid.x_mm(r) < to; };
  for (Index r = 0; r < grid.rows; ++r) {
    if (!inside(r)) continue;
    if (r == 0 || !inside(r - 1)) weight(r) += (grid.x_mm(r) - from) / grid.cell_mm - 0.5;
    if (r + 1 == grid.rows || !inside(r + 1)) weight(r) += (to - grid.x_mm(r)) / grid.cell_mm - 0.5;
  }
  return weight;
}

/// A row of one side, from the centreline outwards.
struct SideRow {
  Index row;
  int side;
  std::vector<Index> columns;  ///< Measured, of the zone.
  double reaches_mm = 0.0;  ///< From the centreline, of all its cells: the tip's arc may end it before the side does.
};

SideRow side_row(const ThicknessMap& map, const ZoneMap& zones, std::int8_t label, Index row, int side) {
  SideRow cells{row, side, {}, 0.0};
  const Index half = map.grid.columns / 2;
  for (Index k = 0; k < half; ++k) {
    const Index c = side > 0 ? half + k : half - 1 - k;
    if (zones.label(row, c) != label) continue;
    cells.reaches_mm = std::abs(map.grid.y_mm(c)) + 0.5 * map.grid.cell_mm;
    if (map.measured(row, c)) cells.columns.push_back(c);
  }
  return cells;
}

}  // namespace

ZoneShares zone_shares(const ThicknessMap& map, const ZoneMap& zones, AlongBand along, AcrossBand across) {
  const Grid& grid = map.grid;
  const double half_cell = 0.5 * grid.cell_mm;
  const auto label = ZoneMap::label_of(along, across);
  const auto band = static_cast<std::size_t>(across);
  const Eigen::ArrayXd rows = rows_of(grid, zones, along);
  ZoneShares shares{Field::Zero(grid.rows, grid.columns), Field::Zero(grid.rows, grid.columns)};
  // Farther than this from what it was measured over no cell stands for anything.
  const double farthest_mm = 1.5 * grid.cell_mm;
  for (Index r = 0; r < grid.rows; ++r) {
    for (const int side : {-1, 1}) {
      const SideRow cells = side_row(map, zones, label, r, side);
      if (cells.columns.empty()) continue;
      const double half_width = zones.half_width_mm(r);
      const double inner = ZoneLimits::e.at(band) * half_width;
      double outer = ZoneLimits::e.at(band + 1) * half_width;
      if (outer - cells.reaches_mm > half_cell) outer = cells.reaches_mm;
      for (const Index c : cells.columns) {
        const double y = std::abs(grid.y_mm(c));
        double from = y - half_cell, to = y + half_cell;
        if (c == cells.columns.front() && std::abs(inner - from) < farthest_mm) from = inner;
        if (c == cells.columns.back() && std::abs(outer - to) < farthest_mm) to = outer;
        shares.weight(r, c) = static_cast<float>(rows(r) * (to - from) / grid.cell_mm);
        shares.shift_mm(r, c) = static_cast<float>(side * (0.5 * (from + to) - y));
      }
    }
  }
  return shares;
}

}  // namespace canewise
