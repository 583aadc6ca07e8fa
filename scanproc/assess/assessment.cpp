#include "scanproc/assess/assessment.h"

#include <algorithm>

#include "scanproc/assess/target_file.h"

namespace canewise {

Assessment assess(const AssessInputs& inputs) {
  const ThicknessMap& map = inputs.map;
  const Aligned& aligned = inputs.aligned;
  Assessment assessment;
  assessment.cut = measure_cut(map, aligned, inputs.instrument);
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
  assessment.balance = assess_balance(map, assessment.zones, inputs.instrument.tolerances);
  const ZonedMap zoned{
      .map = map,
      .zones = assessment.zones,
      .outline = aligned.outline,
      .uncut = uncut_cells(map, UncutSurface(map, assessment.cut.bark, assessment.zones.vamp_length_mm))};
  const Target* target = inputs.chosen;
  if (target == nullptr) target = nearest_builtin(zoned, assessment.cut, inputs.instrument.name);
  if (target != nullptr) {
    assessment.target = compare_with_target(zoned, assessment.cut, *target, inputs.rig);
    assessment.target->chosen_by_user = inputs.chosen != nullptr;
  }
  assessment.faults = find_faults(zoned, assessment.balance, assessment.target ? &*assessment.target : nullptr);
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
