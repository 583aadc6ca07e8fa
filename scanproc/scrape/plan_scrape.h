#pragma once

#include "scanproc/scrape/plan_inputs.h"
#include "scanproc/scrape/plan_options.h"
#include "scanproc/scrape/scrape_plan.h"

namespace canewise {

/// Where to take cane off, by linear programming on the reed's sensitivities: left-right balance of thickness and of
/// bending first, then the aim, with the least cane. Removal only; never the heart, the table, the bark or the last
/// half millimetre of the tip; no step smaller than U95 of what it corrects; never softer than the player wants.
/// Without `bent.figures` thickness alone is levelled, and a remark says so. An aim that cannot be planned (a target
/// that nobody chose, a strength without known bending) is left out, the latter with a remark.
[[nodiscard]] ScrapePlan plan_scrape(const PlanInputs& inputs, const PlanOptions& options = {});

}  // namespace canewise
