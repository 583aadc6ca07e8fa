#include "scanproc/assess/zones.h"

#include <cmath>
#include <limits>

#include "scanproc/assess/zone_shares.h"
#include "scanproc/core/budget.h"
#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

template <std::size_t N>
int band_of(const std::array<double, N>& limits, double value) {
  for (std::size_t k = 0; k + 1 < N; ++k) {
    if (value < limits.at(k + 1)) return value >= limits.at(k) ? static_cast<int>(k) : -1;
  }
  return -1;
}

/// A vamp that is longer by u puts a zone's cells at t u farther back: its mean changes by the mean of slope * t u.
double u_of_place_mm(const ThicknessMap& map, const ZoneMap& zones, const CellMask& cells, bool folded) {
  if (map.slope_x.size() == 0) return 0.0;  // A map of differences: whoever made it has counted this.
  double sum = 0.0, count = 0.0;
  for (Eigen::Index c = folded ? map.grid.columns / 2 : 0; c < map.grid.columns; ++c) {
    for (Eigen::Index r = 0; r < map.grid.rows; ++r) {
      if (!cells(r, c)) continue;
      const double slope = static_cast<double>(map.slope_x(r, c)) -
                           (folded ? static_cast<double>(map.slope_x(r, map.grid.mirrored(c))) : 0.0);
      if (std::isnan(slope)) continue;
      sum += slope * map.grid.x_mm(r) / zones.vamp_length_mm;
      count += 1.0;
    }
  }
  return count > 0.0 ? std::abs(sum / count) * zones.u_vamp_length_mm : 0.0;
}

ZoneMean with_place(ZoneMean mean, double u_place_mm) {
  mean.u_place_mm = u_place_mm;
  mean.u_mm = std::hypot(mean.u_mm, u_place_mm);
  return mean;
}

/// Mean over the right-hand cells of a zone pair; `value` turns a field and a cell into the quantity averaged.
template <typename InZone, typename Value>
ZoneMean mean_over(const ThicknessMap& map, const InZone& in_zone, const Value& value, double sides,
                   const Field& shares = {}) {
  ZoneMean result;
  std::vector<std::pair<Eigen::Index, Eigen::Index>> cells;
  Eigen::Index all = 0;
  double sum = 0.0, weights = 0.0;
  const auto weight = [&](Eigen::Index r, Eigen::Index c) {
    return shares.size() > 0 ? static_cast<double>(shares(r, c)) : 1.0;
  };
  for (Eigen::Index c = 0; c < map.grid.columns; ++c) {
    for (Eigen::Index r = 0; r < map.grid.rows; ++r) {
      if (!in_zone(r, c)) continue;
      ++all;
      const double v = value(map.thickness_mm, r, c);
      if (std::isnan(v)) continue;
      cells.emplace_back(r, c);
      sum += weight(r, c) * v;
      weights += weight(r, c);
    }
  }
  result.cells = static_cast<Eigen::Index>(cells.size());
  result.covered = all > 0 ? static_cast<double>(cells.size()) / static_cast<double>(all) : 0.0;
  if (cells.empty()) {
    result.mean_mm = result.u_mm = result.u_local_mm = std::numeric_limits<double>::quiet_NaN();
    return result;
  }
  const auto n = static_cast<double>(cells.size());
  result.mean_mm = sum / weights;
  // Along and across as far as its rows and columns reach: the region's own area tells the width of one that is skew.
  Eigen::Index row_low = cells.front().first, row_high = row_low;
  for (const auto& cell : cells) row_low = std::min(row_low, cell.first), row_high = std::max(row_high, cell.first);
  const double cell_mm = map.grid.cell_mm;
  const double length = cell_mm * static_cast<double>(row_high - row_low + 1), width = n * cell_mm * cell_mm / length;
  result.u_local_mm = std::sqrt(sides * variance_of_mean(map.noise, n, length, width));
  std::vector<double> parts{result.u_local_mm};
  for (const auto& effect : map.common) {
    double shift = 0.0;
    for (const auto& [r, c] : cells) shift += weight(r, c) * value(effect.shift_mm, r, c);
    result.effects_mm.push_back(shift / weights);
    parts.push_back(shift / weights);
  }
  result.u_mm = root_sum_of_squares(parts);
  return result;
}

