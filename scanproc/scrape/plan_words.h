#pragma once

#include <array>
#include <optional>
#include <vector>

#include "scanproc/assess/faults.h"
#include "scanproc/scrape/plan_inputs.h"
#include "scanproc/scrape/plan_options.h"
#include "scanproc/scrape/scrape_plan.h"

namespace canewise {

/// What planning found, besides the steps.
struct PlanFindings {
  bool zones_off = false;         ///< Some zone's left-right difference is surely outside.
  bool bending_off = false;       ///< An imbalance of bending is outside, or the rolling test says so.
  bool deep = false;              ///< Some place for balance goes as deep as one session may; more would be wanted.
  bool aim_is_deep = false;       ///< The same of a place that leads to the aim.
  bool more_at_tip = false;       ///< The steps leave a zone at the tip out of tolerance that they work on.
  bool test_contradicts = false;  ///< The shape says one thing, the rolling test another.
  /// The mouthpiece's rails differ, and that explains the test: imbalance at the tip by the facing and by the reed's
  /// shape.
  struct ByFacing {
    double facing = 0.0, shape = 0.0;
  };
  std::optional<ByFacing> facing_explains;
  bool other_side_left_out = false;     ///< Something thick lies on the side that the rolling test did not name.
  bool floor_in_the_way = false;        ///< It cannot be balanced without becoming too thin in a place.
  bool softness_in_the_way = false;     ///< Nor without becoming softer than wanted.
  bool aim_cut_short = false;           ///< The aim was not reached, so that the reed stays as hard as wanted.
  std::optional<Fault> too_thin;        ///< Whose thinner side is in the way.
  std::vector<Fault> levelled;          ///< What the steps for balance level.
  std::optional<double> bark_crown_mm;  ///< So far to the right lies the bark's crown, and a zone is off because of it.
  std::array<bool, 12> off_by_bark{};   ///< Which; numbered by ZoneMap::label.
  bool aim_unknown = false;             ///< Softer was wanted, but nothing is known of the bending.
  double wanted_halves = 0.0;           ///< Of the aim; above nought is harder.
};

/// The plan with its status, sentence, remarks and alternatives.
[[nodiscard]] ScrapePlan in_words(ScrapePlan plan, const PlanFindings& findings, const PlanInputs& inputs,
                                  const PlanOptions& options);

}  // namespace canewise
