#pragma once

#include "scanproc/assess/conformity.h"
#include "scanproc/assess/measured.h"
#include "scanproc/assess/vamp_end.h"
#include "scanproc/datum/aligned.h"
#include "scanproc/thickness/thickness_map.h"

namespace canewise {

/// Whether the bark's corners behind the vamp were shaved.
struct Filing {
  Measured shaved_mm;  ///< Most that is missing from the corners, over lanes and stretches of both sides; >= 0.
  Verdict filed = Verdict::cannot_tell;  ///< within: filed; outside: unfiled.
};

/// Surely filed above the first, surely unfiled below the second; between them nobody can tell filing from bark that
/// grew so. Invented limits: filing takes a few tenths of a millimetre (common practice).
inline constexpr double kFiledAbove_mm = 0.06, kUnfiledBelow_mm = 0.04;

/// Holds the corners behind the vamp's end against the same reed's plain bark: in lanes from half the width to the side
/// and in stretches of 1.5 mm along, because filing may be narrow or wide, short or long. How far such means scatter
/// over the plain bark is their uncertainty. `plain_from_mm` is where plain bark begins.
[[nodiscard]] Filing find_filing(const ThicknessMap& map, const Outline& outline, const VampEnd& end,
                                 double plain_from_mm);

}  // namespace canewise
