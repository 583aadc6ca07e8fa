#pragma once

#include <vector>

#include "scanproc/assess/assessment.h"
#include "scanproc/assess/zones.h"
#include "scanproc/core/budget.h"
#include "scanproc/words/message.h"

namespace canewise {

/// An uncertainty budget as people read it: one line a source, in micrometres.
struct BudgetTable {
  Message quantity;
  std::vector<Contribution> lines;  ///< Sensitivity 1; standard uncertainties in um.
  Combined combined;                ///< In um.
};

/// Groups a zone mean's effects by source and adds the local noise. `common` as in the map that the mean was taken
/// from. No line has few degrees of freedom: what comes from few readings (seating by reversal, strips, touch, a slow
/// error read from a little plate) was widened for them where it was found ([JCGM101], 6.4.9; [GUM], G.3), so that all
/// verdicts have it, not this table alone.
[[nodiscard]] BudgetTable budget_of(Message quantity, const ZoneMean& mean, const std::vector<CommonEffect>& common);

/// The four budgets that a result keeps: thickness of tip and heart, differences of the rails at the tip and in the
/// middle. `common` as above.
[[nodiscard]] std::vector<BudgetTable> budgets_of(const Assessment& assessment,
                                                  const std::vector<CommonEffect>& common);

/// Standard uncertainty of how much a mean changes from one scan of a reed to another by the same rig: what the rig and
/// the reed's own table do alike in both is left out, but for a third of the table's form, which may have changed.
[[nodiscard]] double u_of_change_mm(const ZoneMean& one, const std::vector<CommonEffect>& common_of_one,
                                    const ZoneMean& other, const std::vector<CommonEffect>& common_of_other);

}  // namespace canewise
