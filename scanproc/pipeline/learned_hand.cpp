#include "scanproc/pipeline/learned_hand.h"

#include <algorithm>
#include <cmath>

#include "scanproc/core/output_folder.h"
#include "scanproc/core/sha256.h"
#include "scanproc/scan/dated_copy.h"

namespace canewise {

std::string scraping_name(const Result& before, const Result& after) {
  Sha256 sum;
  for (const Result* result : {&before, &after}) {
    for (const ScanSource& scan : result->scans) sum.add(scan.sha256);
    sum.add(std::string_view("/"));
  }
  constexpr std::size_t digits = 16;
  return sum.hex().substr(0, digits);
}

bool has_learned_from(const Player& player, const std::string& scraping) {
  const auto& all = player.hand_learned_from;
  return std::find(all.begin(), all.end(), scraping) != all.end();
}

std::optional<KeptHand> keep_hand(const std::filesystem::path& player_file, const Comparison& comparison) {
  if (!comparison.hand || comparison.hand->known_already) return std::nullopt;
  KeptHand kept;
  if (is_there(player_file)) kept.player = read_player(player_file);
  if (has_learned_from(kept.player, comparison.scraping)) return std::nullopt;
  // Digits that a person can read in the file.
  const auto hundredths = [](double value) { return std::round(100.0 * value) / 100.0; };
  kept.player.depth_per_stroke_um = hundredths(comparison.hand->depth_per_stroke_um);
  kept.player.u_depth_per_stroke_rel = hundredths(comparison.hand->u_depth_per_stroke_rel);
  kept.player.hand_is_known = true;
  kept.player.hand_learned_from.push_back(comparison.scraping);
  kept.old_copy = write_keeping_old(player_file, player_text(kept.player));
  return kept;
}

}  // namespace canewise
