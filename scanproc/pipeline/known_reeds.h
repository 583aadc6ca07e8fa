#pragma once

#include <string_view>

#include "scanproc/mechanics/player.h"
#include "scanproc/words/message.h"

namespace canewise {

/// The player's marked reeds as they bend on the mouthpiece and under the lip that the player has now.
struct KnownReedsNow {
  Player player;   ///< With their stiffnesses; those that cannot be bent again have none and do not count.
  Messages notes;  ///< Which do not, and why.
};

/// Reads the result of each marked reed and bends it anew. A mark belongs to the measurement that it was made of: a
/// result that is gone, was measured again since, or is another instrument's does not count. `with_measured_cane`:
/// those that were bend-tested are bent with the cane that was found; otherwise all with assumed cane.
[[nodiscard]] KnownReedsNow bend_known_reeds(Player player, std::string_view instrument,
                                             bool with_measured_cane = false);

}  // namespace canewise
