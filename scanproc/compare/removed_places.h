#pragma once

#include <optional>
#include <vector>

#include "scanproc/compare/comparison.h"
#include "scanproc/compare/removed_cane.h"

namespace canewise {

/// What was to come off each cell.
struct PlannedCane {
  Field shown_mm;  ///< As the difference shows it: off each cell, or left over right.
  Field whole_mm;  ///< Off each cell.
};

struct Volume {
  double mm3 = 0.0, u_mm3 = 0.0;
};

/// Off the vamp. Throws NotMeasurable where none of it is seen.
[[nodiscard]] Volume volume_off_vamp(const RemovedCane& removed, const Result& before);

/// Throws NotMeasurable where cane grew: another reed, or the scans in the wrong order.
void check_that_none_grew(const RemovedCane& removed, const Result& before);

/// What came off where the plan says it should.
[[nodiscard]] std::vector<RemovedStep> removed_steps(const RemovedCane& removed, const Result& before,
                                                     const PlannedCane& planned);

/// Cane that is gone where nobody planned it: the zone that lost most.
[[nodiscard]] std::optional<LostElsewhere> lost_elsewhere(const RemovedCane& removed, const Result& before);

/// What the strokes took off where they were made; none if too little of that is seen. Only what this session alone
/// shows is filled in.
[[nodiscard]] std::optional<LearnedHand> hand_seen(const RemovedCane& removed, const Result& before,
                                                   const PlannedCane& planned, const std::vector<double>& strokes_done);

}  // namespace canewise
