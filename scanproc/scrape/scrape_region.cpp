#include "scanproc/scrape/scrape_region.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace canewise {
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

std::vector<PlanPoint> on_reed(std::vector<PlanPoint> polygon, const Outline& outline) {
  for (PlanPoint& p : polygon) {
    const double rim = outline.half_width_mm(p.x_mm);
    p.y_mm = std::clamp(p.y_mm, -rim, rim);
  }
  return polygon;
}

ScrapeField::ScrapeField(const ThicknessMap& map, const Outline& outline, const Assessment& assessment,
                         const ScrapeTool& tool)
    : map_(&map),
      outline_(&outline),
      assessment_(&assessment),
      uncut_(map, assessment.cut.bark, assessment.zones.vamp_length_mm),
      tip_margin_mm_(tool.tip_margin_mm),
      footprint_(tool.footprint) {
  const Grid& grid = map.grid;
  const auto heart = ZoneMap::label_of(AlongBand::middle, AcrossBand::centre);
  free_.setConstant(grid.rows, grid.columns, false);
  for (Eigen::Index c = 0; c < grid.columns; ++c) {
    for (Eigen::Index r = 0; r < grid.rows; ++r) {
      const auto label = assessment.zones.label(r, c);
      free_(r, c) = label >= 0 && label != heart && map.measured(r, c) && !uncut_.is_uncut(r, c) &&
                    grid.x_mm(r) >= outline.tip_edge_at(grid.y_mm(c)) + tool.tip_margin_mm;
    }
  }
}

double ScrapeField::innermost_mm(double x_mm) const {
  const double vamp = assessment_->zones.vamp_length_mm, reach = footprint_.reach_along_mm();
  const bool beside_heart = x_mm > ZoneLimits::t[2] * vamp - reach && x_mm < ZoneLimits::t[3] * vamp + reach;
  return beside_heart ? ZoneLimits::e[1] * outline_->half_width_mm(x_mm) + footprint_.reach_across_mm() : 0.0;
}

double ScrapeField::share_at_tip(double behind_mm) const {
  return std::clamp((footprint_.reach_to_tip_mm() - behind_mm) / footprint_.run_out_mm, 0.0, 1.0);
}

double ScrapeField::edge_mm(double x_mm) const {
  double y = outline_->half_width_mm(x_mm);
  constexpr double apart_mm = 0.1;
  while (y > 0.0 && std::max(outline_->tip_edge_at(y), outline_->tip_edge_at(-y)) > x_mm) y -= apart_mm;
  return y;
}

void ScrapeField::fit(Station& station, double least_width_mm) const {
  const double rim = outline_->half_width_mm(station.x_mm), innermost = innermost_mm(station.x_mm);
  constexpr double nearly_rim_mm = 0.6;
  // The tool hangs over the rim, so that it cuts no more than this and a slip inwards leaves no strip there.
  const auto hang_over = [&] {
    station.outer_mm = std::max(rim + footprint_.slip_mm, station.inner_mm + least_width_mm);
  };
  station.inner_mm = std::max(station.inner_mm, innermost);
  if (station.outer_mm > edge_mm(station.x_mm) - nearly_rim_mm) {
    constexpr double least_hold_mm = 0.8;
    station.inner_mm = std::max(innermost, std::min(station.inner_mm, rim - least_hold_mm));
    hang_over();
    return;
  }
  const double missing = least_width_mm - (station.outer_mm - station.inner_mm);
  if (!(missing > 0.0)) return;
  const double inner_mm = std::max(innermost, station.inner_mm - 0.5 * missing);
  if (inner_mm + least_width_mm > rim - nearly_rim_mm) {
    hang_over();  // Rather than cut farther in than the fault reaches.
    return;
  }
  station.inner_mm = inner_mm;
  station.outer_mm = inner_mm + least_width_mm;
}

double ScrapeField::first_bark_mm(Side side, const std::vector<Station>& stations) const {
  const Grid& grid = map_->grid;
  std::size_t k = 0;
  for (Eigen::Index r = 0; r < grid.rows; ++r) {
    const double x = grid.x_mm(r);
    if (x < stations.front().x_mm) continue;
    if (x > stations.back().x_mm) break;
    while (k + 1 < stations.size() && stations[k + 1].x_mm < x) ++k;
    const Station& s = stations[k];
    for (Eigen::Index c = 0; c < grid.columns; ++c) {
      const double y = static_cast<double>(side) * grid.y_mm(c);
      if (y < s.inner_mm || y > s.outer_mm || !map_->measured(r, c)) continue;
      if (uncut_.is_uncut(r, c)) return x;
    }
  }
  return std::numeric_limits<double>::infinity();
}

