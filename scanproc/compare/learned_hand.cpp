#include "scanproc/compare/learned_hand.h"

#include <algorithm>
#include <cmath>

#include "scanproc/bytes/dated_copy.h"
#include "scanproc/core/output_place.h"
#include "scanproc/core/sha256.h"
#include "scanproc/core/statistics.h"

namespace canewise {

std::string scraping_name(const Result& before) {
  Sha256 sum;
  for (const ScanSource& scan : before.scans) sum.add(scan.sha256);
  constexpr std::size_t digits = 16;
  return sum.hex().substr(0, digits);
}

bool weigh_in(LearnedHand& hand, const Player& player, const std::string& scraping) {
  const auto& all = player.hand_learned_from;
  hand.known_already = std::find(all.begin(), all.end(), scraping) != all.end();
  if (hand.known_already) {
    hand.depth_per_stroke_um = player.depth_per_stroke_um;
    hand.u_depth_per_stroke_rel = player.u_depth_per_stroke_rel;
    return true;
  }
  constexpr double from_day_to_day = 0.15;  // An assumption: no hand repeats itself better.
  const double u_seen = std::hypot(hand.u_seen_rel, from_day_to_day);
  // Logarithms, because a stroke's depth is a ratio.
  const double w_known = 1.0 / square(std::max(0.02, player.u_depth_per_stroke_rel)), w_seen = 1.0 / square(u_seen);
  hand.depth_per_stroke_um =
      std::exp((w_known * std::log(player.depth_per_stroke_um) + w_seen * std::log(hand.seen_um)) / (w_known + w_seen));
  hand.u_depth_per_stroke_rel = std::hypot(std::sqrt(1.0 / (w_known + w_seen)), from_day_to_day);
  return hand.depth_per_stroke_um >= Player::kLeastStroke_um && hand.depth_per_stroke_um <= Player::kMostStroke_um;
}

std::optional<KeptHand> keep_hand(const std::filesystem::path& player_file, const Comparison& comparison,
                                  const Player& otherwise) {
  if (!comparison.hand) return std::nullopt;
  KeptHand kept{is_there(player_file) ? read_player(player_file) : otherwise, {}};
  // The file may have learned from another scraping since.
  LearnedHand hand = *comparison.hand;
  if (!weigh_in(hand, kept.player, comparison.scraping) || hand.known_already) return std::nullopt;
  // Digits that a person can read in the file.
  const auto hundredths = [](double value) { return std::round(100.0 * value) / 100.0; };
  kept.player.depth_per_stroke_um = hundredths(hand.depth_per_stroke_um);
  kept.player.u_depth_per_stroke_rel = hundredths(hand.u_depth_per_stroke_rel);
  kept.player.hand_is_known = true;
  kept.player.hand_learned_from.push_back(comparison.scraping);
  kept.old_copy = write_keeping_old(player_file, player_text(kept.player));
  return kept;
}

}  // namespace canewise
