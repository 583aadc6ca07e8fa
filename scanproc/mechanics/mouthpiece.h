#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "scanproc/mechanics/player.h"

namespace canewise {

/// Where a feeler stopped on a rail: so wide is the gap there.
struct FeelerStop {
  double gauge_mm = 0.0;
  double at_mm = 0.0;  ///< From the tip.
};

/// One side rail of a mouthpiece as a gap under a flat reed: tip_opening (1 - x/length)^power up to `length_mm` from
/// the tip, nought behind it. A power of 2 is an arc of a circle, as nearly as matters. Where feelers stopped, they
/// tell instead of the power: from each to the next the facing is an arc, that is, the root of the gap is straight.
struct FacingCurve {
  double tip_opening_mm = 1.0;
  double length_mm = 18.0;
  double power = 2.0;
  std::vector<FeelerStop> stops = {};  ///< From the tip on: ever thinner, between tip and length.
  [[nodiscard]] double gap_mm(double x_mm) const;
};

/// As long, as open and as bent as the two are on average.
[[nodiscard]] FacingCurve mean_of(const FacingCurve& left, const FacingCurve& right);
/// The same curve drawn so far apart that it opens so wide at the tip.
[[nodiscard]] FacingCurve with_opening(FacingCurve curve, double tip_opening_mm);

/// What holds the reed, and what it closes on. Distances from the tip.
struct Mouthpiece {
  double window_end_mm = 32.0;  ///< From here to the butt the reed lies on the mouthpiece's table.
  double ligature_mm = 38.0;    ///< From here on it is held down.
  double rail_width_mm = 1.2;
  FacingCurve left, right;
  bool facing_is_invented = true;  ///< An example, not the player's own numbers.
};

/// The player's mouthpiece; what is missing comes from an example for the instrument, which is invented within common
/// practice. `instrument` is a name in kInstruments.
[[nodiscard]] Mouthpiece mouthpiece_for(const Player& player, std::string_view instrument);

/// How a lip lies on the reed, and where the tip's stiffness is taken.
struct Lip {
  double at_mm = 0.0;      ///< Its middle, from the tip.
  double length_mm = 0.0;  ///< Along the reed.
  double force_n = 0.0;    ///< An assumption unless the player says it.
  double tip_patch_at_mm = 0.0;
};

/// What holds a reed and presses it while it is played.
struct Embouchure {
  Mouthpiece mouthpiece;
  Lip lip;
};

[[nodiscard]] Embouchure embouchure_of(const Player& player, std::string_view instrument);

/// The player's lip; what is missing is usual for the instrument, a name in kInstruments.
[[nodiscard]] Lip lip_of(const Player& player, std::string_view instrument);

}  // namespace canewise
