#pragma once

#include <array>
#include <string_view>
#include <vector>

#include "scanproc/assess/zones.h"
#include "scanproc/mechanics/bending_figures.h"
#include "scanproc/scrape/rolling_test.h"
#include "scanproc/words/message.h"

namespace canewise {

struct PlanPoint {
  double x_mm = 0.0, y_mm = 0.0;
};

enum class StepAim { balance, target, softer };

/// One place to take cane off.
struct ScrapeStep {
  StepAim aim = StepAim::balance;
  Side side = Side::left;
  AcrossBand across = AcrossBand::rail;
  std::vector<AlongBand> along;       ///< Bands that it reaches into, from the tip.
  double from_mm = 0.0, to_mm = 0.0;  ///< Along the reed, from the tip.
  /// Where the tool cuts: reed frame, closed implicitly, as wide as the tool even where that hangs over the rim.
  std::vector<PlanPoint> polygon;
  double depth_um = 0.0;
  double u95_um = 0.0;  ///< Of the difference that it corrects.
  int strokes = 0;      ///< About so many light strokes of this player's hand, over the whole place.
  double volume_mm3 = 0.0;
  bool for_bending = false;  ///< The map finds the cane even here: it comes off because the reed bends unevenly.
  Message where;             ///< 'right rail, 12 to 19 mm from the tip'
  Message stop;              ///< When to stop and test.
};

enum class PlanStatus {
  nothing_to_do,  ///< Everything that the scan can tell is in order.
  cannot_tell,    ///< Nothing is surely off, but not everything is surely in order.
  steps,          ///< Take cane off as told.
  cannot_save,    ///< Balancing would go below the floor: too soft.
  veto,           ///< The rolling test contradicts the map.
};
[[nodiscard]] std::string_view name_of(PlanStatus status);

struct PlannedZone {
  AlongBand along;
  AcrossBand across;
  double before_um = 0.0, after_um = 0.0;  ///< Right minus left, of the zone's mean.
};

/// A figure of the reed's bending now, and as computed anew after the steps. By shape: the cane's own left-right
/// difference is not in it.
struct PlannedFigure {
  BendingFigure figure = BendingFigure::stiffness_lip;
  double before = 0.0, after = 0.0;
};

struct ScrapePlan {
  PlanStatus status = PlanStatus::cannot_tell;
  Messages sentence;  ///< What to do, in short.
  bool needs_rolling_test = false;
  std::vector<ScrapeStep> steps;  ///< In the order of work.
  std::vector<PlannedZone> prediction;
  std::vector<PlannedFigure> figures;  ///< Empty where nothing is known of the bending.
  double softest_n_per_mm = 0.0;       ///< Stiffness under the lip is never planned below this; 0 if not known.
  double cane_right_over_left = 0.0;   ///< What shape and rolling test together say of the cane: 0.05 is 5 % stiffer.
  Messages remarks;                    ///< What the player should know beside the steps, each by itself.
  Messages alternatives;               ///< What else to do with a reed that cannot be saved, each by itself.
};

/// The cautions that stand wherever a person is told to scrape.
inline constexpr std::array<MessageId, 6> kCautions{"caution.blades", "caution.dust",    "caution.mould",
                                                    "caution.grit",   "caution.the_tip", "caution.ask"};

}  // namespace canewise
