#pragma once

#include <optional>
#include <string>
#include <vector>

#include "scanproc/assess/assessment.h"
#include "scanproc/mechanics/bend_reed.h"
#include "scanproc/mechanics/player.h"
#include "scanproc/scrape/rolling_test.h"
#include "scanproc/scrape/scrape_plan.h"
#include "scanproc/thickness/thickness_map.h"

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
  std::optional<PlanAim> aim = {};   ///< Empty: balance, and the target if the player chose one.
  double tip_margin_mm = 0.5;        ///< Never scraped behind the tip's edge.
  double floor_tip_mm = 0.05;        ///< Nothing is taken below this, whatever the target says.
  double floor_in_tolerances = 2.0;  ///< No zone below the target by more than so many of its tolerances.
  int most_steps = 8;
  double most_depth_um = 60.0;  ///< In one session; a deeper fault is worked off in rounds, with a scan between.
};
void validate(const PlanOptions& options);

/// Where to take cane off, by linear programming on the reed's sensitivities: left-right balance of thickness and of
/// bending first, then the aim, with the least cane. Removal only; never the heart, the table, the bark or the last
/// half millimetre of the tip; no step smaller than U95 of what it corrects; never softer than the player wants.
/// Without `bent.figures` thickness alone is levelled, and a remark says so. `clipped` is for advice.
[[nodiscard]] ScrapePlan plan_scrape(const ThicknessMap& map, const Outline& outline, const Assessment& assessment,
                                     const BentReed& bent, const std::vector<ClippedReed>& clipped,
                                     const Player& player, const PlanOptions& options = {});

/// Even-odd rule; a point on the rim may fall to either side.
[[nodiscard]] bool holds(const std::vector<PlanPoint>& polygon, double x_mm, double y_mm);

/// Depth that the steps take off each cell together, mm; rows x columns.
[[nodiscard]] Field removal_of(const Grid& grid, const std::vector<ScrapeStep>& steps);

}  // namespace canewise
