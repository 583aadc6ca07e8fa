#pragma once

#include <optional>
#include <vector>

#include "scanproc/pipeline/result.h"
#include "scanproc/rig/rig.h"
#include "scanproc/thickness/thickness_map.h"
#include "scanproc/words/message.h"

namespace canewise {

/// One component of a rig's budget.
struct BudgetLine {
  Message name;
  std::optional<EffectSource> source;  ///< Nothing: the noise, and where the vamp ends.
  Message value;                       ///< As it stands in the rig file, with its unit; may be empty.
  Message obtained;                    ///< How it is known.
  bool assumed = false;                ///< No step found it.
  /// Standard uncertainty that it causes, um, and its share of the variance: on the left-right differences at the tip
  /// and at the rails of the middle band, and on the heart's thickness.
  double tip_um = 0.0, rails_um = 0.0, heart_um = 0.0;
  double tip_share = 0.0, rails_share = 0.0, heart_share = 0.0;
};

struct RigBudget {
  std::vector<BudgetLine> lines;                        ///< Largest share at the rails first.
  double tip_um = 0.0, rails_um = 0.0, heart_um = 0.0;  ///< Combined.
  SmallestDifference smallest;
  double tip_tolerance_um = 0.0, rails_tolerance_um = 0.0;
  Messages sentence;  ///< 'Smallest left-right difference that this rig shows: ...'
  Messages advice;    ///< What would make it better, most worthwhile first.
};

/// From the measurement of any reed with this rig: its zones' own budgets, the rig's parts named one by one. The
/// scale's line is split by `rig.scale_parts`.
[[nodiscard]] RigBudget rig_budget(const Result& result);

}  // namespace canewise
