#pragma once

#include "scanproc/assess/conformity.h"
#include "scanproc/assess/features.h"
#include "scanproc/datum/aligned.h"
#include "scanproc/thickness/thickness_map.h"

namespace canewise {

/// Tolerance on each of the table's three forms, an invented default.
inline constexpr double kTableTolerance_um = 20.0;

/// How the table departs from a plane. Micrometres; a positive bow is a gap at mid-length under a reed that lies on its
/// ends, a positive cup a gap along the middle, a positive twist a rise at the right butt corner and the left tip
/// corner.
struct TableForm {
  Measured bow_um, cup_um, twist_um;
  double tolerance_um = kTableTolerance_um;
  Verdict flat = Verdict::cannot_tell;  ///< 'within': all three surely are; 'outside': one surely is not.
  double rest_um = 0.0;                 ///< Root mean square of what the three forms leave.
  [[nodiscard]] bool known() const { return bow_um.value == bow_um.value; }
};

/// Least squares of plane, bow, cup and twist to the table's heights behind the place where the reed is 0.5 mm thick
/// (the tip curls by itself). The forms are those of `Priors`, so that a plate scan's budget can be held against them.
/// `map` must have table heights. NaN and 'cannot tell' where fewer than 100 cells show the table. Their noise is taken
/// at its sum over all lags, as for a zone's mean.
[[nodiscard]] TableForm assess_table(const ThicknessMap& map, const Outline& outline, double tolerance_um);

}  // namespace canewise