/// Of these cells of a zone.
ZoneMean thickness_in(const ThicknessMap& map, const ZoneMap& zones, const CellMask& cells, const Zone& zone) {
  const ZoneShares shares = zone_shares(map, zones, zone.along, zone.across);
  ZoneMean mean = mean_over(
      map, [&](Eigen::Index r, Eigen::Index c) { return cells(r, c); },
      [](const Field& field, Eigen::Index r, Eigen::Index c) { return static_cast<double>(field(r, c)); }, 1.0,
      shares.weight);
  // What a cell stands for lies a little aside of it.
  double shifted = 0.0, weights = 0.0;
  for (Eigen::Index i = 0; i < cells.size() && map.slope_y.size() > 0; ++i) {
    const double weight = static_cast<double>(shares.weight.data()[i]),
                 slope = static_cast<double>(map.slope_y.data()[i]);
    if (!cells.data()[i] || !(weight > 0.0)) continue;
    weights += weight;
    if (!std::isnan(slope)) shifted += weight * slope * static_cast<double>(shares.shift_mm.data()[i]);
  }
  if (weights > 0.0) mean.mean_mm += shifted / weights;
  return with_place(mean, u_of_place_mm(map, zones, cells, false));
}

}  // namespace

std::string_view name_of(AlongBand band) {
  constexpr std::array<std::string_view, 4> names{"tip", "front", "middle", "back"};
  return names.at(static_cast<std::size_t>(band));
}

std::string_view name_of(AcrossBand band) {
  constexpr std::array<std::string_view, 3> names{"centre", "flank", "rail"};
  return names.at(static_cast<std::size_t>(band));
}

std::string_view name_of(Side side) { return side == Side::left ? "left" : "right"; }

Message place_of(const Zone& zone) {
  return {"place.zone",
          {{"side", word(name_of(zone.side))},
           {"across", word(name_of(zone.across))},
           {"along", word(name_of(zone.along))}}};
}

ZoneMap map_zones(const Grid& grid, const Outline& outline, double vamp_length_mm, double u_vamp_length_mm) {
  ZoneMap zones;
  zones.u_vamp_length_mm = u_vamp_length_mm;
  zones.vamp_length_mm = vamp_length_mm;
  zones.label.setConstant(grid.rows, grid.columns, -1);
  zones.half_width_mm.resize(grid.rows);
  for (Eigen::Index r = 0; r < grid.rows; ++r) {
    const double x = grid.x_mm(r);
    zones.half_width_mm(r) = outline.half_width_mm(x);
    const int along = band_of(ZoneLimits::t, x / vamp_length_mm);
    if (along < 0) continue;
    for (Eigen::Index c = 0; c < grid.columns; ++c) {
      const double y = grid.y_mm(c);
      if (!outline.holds(x, y)) continue;
      const int across = band_of(ZoneLimits::e, std::abs(y) / outline.half_width_mm(x));
      if (across >= 0) zones.label(r, c) = static_cast<std::int8_t>(3 * along + across);
    }
  }
  return zones;
}

double covered_share(const ThicknessMap& map, const Outline& outline) {
  double inside = 0.0, measured = 0.0;
  for (Eigen::Index r = 0; r < map.grid.rows; ++r) {
    for (Eigen::Index c = 0; c < map.grid.columns; ++c) {
      if (!outline.holds(map.grid.x_mm(r), map.grid.y_mm(c), map.grid.cell_mm)) continue;
      inside += 1.0;
      measured += map.measured(r, c);
    }
  }
  return inside > 0.0 ? measured / inside : 0.0;
}

ZoneMean zone_thickness(const ThicknessMap& map, const ZoneMap& zones, const Zone& zone) {
  CellMask cells = zones.label == ZoneMap::label_of(zone.along, zone.across);
  const Eigen::Index half = map.grid.columns / 2;
  (zone.side == Side::left ? cells.rightCols(map.grid.columns - half) : cells.leftCols(half)).setConstant(false);
  return thickness_in(map, zones, cells, zone);
}

ZoneMean band_thickness(const ThicknessMap& map, const ZoneMap& zones, AlongBand along, AcrossBand across) {
  return thickness_in(map, zones, zones.label == ZoneMap::label_of(along, across), {along, across});
}

ZoneMean zone_difference(const ThicknessMap& map, const ZoneMap& zones, AlongBand along, AcrossBand across) {
  const CellMask cells = zones.label == ZoneMap::label_of(along, across);
  return with_place(difference_over(map, cells), u_of_place_mm(map, zones, cells, true));
}

ZoneMean thickness_over(const ThicknessMap& map, const CellMask& cells) {
  return mean_over(
      map, [&](Eigen::Index r, Eigen::Index c) { return cells(r, c); },
      [](const Field& field, Eigen::Index r, Eigen::Index c) { return static_cast<double>(field(r, c)); }, 1.0);
}

ZoneMean difference_over(const ThicknessMap& map, const CellMask& cells) {
  return mean_over(
      map, [&](Eigen::Index r, Eigen::Index c) { return cells(r, c) && 2 * c >= map.grid.columns; },
      [&](const Field& field, Eigen::Index r, Eigen::Index c) {
        return static_cast<double>(field(r, c)) - static_cast<double>(field(r, map.grid.mirrored(c)));
      },
      2.0);
}

}  // namespace canewise
