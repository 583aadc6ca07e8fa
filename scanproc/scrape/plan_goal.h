#pragma once

#include <array>
#include <vector>

#include "scanproc/scrape/least_cane.h"
#include "scanproc/scrape/plan_inputs.h"
#include "scanproc/scrape/plan_options.h"
#include "scanproc/scrape/plan_words.h"
#include "scanproc/scrape/steered_bending.h"

namespace canewise {

/// What is off, what of it the plan acts upon, and where it is to end. Zones are numbered by ZoneMap::label.
struct PlanGoal {
  PlanAim aim;  ///< As far as it can be planned.
  std::array<double, 12> difference_mm{}, area_mm2{};
  std::array<bool, 12> zone_acts{};    ///< Left-right difference of thickness.
  std::vector<bool> fault_acts;        ///< Of Assessment::faults: those that the plan levels.
  std::array<bool, 12> target_acts{};  ///< Both sides are surely thicker than the target.
  std::array<bool, kSteeredImbalances> imbalance_acts{};
  SteeredValues by_cane{};            ///< What the cane adds to the shape's figures, as far as the rolling test tells.
  double cane_right_over_left = 0.0;  ///< What shape and rolling test together say of the cane.
  double softest_n_per_mm = 0.0;      ///< 0 if bending is not known.
  CaneGoal cane;

  [[nodiscard]] bool bending_acts() const { return imbalance_acts[0] || imbalance_acts[1]; }
  [[nodiscard]] bool softer() const { return aim.halves && *aim.halves < 0.0; }
};

/// A goal, and what is known to be off before any step is looked for.
struct FoundGoal {
  PlanGoal goal;
  PlanFindings findings;
};

/// `bending` linearised at the reed as it is.
[[nodiscard]] FoundGoal plan_goal(const PlanInputs& inputs, const SteeredBending& bending, const PlanOptions& options);

/// Whether balance may take cane from this side: only from one that the player found less free, if the player tried.
[[nodiscard]] bool may_lose(Side side, RollingTest test);
/// The side that has more, of a value that is right minus left.
[[nodiscard]] inline Side side_of(double signed_value) { return signed_value > 0.0 ? Side::right : Side::left; }
/// Nobody scrapes the heart.
[[nodiscard]] bool is_heart(std::size_t zone);

/// How much of a tolerance a plan leaves: less would cost cane for nothing, more would leave no room for a hand's slip.
inline constexpr double kLeftOfTolerance = 0.35;

}  // namespace canewise
