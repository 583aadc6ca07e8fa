#include "scanproc/scrape/plan_options.h"

#include <fmt/format.h>

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
  const auto within = [](const char* what, double value, double least, double most, const char* unit) {
    if (!(value >= least && value <= most))
      throw UsageError(fmt::format("{} must be {:g} to {:g}{}, got {:g}.", what, least, most, unit, value));
  };
  within("the tip margin", options.tip_margin_mm, 0.0, 5.0, " mm");
  within("the floor", options.floor_tip_mm, 0.0, 1.0, " mm");
  within("the floor", options.floor_in_tolerances, 0.0, 100.0, " tolerances");
  within("the depth of one session", options.most_depth_um, 1.0, 1000.0, " µm");
  within("the number of steps", options.most_steps, 1.0, 50.0, "");
}

}  // namespace canewise
