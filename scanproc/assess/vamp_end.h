#pragma once

#include <cstdint>
#include <string_view>

#include "scanproc/assess/measured.h"
#include "scanproc/datum/aligned.h"
#include "scanproc/thickness/thickness_map.h"

namespace canewise {

/// How the cut climbs into the bark. A difference in kind, never a fault.
enum class ShoulderKind : std::uint8_t { gentle, steep, stepped, unclear };
[[nodiscard]] std::string_view name_of(ShoulderKind kind);

/// Where the vamp ends: where the cut meets the bark, whatever the form of the climb.
struct VampEnd {
  Measured at_mm;       ///< On the centreline, from the tip's apex.
  Measured off_centre;  ///< Change of that place per millimetre to the right.
  ShoulderKind shoulder = ShoulderKind::unclear;
  Measured climb_slope;  ///< Steepest rise of the cut over a millimetre, in its last 5 mm.
};

/// Finds the change point between bark and cut in every column of the map near the centreline: a straight bark, and
/// before it a drop of any form, of which only the last stretch is fitted (how long that is follows from how well a
/// parabola fits it). A curve through the columns' places gives the one on the centreline; their scatter, the choice of
/// the stretch and cells that are missing give its uncertainty. `crown_from_mm` is where plain bark begins.
/// Throws NotMeasurable where no such place lies between a quarter and three quarters of the reed's length.
[[nodiscard]] VampEnd find_vamp_end(const ThicknessMap& map, const Aligned& aligned, double crown_from_mm);

}  // namespace canewise
