#include "scanproc/assess/budget_table.h"

#include <cmath>
#include <stdexcept>
#include <utility>

#include "scanproc/core/statistics.h"
#include "scanproc/core/units.h"

namespace canewise {

BudgetTable budget_of(Message quantity, const ZoneMean& mean, const std::vector<CommonEffect>& common) {
  BudgetTable table;
  table.quantity = std::move(quantity);
  table.lines.push_back({Message{"budget.noise"}, um_from_mm(mean.u_local_mm)});
  for (const EffectSource source : kEffectSources) {
    std::vector<double> shifts;
    for (std::size_t k = 0; k < common.size() && k < mean.effects_mm.size(); ++k) {
      if (common[k].source == source) shifts.push_back(um_from_mm(mean.effects_mm[k]));
    }
    if (!shifts.empty()) table.lines.push_back({message_of(source), root_sum_of_squares(shifts)});
  }
  if (mean.u_place_mm > 0.0) table.lines.push_back({Message{"budget.vamp_end"}, um_from_mm(mean.u_place_mm)});
  table.combined = combine(table.lines);
  return table;
}

std::vector<BudgetTable> budgets_of(const Assessment& assessment, const std::vector<CommonEffect>& common) {
  const auto thickness_of = [&](AlongBand along, AcrossBand across) -> const ZoneMean& {
    for (const auto& zone : assessment.zone_thickness) {
      if (zone.zone.along == along && zone.zone.across == across) return zone.thickness;
    }
    throw std::logic_error("every zone was measured");
  };
  const auto difference_of = [&](AlongBand along, AcrossBand across) -> const ZoneMean& {
    return assessment.balance.zones.at(static_cast<std::size_t>(ZoneMap::label_of(along, across))).difference;
  };
  return {budget_of({"quantity.tip_thickness"}, thickness_of(AlongBand::tip, AcrossBand::centre), common),
          budget_of({"quantity.heart_thickness"}, thickness_of(AlongBand::middle, AcrossBand::centre), common),
          budget_of({"quantity.rails_at_tip"}, difference_of(AlongBand::tip, AcrossBand::rail), common),
          budget_of({"quantity.rails_in_middle"}, difference_of(AlongBand::middle, AcrossBand::rail), common)};
}

double u_of_change_mm(const ZoneMean& one, const std::vector<CommonEffect>& common_of_one, const ZoneMean& other,
                      const std::vector<CommonEffect>& common_of_other) {
  constexpr double change = 1.0 / 3.0;
  double variance = 0.0;
  for (const auto& [mean, common] : {std::pair{&one, &common_of_one}, std::pair{&other, &common_of_other}}) {
    // A result as its file holds it has none: its change would look too sure.
    if (common->size() != mean->effects_mm.size()) throw std::logic_error("a mean without its map's common effects");
    variance += square(mean->u_local_mm) + square(mean->u_place_mm);
    for (std::size_t k = 0; k < common->size(); ++k) {
      const EffectSource source = (*common)[k].source;
      if (!stays_with_rig((*common)[k]))
        variance += square((source == EffectSource::table_form ? change : 1.0) * mean->effects_mm[k]);
    }
  }
  return std::sqrt(variance);
}

}  // namespace canewise
