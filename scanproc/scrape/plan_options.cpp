#include "scanproc/scrape/plan_options.h"

#include <string_view>

#include "scanproc/core/error.h"
#include "scanproc/mechanics/player.h"
#include "scanproc/words/decimals.h"

namespace canewise {

std::optional<PlanAim> aim_from(const std::string& words) {
  if (words == "balance") return PlanAim{};
  if (words == "target") return PlanAim{true, std::nullopt};
  const auto halves = halves_from(words);
  if (!halves || *halves == 0.0) return std::nullopt;
  return PlanAim{false, halves};
}

void validate(const PlanOptions& options) {
  const auto within = [](std::string_view option, double value, double least, double most) {
    if (value >= least && value <= most) return;
    throw UsageError({"plan.option_out_of_range",
                      {{"option", word(option)},
                       {"least", number(least)},
                       {"most", number(most)},
                       {"got", number(value, decimals_of(value))}}});
  };
  within("tip margin", options.tip_margin_mm, 0.0, 5.0);
  within("floor", options.floor_tip_mm, 0.0, 1.0);
  within("floor in tolerances", options.floor_in_tolerances, 0.0, 100.0);
  within("depth", options.most_depth_um, 1.0, 1000.0);
  within("steps", options.most_steps, 1.0, 50.0);
}

}  // namespace canewise
