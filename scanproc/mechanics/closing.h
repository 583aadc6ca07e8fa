#pragma once

#include <string>
#include <vector>

#include "scanproc/datum/aligned.h"
#include "scanproc/mechanics/mouthpiece.h"

namespace canewise {

class BendingFigures;
class ReedOnFacing;

/// Under one pressure: how far the reed's tip is from the mouthpiece.
struct ClosingPoint {
  double pressure_kpa = 0.0;
  double left_mm = 0.0, centre_mm = 0.0, right_mm = 0.0;
  double left_rests_mm = 0.0, right_rests_mm = 0.0;  ///< The reed lies on each rail from here on, from the tip.
};

/// With another tip opening: the stiffness, as a multiple of this reed's, that closes under the same pressure.
struct OtherOpening {
  double tip_opening_mm = 0.0;
  double stiffness_ratio = 1.0;
};

/// How a reed closes on a mouthpiece under the lip's force and pressure between its outer and inner face. The pressure
/// acts from the tip to the middle of the lip: behind it the air is the same on both sides.
struct Closing {
  Mouthpiece mouthpiece;
  double lip_force_n = 0.0;
  std::vector<ClosingPoint> curve;          ///< From no pressure to closing, or to 200 kPa if it does not close.
  double pressure_kpa = 0.0;                ///< That leaves 2 % of the tip opening, on the mean over the tip; or NaN.
  double u_pressure_kpa = 0.0;              ///< From how much the cane's moduli are uncertain.
  double right_minus_left_um = 0.0;         ///< Of the opening, at half that pressure.
  double facing_right_minus_left_um = 0.0;  ///< What of it the facing itself does: the same reed bent evenly.
  std::vector<OtherOpening> others;
};

struct CloseInputs {
  const BendingFigures& figures;
  const ReedOnFacing& reed;  ///< Its plate over the rails of `embouchure`.
  const Outline& outline;
  const Embouchure& embouchure;
};

/// `relative_spread` of the stiffness for the pressure's uncertainty.
[[nodiscard]] Closing close_reed(const CloseInputs& inputs, double relative_spread);

}  // namespace canewise