std::vector<PlanPoint> ScrapeField::polygon(Side side, std::vector<Station> stations, double behind_mm,
                                            double least_width_mm) const {
  if (stations.size() < 2) return {};
  for (Station& station : stations) fit(station, least_width_mm);
  // Between two stations the heart's border may lie farther out than at either.
  for (std::size_t k = 0; k + 1 < stations.size(); ++k) {
    const double between = innermost_mm(0.5 * (stations[k].x_mm + stations[k + 1].x_mm));
    for (const std::size_t i : {k, k + 1})
      stations[i].inner_mm = std::max(stations[i].inner_mm, std::min(between, stations[i].outer_mm - 0.5));
  }
  constexpr double off_bark_mm = 0.5;
  const double end = std::min(stations.back().x_mm, first_bark_mm(side, stations) - off_bark_mm);
  const double sign = side == Side::left ? -1.0 : 1.0;
  const auto at = [&](double x) {
    std::size_t k = 0;
    while (k + 2 < stations.size() && stations[k + 1].x_mm < x) ++k;
    const Station &a = stations[k], &b = stations[k + 1];
    const double share = std::clamp((x - a.x_mm) / std::max(1e-9, b.x_mm - a.x_mm), 0.0, 1.0);
    const Station s{x, a.inner_mm + share * (b.inner_mm - a.inner_mm), a.outer_mm + share * (b.outer_mm - a.outer_mm)};
    return Station{x, s.inner_mm, std::min(s.outer_mm, behind_tip_mm(x, sign, behind_mm))};
  };
  // It starts where the tip's arc leaves it half a millimetre, and its outside follows the arc.
  constexpr double shortest_mm = 1.0, apart_mm = 0.75, narrowest_mm = 0.5, finely_mm = 0.1;
  double start = stations.front().x_mm;
  while (start < end - shortest_mm && at(start).outer_mm < at(start).inner_mm + narrowest_mm) start += finely_mm;
  if (end - start < shortest_mm) return {};
  const int parts = std::max(1, static_cast<int>(std::lround((end - start) / apart_mm)));
  std::vector<PlanPoint> outline;
  for (int k = 0; k <= parts; ++k) {
    const Station s = at(start + (end - start) * k / parts);
    outline.push_back({s.x_mm, sign * s.outer_mm});
  }
  for (int k = parts; k >= 0; --k) {
    const Station s = at(start + (end - start) * k / parts);
    outline.push_back({s.x_mm, sign * s.inner_mm});
  }
  return outline;
}

double ScrapeField::behind_tip_mm(double x_mm, double sign, double behind_mm) const {
  // Where the arc has reached the side, the tool may hang over the rim.
  constexpr double apart_mm = 0.1, at_the_side_mm = 0.1;
  double y = outline_->half_width_mm(x_mm) - at_the_side_mm;
  const auto clear = [&] { return x_mm >= outline_->tip_edge_at(sign * y) + tip_margin_mm_ + behind_mm; };
  if (clear()) return std::numeric_limits<double>::infinity();
  while (y > 0.0 && !clear()) y -= apart_mm;
  return y;
}

std::vector<PlanPoint> ScrapeField::lane_polygon(const SideLane& lane, double least_width_mm) const {
  auto [side, across, from_mm, to_mm] = lane;
  const auto band = static_cast<std::size_t>(across);
  // Where the heart stands, the middle is left out whole.
  if (across == AcrossBand::centre) {
    const double vamp = assessment_->zones.vamp_length_mm, reach = footprint_.reach_along_mm();
    const double heart_from = ZoneLimits::t[2] * vamp - reach, heart_to = ZoneLimits::t[3] * vamp + reach;
    if (from_mm < heart_from) {
      to_mm = std::min(to_mm, heart_from);
    } else {
      from_mm = std::max(from_mm, heart_to);
    }
  }
  std::vector<Station> stations;
  constexpr double apart_mm = 1.0;
  const int parts = std::max(1, static_cast<int>(std::lround((to_mm - from_mm) / apart_mm)));
  for (int k = 0; k <= parts; ++k) {
    const double x = from_mm + (to_mm - from_mm) * k / parts, half = outline_->half_width_mm(x);
    stations.push_back({x, ZoneLimits::e.at(band) * half, ZoneLimits::e.at(band + 1) * half});
  }
  if (!(to_mm > from_mm)) return {};
  return polygon(side, std::move(stations), sure_of_tip_mm(), least_width_mm);
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
