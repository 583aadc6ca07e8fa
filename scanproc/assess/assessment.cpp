#include "scanproc/assess/assessment.h"

#include <algorithm>

#include "scanproc/assess/target_file.h"

namespace canewise {

Assessment assess(const ThicknessMap& map, const Aligned& aligned, const Instrument& instrument, const Target* chosen,
                  const std::string& rig) {
  Assessment assessment;
  assessment.cut = measure_cut(map, aligned, instrument);
  assessment.zones =
      map_zones(map.grid, aligned.outline, assessment.cut.vamp_length_mm.value, assessment.cut.vamp_length_mm.u);
  for (const AlongBand along : kAlongBands) {
    for (const AcrossBand across : kAcrossBands) {
      for (const Side side : {Side::left, Side::right}) {
        const Zone zone{along, across, side};
        assessment.zone_thickness.push_back({zone, zone_thickness(map, assessment.zones, zone)});
      }
    }
  }
  assessment.balance = assess_balance(map, assessment.zones);
  const Target* target = chosen;
  if (target == nullptr) {
    target = nearest_builtin(map, assessment.zones, aligned.outline, assessment.cut, instrument.name);
  }
  if (target != nullptr) {
    assessment.target = compare_with_target(map, assessment.zones, aligned.outline, assessment.cut, *target, rig);
    assessment.target->chosen_by_user = chosen != nullptr;
  }
  assessment.faults =
      find_faults(map, aligned.outline, assessment.zones, assessment.target ? &*assessment.target : nullptr);
  return assessment;
}

const Fault* fault_of(const Assessment& assessment, const ZoneBalance& zone) {
  const Side thicker = zone.difference.mean_mm > 0.0 ? Side::right : Side::left;
  const auto label = ZoneMap::label_of(zone.along, zone.across);
  const Fault* found = nullptr;
  std::ptrdiff_t most = 0;
  for (const Fault& fault : assessment.faults) {
    if (fault.thicker != thicker) continue;
    const auto cells = std::count_if(fault.cell_indices.begin(), fault.cell_indices.end(),
                                     [&](Eigen::Index cell) { return assessment.zones.label.data()[cell] == label; });
    if (cells <= most) continue;
    most = cells;
    found = &fault;
  }
  return found;
}

}  // namespace canewise
