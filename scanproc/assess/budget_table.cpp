#include "scanproc/assess/budget_table.h"

#include "scanproc/core/units.h"

namespace canewise {

BudgetTable budget_of(const std::string& quantity, const ZoneMean& mean, const std::vector<CommonEffect>& common) {
  BudgetTable table;
  table.quantity = quantity;
  table.lines.push_back({"noise and texture of this scan", um_from_mm(mean.u_local_mm)});
  for (const Source source : kSources) {
    std::vector<double> shifts;
    for (std::size_t k = 0; k < common.size() && k < mean.effects_mm.size(); ++k) {
      if (common[k].source == source) shifts.push_back(um_from_mm(mean.effects_mm[k]));
    }
    if (!shifts.empty()) table.lines.push_back({std::string(name_of(source)), root_sum_of_squares(shifts)});
  }
  if (mean.u_place_mm > 0.0) table.lines.push_back({"where the vamp ends", um_from_mm(mean.u_place_mm)});
  table.combined = combine(table.lines);
  return table;
}

}  // namespace canewise
