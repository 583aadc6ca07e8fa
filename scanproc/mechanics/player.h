#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "scanproc/core/moisture.h"
#include "scanproc/words/message.h"

namespace canewise {

/// A reed that the player knows, and how it plays against the reference: 0 is the reference itself, -1 a half strength
/// softer, -0.5 a quarter, 1 a half harder.
struct KnownReed {
  std::string mark;  ///< As the player says it.
  double halves = 0.0;
  double stiffness_n_per_mm = 0.0;  ///< Under the player's lip on the mouthpiece, as they are now; 0: does not count.
  MoistureState state = MoistureState::unknown;  ///< When it was scanned; only like is compared with like.
  std::string result = {};  ///< Its result, from the player's file on; it is bent anew whenever it is compared with.
  std::string measured_at = {};   ///< Of that result: another in its place is another reed.
  bool cane_is_measured = false;  ///< Its stiffness is that of its own cane; as it is bent now, not part of the file.
};

/// How far from the tip a feeler stops between each rail and a flat plate that lies on both.
struct FeelerReading {
  double gauge_mm = 0.0;  ///< Its thickness.
  double left_mm = 0.0, right_mm = 0.0;
};

/// One player's hand, mouthpiece and wishes. Everything is optional; what is missing is not guessed but left out of the
/// advice, except where a default is a stated assumption.
struct Player {
  /// What a light stroke may take off at all.
  static constexpr double kLeastStroke_um = 0.2, kMostStroke_um = 50.0;

  std::string name;
  std::filesystem::path folder;  ///< Of the file; known reeds' results are named from here on. Not part of the file.
  /// What one light stroke of this player's tool takes off. The default is an assumption until a scan after scraping
  /// tells better.
  double depth_per_stroke_um = 2.0;
  double u_depth_per_stroke_rel = 0.4;
  bool hand_is_known = false;
  /// The scrapings that this was learned from, as pipeline/learned_hand.h names them: none counts twice.
  std::vector<std::string> hand_learned_from;
  double tool_width_mm = 4.0;  ///< Of the tool's footprint across the fibre.

  std::optional<double> tip_opening_mm, facing_length_mm, facing_power;  ///< Of the mouthpiece, both rails.
  std::optional<double> left_tip_opening_mm, left_facing_length_mm, right_tip_opening_mm, right_facing_length_mm;
  std::vector<FeelerReading> feelers;  ///< Thickest first; each stops farther in than the one before.
  std::optional<double> window_end_mm, ligature_mm;

  std::optional<double> lip_at_mm, lip_length_mm, lip_force_n, tip_patch_at_mm;  ///< See Lip.

  std::vector<KnownReed> known;
  /// The known reeds that count and that a reed in this state can be placed against. Unknown is taken for dry, as its
  /// moduli are.
  [[nodiscard]] std::vector<KnownReed> known_in(MoistureState state) const;
  std::optional<double> wanted_halves;  ///< Where on that scale the player wants to be.
};

/// Reads `player.toml`: `name`, and tables
///   [hand] depth_per_stroke_um, u_depth_per_stroke_rel, tool_width_mm, learned_from
///   [mouthpiece] tip_opening_mm, facing_length_mm, facing_power, left_tip_opening_mm and so on for a crooked facing,
///                window_end_mm, ligature_mm
///   [[mouthpiece.feeler]] gauge_mm, left_mm, right_mm: read on the player's own mouthpiece
///   [lip] at_mm, length_mm, force_n, tip_patch_at_mm
///   [[known_reed]] mark, state, result, measured_at; stiffness_n_per_mm of older files is read and does not count
///   [wish] strength: 'reference', 'a quarter softer' and the like.
/// Throws InputError.
[[nodiscard]] Player read_player(const std::filesystem::path& path);
/// The player as TOML; read_player of it gives the same player.
[[nodiscard]] std::string player_text(const Player& player);

/// 'reference', 'half softer', 'a quarter harder', 'one and a half softer' as halves; empty if it says nothing of the
/// kind. Signs: softer is negative.
[[nodiscard]] std::optional<double> halves_from(const std::string& words);
/// The nearest quarter in words: 'like the reference', 'a quarter softer', 'one and a half strengths harder'. In
/// English halves_from reads them.
[[nodiscard]] Message halves_words(double halves);

}  // namespace canewise
