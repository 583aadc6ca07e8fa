#pragma once

#include <optional>

#include "scanproc/assess/assessment.h"
#include "scanproc/mechanics/player.h"
#include "scanproc/scrape/scrape_plan.h"
#include "scanproc/thickness/thickness_map.h"

namespace canewise {

struct PlanOptions {
  RollingTest rolling_test = RollingTest::not_done;
  double tip_margin_mm = 0.5;        ///< Never scraped behind the tip's edge.
  double floor_tip_mm = 0.05;        ///< No zone is taken below this, whatever the target says.
  double floor_in_tolerances = 2.0;  ///< Nor below the target by more than so many of its tolerances.
  int most_steps = 8;
  double most_depth_um = 60.0;  ///< In one session; a deeper fault is worked off in rounds, with a scan between.
};
void validate(const PlanOptions& options);

/// Geometry only: balance first, then the target if the player chose one. Removal only; never the heart, the table, the
/// bark or the last half millimetre of the tip; no step smaller than U95 of what it corrects.
[[nodiscard]] ScrapePlan plan_scrape(const ThicknessMap& map, const Outline& outline, const Assessment& assessment,
                                     const Player& player, const PlanOptions& options = {});

/// Even-odd rule; a point on the rim may fall to either side.
[[nodiscard]] bool holds(const std::vector<PlanPoint>& polygon, double x_mm, double y_mm);

}  // namespace canewise
