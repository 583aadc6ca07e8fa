#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include "scanproc/pipeline/comparison.h"

namespace canewise {

/// Names the scraping between two scans by the bytes of their files: the same on every computer, another for every
/// other scan.
[[nodiscard]] std::string scraping_name(const Result& before, const Result& after);
[[nodiscard]] bool has_learned_from(const Player& player, const std::string& scraping);

struct KeptHand {
  Player player;
  std::string old_copy;  ///< Where the file as it was is kept beside it; empty if there was none.
};

/// Writes into the player file what `comparison` tells of the hand; the file is made if it is not there. Nothing is
/// written and nothing given back if it tells nothing, or was learned before. Throws InputError, OutputError.
std::optional<KeptHand> keep_hand(const std::filesystem::path& player_file, const Comparison& comparison);

}  // namespace canewise
