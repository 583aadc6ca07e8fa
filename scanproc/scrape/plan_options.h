#pragma once

#include <optional>
#include <string>

#include "scanproc/scrape/rolling_test.h"

namespace canewise {

/// What the player wants of the plan.
struct PlanAim {
  bool target = false;           ///< Towards the target that the player chose, after balance.
  std::optional<double> halves;  ///< So many half strengths harder than now; negative is softer.
};
/// 'balance', 'target' or 'a quarter softer' and the like; empty if it says nothing of the kind.
[[nodiscard]] std::optional<PlanAim> aim_from(const std::string& words);

struct PlanOptions {
  RollingTest rolling_test = RollingTest::not_done;
  bool seating_in_doubt = false;    ///< Several layings disagree: nothing is planned before that is mended.
  std::optional<PlanAim> aim = {};  ///< Empty: balance, and the target if the player chose one.
  int most_steps = 8;
};
/// Throws UsageError for what no plan can be made with.
void validate(const PlanOptions& options);

}  // namespace canewise
