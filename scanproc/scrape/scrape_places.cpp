#include "scanproc/scrape/scrape_places.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "scanproc/core/budget.h"
#include "scanproc/core/statistics.h"

namespace canewise {

PlaceMaker::PlaceMaker(const ThicknessMap& map, const Assessment& assessment, const ScrapeField& field, double floor_mm)
    : map_(map), assessment_(assessment), field_(field), floor_mm_(floor_mm) {}

std::vector<double> PlaceMaker::stations(double length_mm) const {
  std::vector<double> ends{0.0};
  for (std::size_t band = 0; band + 1 < ZoneLimits::t.size(); ++band) {
    const double from = ZoneLimits::t.at(band) * assessment_.zones.vamp_length_mm,
                 to = ZoneLimits::t.at(band + 1) * assessment_.zones.vamp_length_mm;
    const int pieces = std::max(1, static_cast<int>(std::lround((to - from) / length_mm)));
    for (int k = 1; k <= pieces; ++k) ends.push_back(from + (to - from) * k / pieces);
  }
  return ends;
}

std::optional<Place> PlaceMaker::lane(const Lane& lane) const {
  Place place;
  place.aim = lane.aim;
  place.from_mm = lane.from_mm;
  place.to_mm = lane.to_mm;
  const double least_width_mm = field_.footprint().tool_width_mm;
  for (const Side side : lane.sides) {
    if (!add_part(place, side, field_.lane_polygon({side, lane.across, lane.from_mm, lane.to_mm}, least_width_mm)))
      return std::nullopt;
  }
  if (!measure(place)) return std::nullopt;
  place.across = lane.across;
  return place;
}

std::optional<Place> PlaceMaker::stretch(Side side, const std::vector<Station>& stations, double behind_mm) const {
  Place place;
  place.from_mm = stations.front().x_mm;
  place.to_mm = stations.back().x_mm;
  place.share_at_tip = field_.share_at_tip(behind_mm);
  const double least_width_mm = field_.footprint().tool_width_mm;
  if (!add_part(place, side, field_.polygon(side, stations, behind_mm, least_width_mm)) || !measure(place))
    return std::nullopt;
  return place;
}

bool PlaceMaker::add_part(Place& place, Side side, std::vector<PlanPoint> polygon) const {
  constexpr double least_mm2 = 1.0;
  if (static_cast<double>(field_.cells_in(polygon).size()) * square(map_.grid.cell_mm) < least_mm2) return false;
  Place::Part part{side, std::move(polygon), {}};
  const CutShare cut = expected_cut(map_.grid, part.polygon, field_.footprint());
  for (std::size_t k = 0; k < cut.cells.size(); ++k) {
    const Eigen::Index cell = cut.cells[k];
    if (assessment_.zones.label.data()[cell] < 0 || std::isnan(map_.thickness_mm.data()[cell])) continue;
    part.cut.cells.push_back(cell);
    part.cut.share.push_back(cut.share[k]);
  }
  place.parts.push_back(std::move(part));
  return true;
}

/// What a millimetre of depth changes, by every cell's share of it.
void PlaceMaker::count_cut(Place& place, const Place::Part& part, std::array<double, 3>& across) const {
  const Grid& grid = map_.grid;
  for (std::size_t k = 0; k < part.cut.cells.size(); ++k) {
    const Eigen::Index r = part.cut.cells[k] % grid.rows, c = part.cut.cells[k] / grid.rows;
    const double share = static_cast<double>(part.cut.share[k]);
    const auto label = static_cast<std::size_t>(static_cast<unsigned char>(assessment_.zones.label(r, c)));
    // A cut whose soft border runs over the centreline counts there for the other side.
    const Side side = 2 * c < grid.columns ? Side::left : Side::right;
    const double sign = side == Side::right ? 1.0 : -1.0;
    across.at(label % 3) += share;
    place.area_mm2 += share * square(grid.cell_mm);
    // Cells whose partner was not seen are in no zone's difference.
    if (!std::isnan(assessment_.balance.difference_mm(r, c)))
      place.difference.at(label) -=
          sign * share / static_cast<double>(assessment_.balance.zones.at(label).difference.cells);
    const std::size_t half = half_zone_index(label, side);
    place.half_zone.at(half) -= share / static_cast<double>(assessment_.zone_thickness.at(half).thickness.cells);
  }
}

bool PlaceMaker::measure(Place& place) const {
  const Grid& grid = map_.grid;
  place.difference.fill(0.0);
  place.half_zone.fill(0.0);
  place.most_mm = std::numeric_limits<double>::infinity();
  place.surplus_mm = place.aim == StepAim::softer ? 0.0 : std::numeric_limits<double>::infinity();
  std::array<double, 3> across{};
  double thickness = 0.0;
  std::size_t all = 0;
  for (const Place::Part& part : place.parts) {
    count_cut(place, part, across);
    CellMask mask = CellMask::Constant(grid.rows, grid.columns, false);
    const double sign = part.side == Side::right ? 1.0 : -1.0;
    double surplus = 0.0, known = 0.0;
    std::array<bool, 12> zones{};
    for (const Eigen::Index cell : field_.cells_in(part.polygon)) {
      const Eigen::Index r = cell % grid.rows, c = cell / grid.rows;
      mask(r, c) = true;
      mask(r, grid.mirrored(c)) = true;
      const double h = map_.thickness_mm(r, c);
      thickness += h;
      ++all;
      place.most_mm = std::min(place.most_mm, h - floor_mm_);
      zones.at(static_cast<std::size_t>(static_cast<unsigned char>(assessment_.zones.label(r, c)))) = true;
      const double too_thick = place.aim == StepAim::target
                                   ? static_cast<double>(assessment_.target->deviation_mm(r, c))
                                   : sign * static_cast<double>(assessment_.balance.difference_mm(r, c));
      if (std::isnan(too_thick)) continue;
      surplus += too_thick;
      known += 1.0;
    }
    for (const AlongBand band : kAlongBands) {
      const auto first = 3 * static_cast<std::size_t>(band);
      if ((zones.at(first) || zones.at(first + 1) || zones.at(first + 2)) &&
          std::find(place.along.begin(), place.along.end(), band) == place.along.end())
        place.along.push_back(band);
    }
    if (place.aim != StepAim::softer)
      place.surplus_mm = std::min(place.surplus_mm, known > 0.0 ? surplus / known : 0.0);
    if (place.aim != StepAim::target) {
      const double u95 = kCoverage95 * difference_over(map_, mask).u_mm;
      if (std::isnan(u95)) return false;  // Nothing on the other side to compare with.
      place.u95_mm = std::max(u95, place.u95_mm);
      continue;
    }
    for (const ZoneDeviation& zone : assessment_.target->zones) {
      const auto label = static_cast<std::size_t>(ZoneMap::label_of(zone.zone.along, zone.zone.across));
      if (zone.zone.side == part.side && zones.at(label))
        place.u95_mm = std::max(place.u95_mm, kCoverage95 * zone.deviation.u_mm);
    }
  }
  place.across = static_cast<AcrossBand>(std::max_element(across.begin(), across.end()) - across.begin());
  place.thickness_mm = thickness / static_cast<double>(all);
  return place.area_mm2 > 0.0;
}

}  // namespace canewise
