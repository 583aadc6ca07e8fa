#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include "scanproc/compare/comparison.h"

namespace canewise {

/// Names what was done after a plan by the scan that the plan was made from: the same on every computer. Of a plan a
/// hand learns once, however often the reed is scanned or compared afterwards.
[[nodiscard]] std::string scraping_name(const Result& before);

/// Puts what was seen beside what is known of this player's hand: geometric mean with weights by variance. False, and
/// nothing to be learned, if the result is no light stroke.
[[nodiscard]] bool weigh_in(LearnedHand& hand, const Player& player, const std::string& scraping);

struct KeptHand {
  Player player;
  std::string old_copy;  ///< Where the file as it was is kept beside it; empty if there was none.
};

/// Writes what `comparison` tells of the hand into the player file as it is now; `otherwise` is who the player is if
/// the file is not there. Nothing is written and nothing given back if there is nothing to be learned, or it was
/// learned before. Throws InputError, OutputError.
std::optional<KeptHand> keep_hand(const std::filesystem::path& player_file, const Comparison& comparison,
                                  const Player& otherwise);

}  // namespace canewise
