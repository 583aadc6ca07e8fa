#include "scanproc/assess/balance.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "scanproc/core/budget.h"
#include "scanproc/core/units.h"

namespace canewise {
namespace {

void difference_fields(const ThicknessMap& map, Balance& balance) {
  balance.difference_mm = difference_of_sides(map);
  Field variance = map.u_local_mm.square() + map.u_local_mm.rowwise().reverse().square();
  for (const auto& effect : map.common) {
    variance += (effect.shift_mm - effect.shift_mm.rowwise().reverse()).square();
  }
  balance.u_difference_mm = variance.sqrt();
}

void describe_cells(const ThicknessMap& map, const ZoneMap& zones, const Balance& balance, ZoneBalance& zone) {
  const auto label = ZoneMap::label_of(zone.along, zone.across);
  const double area = map.grid.cell_mm * map.grid.cell_mm;
  double volume = 0.0;
  for (Eigen::Index c = map.grid.columns / 2; c < map.grid.columns; ++c) {
    for (Eigen::Index r = 0; r < map.grid.rows; ++r) {
      if (zones.label(r, c) != label) continue;
      const double d = balance.difference_mm(r, c);
      if (std::isnan(d)) continue;
      volume += d * area;
      if (std::abs(d) > kCoverage95 * static_cast<double>(balance.u_difference_mm(r, c)))
        zone.area_beyond_u_mm2 += area;
      if (std::abs(d) > std::abs(zone.worst_mm)) {
        zone.worst_mm = d;
        zone.worst_x_mm = map.grid.x_mm(r);
        zone.worst_y_mm = d > 0 ? map.grid.y_mm(c) : -map.grid.y_mm(c);
      }
    }
  }
  zone.volume_mm3 = volume;
  zone.u_volume_mm3 = zone.difference.u_mm * area * static_cast<double>(zone.difference.cells);
}

}  // namespace

Field difference_of_sides(const ThicknessMap& map) {
  const Field mirrored = map.thickness_mm.rowwise().reverse();
  Field difference = map.thickness_mm - mirrored;
  difference.leftCols(map.grid.columns / 2) *= -1.0F;
  return difference;
}

bool is_suspect(const ZoneBalance& zone) {
  constexpr double nearly = 0.8;
  return zone.verdict == Verdict::cannot_tell && can_prove_within(zone.difference.u_mm, zone.tolerance_mm) &&
         std::abs(zone.difference.mean_mm) > std::max(nearly * zone.tolerance_mm, kCoverage95 * zone.difference.u_mm);
}

double tolerance_mm(const Balance& balance, AlongBand band) {
  return balance.zones.at(static_cast<std::size_t>(ZoneMap::label_of(band, AcrossBand::centre))).tolerance_mm;
}

double tolerance_at_mm(const Balance& balance, double x_mm, double vamp_length_mm) {
  constexpr double half_change_mm = 1.0;
  double tolerance = tolerance_mm(balance, kAlongBands.front());
  for (std::size_t k = 1; k < kAlongBands.size(); ++k) {
    const double border = ZoneLimits::t.at(k) * vamp_length_mm;
    const double share = std::clamp(0.5 + 0.5 * (x_mm - border) / half_change_mm, 0.0, 1.0);
    tolerance += share * (tolerance_mm(balance, kAlongBands.at(k)) - tolerance_mm(balance, kAlongBands.at(k - 1)));
  }
  return tolerance;
}

Verdict overall(const std::vector<Verdict>& verdicts) {
  const auto is = [](Verdict wanted) { return [wanted](Verdict v) { return v == wanted; }; };
  if (std::any_of(verdicts.begin(), verdicts.end(), is(Verdict::outside))) return Verdict::outside;
  if (!verdicts.empty() && std::all_of(verdicts.begin(), verdicts.end(), is(Verdict::within))) return Verdict::within;
  return Verdict::cannot_tell;
}

Balance assess_balance(const ThicknessMap& map, const ZoneMap& zones, const ReedTolerances& tolerances) {
  Balance balance;
  difference_fields(map, balance);
  std::vector<Verdict> verdicts;
  for (const AlongBand along : kAlongBands) {
    for (const AcrossBand across : kAcrossBands) {
      ZoneBalance zone;
      zone.along = along;
      zone.across = across;
      zone.difference = zone_difference(map, zones, along, across);
      zone.tolerance_mm = mm_from_um(tolerances.left_right_um.at(static_cast<std::size_t>(along)));
      zone.verdict = judge_sides(zone.difference.mean_mm, zone.difference.u_mm, zone.tolerance_mm);
      if (zone.difference.covered < kFewestCovered) zone.verdict = Verdict::cannot_tell;
      zone.smallest_visible_mm = kVisible * zone.difference.u_mm;
      zone.surely_outside_mm = surely_outside(zone.difference.u_mm, zone.tolerance_mm);
      describe_cells(map, zones, balance, zone);
      verdicts.push_back(zone.verdict);
      balance.zones.push_back(std::move(zone));
    }
  }
  balance.verdict = overall(verdicts);
  return balance;
}

}  // namespace canewise
