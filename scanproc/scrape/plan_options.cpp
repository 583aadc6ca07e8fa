#include "scanproc/scrape/plan_options.h"

#include "scanproc/core/error.h"
#include "scanproc/mechanics/player.h"

namespace canewise {

std::optional<PlanAim> aim_from(const std::string& words) {
  if (words == "balance") return PlanAim{};
  if (words == "target") return PlanAim{true, std::nullopt};
  const auto halves = halves_from(words);
  if (!halves || *halves == 0.0) return std::nullopt;
  return PlanAim{false, halves};
}

void validate(const PlanOptions& options) {
  constexpr int least = 1, most = 50;
  if (options.most_steps >= least && options.most_steps <= most) return;
  throw UsageError({"plan.steps_out_of_range",
                    {{"least", number(least)}, {"most", number(most)}, {"got", number(options.most_steps)}}});
}

}  // namespace canewise
