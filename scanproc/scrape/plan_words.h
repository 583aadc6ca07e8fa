#pragma once

#include "scanproc/scrape/plan_scrape.h"

namespace canewise {

/// Fills in the plan's sentence and remarks, whether the rolling test is still to be made, and the status where there
/// are no steps. `deep`: some step was cut to one session's depth.
void put_in_words(ScrapePlan& plan, const Assessment& assessment, const Outline& outline, const PlanOptions& options,
                  bool deep);

}  // namespace canewise
