#include "scanproc/scrape/scrape_region.h"

#include <algorithm>
#include <cmath>

namespace canewise {
namespace {

/// Nearer to the bark's cylinder than this, a place is taken for bark.
constexpr double kBarkClearance_mm = 0.08;

bool is_bark(const ThicknessMap& map, const Bark& bark, Eigen::Index row, Eigen::Index column) {
  return map.thickness_mm(row, column) > bark.at(map.grid.x_mm(row), map.grid.y_mm(column)) - kBarkClearance_mm;
}

}  // namespace

bool holds(const std::vector<PlanPoint>& polygon, double x_mm, double y_mm) {
  bool inside = false;
  for (std::size_t i = 0, j = polygon.size() - 1; i < polygon.size(); j = i++) {
    const PlanPoint &a = polygon[i], &b = polygon[j];
    if ((a.y_mm > y_mm) != (b.y_mm > y_mm) && x_mm < (b.x_mm - a.x_mm) * (y_mm - a.y_mm) / (b.y_mm - a.y_mm) + a.x_mm) {
      inside = !inside;
    }
  }
  return inside;
}

ScrapeField::ScrapeField(const ThicknessMap& map, const Outline& outline, const Assessment& assessment,
                         double tip_margin_mm)
    : map_(&map), outline_(&outline), assessment_(&assessment), tip_margin_mm_(tip_margin_mm) {
  const Grid& grid = map.grid;
  const auto heart = ZoneMap::label_of(AlongBand::middle, AcrossBand::centre);
  free_.setConstant(grid.rows, grid.columns, false);
  for (Eigen::Index c = 0; c < grid.columns; ++c) {
    for (Eigen::Index r = 0; r < grid.rows; ++r) {
      const auto label = assessment.zones.label(r, c);
      free_(r, c) = label >= 0 && label != heart && map.measured(r, c) && !is_bark(map, assessment.cut.bark, r, c) &&
                    grid.x_mm(r) >= outline.tip_edge_at(grid.y_mm(c)) + tip_margin_mm;
    }
  }
}

std::vector<PlanPoint> ScrapeField::lane_polygon(Side side, AcrossBand across, double from_mm, double to_mm) const {
  const auto band = static_cast<std::size_t>(across);
  const double e_inner = ZoneLimits::e.at(band), e_outer = ZoneLimits::e.at(band + 1);
  const double sign = side == Side::left ? -1.0 : 1.0;
  const auto label_across = static_cast<int>(across);
  // The lane ends before the first bark in it.
  double end = to_mm;
  for (Eigen::Index r = 0; r < map_->grid.rows; ++r) {
    const double x = map_->grid.x_mm(r);
    if (x < from_mm || x > end) continue;
    for (Eigen::Index c = 0; c < map_->grid.columns; ++c) {
      const auto label = assessment_->zones.label(r, c);
      if (label < 0 || label % 3 != label_across || (map_->grid.y_mm(c) < 0) != (side == Side::left)) continue;
      if (map_->measured(r, c) && is_bark(*map_, assessment_->cut.bark, r, c))
        end = std::min(end, x - map_->grid.cell_mm);
    }
  }
  std::vector<PlanPoint> polygon;
  if (end - from_mm < 1.0) return polygon;
  constexpr double keep_off_rim_mm = 0.1;
  const auto y_at = [&](double x, double e) {
    return sign * std::min(e * outline_->half_width_mm(x), outline_->half_width_mm(x) - keep_off_rim_mm);
  };
  // Across the front, along the outside to the back, and back along the inside.
  constexpr int front_points = 5;
  for (int k = 0; k < front_points; ++k) {
    const double e = e_inner + (e_outer - e_inner) * k / (front_points - 1);
    const double y = y_at(from_mm, e);
    polygon.push_back({std::max(from_mm, outline_->tip_edge_at(y) + tip_margin_mm_), y});
  }
  const double start = std::max(polygon.back().x_mm, polygon.front().x_mm);
  const int steps = std::max(1, static_cast<int>(std::lround((end - start) / 2.0)));
  for (int k = 1; k <= steps; ++k) {
    const double x = start + (end - start) * k / steps;
    polygon.push_back({x, y_at(x, e_outer)});
  }
  for (int k = steps; k >= 1; --k) {
    const double x = start + (end - start) * k / steps;
    polygon.push_back({x, y_at(x, e_inner)});
  }
  return polygon;
}

std::vector<Eigen::Index> ScrapeField::cells_in(const std::vector<PlanPoint>& polygon) const {
  std::vector<Eigen::Index> cells;
  if (polygon.empty()) return cells;
  const auto [first, last] = std::minmax_element(
      polygon.begin(), polygon.end(), [](const PlanPoint& a, const PlanPoint& b) { return a.x_mm < b.x_mm; });
  const Grid& grid = map_->grid;
  const auto first_row = std::max<Eigen::Index>(0, static_cast<Eigen::Index>(first->x_mm / grid.cell_mm) - 1);
  const auto last_row = std::min(grid.rows - 1, static_cast<Eigen::Index>(last->x_mm / grid.cell_mm) + 1);
  for (Eigen::Index c = 0; c < grid.columns; ++c) {
    for (Eigen::Index r = first_row; r <= last_row; ++r) {
      if (free_(r, c) && holds(polygon, grid.x_mm(r), grid.y_mm(c))) cells.push_back(c * grid.rows + r);
    }
  }
  return cells;
}

}  // namespace canewise
