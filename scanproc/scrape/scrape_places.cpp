#include "scanproc/scrape/scrape_places.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "scanproc/core/budget.h"
#include "scanproc/core/statistics.h"

namespace canewise {

PlaceMaker::PlaceMaker(const ThicknessMap& map, const Outline& outline, const Assessment& assessment,
                       double tip_margin_mm, double floor_mm)
    : map_(map), assessment_(assessment), field_(map, outline, assessment, tip_margin_mm), floor_mm_(floor_mm) {}

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

std::optional<Place> PlaceMaker::place(StepAim aim, const std::vector<Side>& sides, AcrossBand across, double from_mm,
                                       double to_mm) const {
  Place place;
  place.aim = aim;
  place.across = across;
  place.from_mm = from_mm;
  place.to_mm = to_mm;
  const double cell_mm2 = square(map_.grid.cell_mm);
  for (const Side side : sides) {
    Place::Part part{side, field_.lane_polygon(side, across, from_mm, to_mm), {}};
    part.cells = field_.cells_in(part.polygon);
    constexpr double least_mm2 = 1.0;
    if (static_cast<double>(part.cells.size()) * cell_mm2 < least_mm2) return std::nullopt;
    place.parts.push_back(std::move(part));
  }
  measure(place);
  if (std::isnan(place.u95_mm)) return std::nullopt;  // Nothing on the other side to compare with.
  return place;
}

void PlaceMaker::measure(Place& place) const {
  const Grid& grid = map_.grid;
  place.difference.fill(0.0);
  place.half_zone.fill(0.0);
  place.most_mm = std::numeric_limits<double>::infinity();
  place.surplus_mm = place.aim == StepAim::softer ? 0.0 : std::numeric_limits<double>::infinity();
  double thickness = 0.0;
  std::size_t all = 0;
  for (const Place::Part& part : place.parts) {
    CellMask mask = CellMask::Constant(grid.rows, grid.columns, false);
    const double sign = part.side == Side::right ? 1.0 : -1.0;
    double surplus = 0.0, known = 0.0;
    std::array<bool, 4> bands{};
    for (const Eigen::Index cell : part.cells) {
      const Eigen::Index r = cell % grid.rows, c = cell / grid.rows;
      mask(r, c) = true;
      mask(r, grid.mirrored(c)) = true;
      const double h = map_.thickness_mm(r, c);
      thickness += h;
      place.most_mm = std::min(place.most_mm, h - floor_mm_);
      const auto label = static_cast<std::size_t>(static_cast<unsigned char>(assessment_.zones.label(r, c)));
      bands.at(label / 3) = true;
      // Cells whose partner was not seen are in no zone's difference.
      const double difference = assessment_.balance.difference_mm(r, c);
      if (!std::isnan(difference)) {
        const auto& zone = assessment_.balance.zones.at(label);
        place.difference.at(label) -= sign / static_cast<double>(zone.difference.cells);
      }
      const std::size_t half = half_zone_index(label, part.side);
      place.half_zone.at(half) -= 1.0 / static_cast<double>(assessment_.zone_thickness.at(half).thickness.cells);
      const double too_thick = place.aim == StepAim::target
                                   ? static_cast<double>(assessment_.target->deviation_mm(r, c))
                                   : sign * difference;
      if (std::isnan(too_thick)) continue;
      surplus += too_thick;
      known += 1.0;
    }
    for (const AlongBand band : kAlongBands) {
      if (bands.at(static_cast<std::size_t>(band)) &&
          std::find(place.along.begin(), place.along.end(), band) == place.along.end())
        place.along.push_back(band);
    }
    all += part.cells.size();
    if (place.aim != StepAim::softer)
      place.surplus_mm = std::min(place.surplus_mm, known > 0.0 ? surplus / known : 0.0);
    if (place.aim != StepAim::target) {
      const double u95 = kCoverage95 * difference_over(map_, mask).u_mm;
      place.u95_mm = std::isnan(u95) ? u95 : std::max(u95, place.u95_mm);
      continue;
    }
    for (const ZoneDeviation& zone : assessment_.target->zones) {
      const bool reached = zone.zone.side == part.side && zone.zone.across == place.across &&
                           bands.at(static_cast<std::size_t>(zone.zone.along));
      if (reached) place.u95_mm = std::max(place.u95_mm, kCoverage95 * zone.deviation.u_mm);
    }
  }
  place.thickness_mm = thickness / static_cast<double>(all);
  place.area_mm2 = static_cast<double>(all) * square(grid.cell_mm);
}

}  // namespace canewise
