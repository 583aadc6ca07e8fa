#pragma once

#include <string>

#include "scanproc/assess/bark.h"
#include "scanproc/assess/conformity.h"
#include "scanproc/assess/filing.h"
#include "scanproc/assess/measured.h"
#include "scanproc/assess/vamp_end.h"
#include "scanproc/datum/aligned.h"
#include "scanproc/datum/instrument.h"
#include "scanproc/thickness/thickness_map.h"

namespace canewise {

enum class Blank { thin, medium, thick };
[[nodiscard]] std::string_view name_of(Blank blank);

/// What a maker decided: the cut. Differences here are differences in kind, never faults.
struct CutFeatures {
  Measured length_mm, tip_width_mm, butt_width_mm;
  Measured stock_height_mm;
  Blank blank = Blank::medium;
  bool blank_is_sure = false;  ///< At least 95 % sure that the stock is in this class.
  Measured vamp_length_mm;     ///< From the tip's apex to where the cut meets the bark, on the centreline.
  ShoulderKind shoulder = ShoulderKind::unclear;
  Measured tip_arc_radius_mm;
  Measured corner_drop_mm;  ///< How far the corners fall behind the arc: large is rounded, small is squarer.
  Measured shaved_mm;       ///< What is missing from the bark's corners behind the vamp; see Filing.
  Verdict filed = Verdict::cannot_tell;  ///< within: filed; outside: unfiled.
  Measured tip_thickness_mm;             ///< Centre, 0.5 to 1.5 mm behind the edge.
  Measured heart_thickness_mm;           ///< Centre of the middle band.
  Measured rail_thickness_mm;            ///< Both rails of the middle band.
  Bark bark;
};

/// Measures the cut. Throws NotMeasurable where no shoulder can be made out (the vamp cannot be scaled then).
[[nodiscard]] CutFeatures measure_cut(const ThicknessMap& map, const Aligned& aligned, const Instrument& instrument);

}  // namespace canewise
