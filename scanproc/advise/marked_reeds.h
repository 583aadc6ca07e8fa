#pragma once

#include <string>

#include "scanproc/advise/learning.h"
#include "scanproc/advise/signs.h"
#include "scanproc/ledger/ledger.h"

namespace canewise {

/// What a trial's signs say together with the reed's latest scan, the player's reference reeds and what else was played
/// that day on the same mouthpiece.
[[nodiscard]] PlayingAdvice signs_of_trial(const Ledger& ledger, const TrialRecord& trial);

/// Which figures go with this player's marks: every reed that was both scanned and played counts once, with the mean of
/// its marks and the figures of its latest scan, as long as that is of the instrument and state that most are. Of
/// imbalances the size counts, not the side.
[[nodiscard]] Learned learned_of_player(const Ledger& ledger, const std::string& player);

}  // namespace canewise
