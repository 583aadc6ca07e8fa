#pragma once

#include <optional>
#include <string>
#include <vector>

#include "scanproc/assess/conformity.h"
#include "scanproc/pipeline/result.h"
#include "scanproc/words/message.h"

namespace canewise {

/// What came off at one planned place.
struct RemovedStep {
  Message where;
  double planned_um = 0.0;
  double removed_um = 0.0;  ///< Mean over the place; NaN where too little of it was seen.
  double u_um = 0.0;        ///< Standard uncertainty.
  /// Of the difference to the plan, which is tolerated up to a quarter of it and never less than 5 um.
  Verdict as_planned = Verdict::cannot_tell;
};

/// The zone that lost most, besides what was planned.
struct LostElsewhere {
  Zone zone;
  double removed_um = 0.0;
};

/// What this player's stroke takes off, after this session and all that was known before.
struct LearnedHand {
  double seen_um = 0.0, u_seen_rel = 0.0;  ///< In this session alone, where strokes were made.
  double depth_per_stroke_um = 0.0;
  double u_depth_per_stroke_rel = 0.0;  ///< What the next plan must expect, place to place and day to day.
  double removed_over_planned = 0.0, u_removed_over_planned = 0.0;  ///< Of this session's volumes.
  bool known_already = false;  ///< The player's hand was learned from this very scraping before: nothing is added.
};

/// Cane that went between two scans of one reed. Fields lie on the grid of the scan before.
struct Comparison {
  std::string scraping;  ///< Its name, see learned_hand.h.
  Grid grid;
  Field removed_mm;  ///< NaN where either scan saw nothing. With `left_right_only`: this side's loss over the other's.
  Field u_mm;
  bool left_right_only = false;  ///< Of two states of moisture only that can be told.
  double clipped_mm = 0.0, u_clipped_mm = 0.0;
  double swelling_rel = 0.0, u_swelling_rel = 0.0;  ///< Thickness after over before, less 1, of untouched cane.
  double volume_mm3 = 0.0, u_volume_mm3 = 0.0;      ///< Off the vamp; not with `left_right_only`.
  std::vector<RemovedStep> steps;
  std::optional<LostElsewhere> elsewhere;  ///< Only if it surely lost something.
  std::optional<LearnedHand> hand;
  Messages sentence;  ///< What came off and whether it was as planned.
  Messages left;      ///< What is left to do: the plan of the scan after.
  Messages remarks;
};

struct CompareOptions {
  Player player;  ///< Whose hand it was, as known by now.
  /// Strokes made, as a share of those that the plan told: for each of its steps, or one for all; empty: all were made.
  std::vector<double> strokes_done = {};
};

/// Registered without any scraped cane: z from both datums, x from the butt, y and turn from the sides. What differs
/// between two layings-down (seating, curl of the tip, swelling, rest of the frame) is fitted to the untouched cane
/// with its prior spread, robustly (least squares with Huber's weights, [Huber2009]), and its rest is in U. Throws
/// NotMeasurable if the two are not one reed, or in the wrong order; UsageError if `strokes_done` does not fit the
/// plan.
[[nodiscard]] Comparison compare(const Result& before, const Result& after, const CompareOptions& options = {});

}  // namespace canewise
