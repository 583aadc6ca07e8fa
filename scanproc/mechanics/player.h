#pragma once

#include <filesystem>
#include <optional>
#include <string>

namespace canewise {

/// One player's hand, mouthpiece and wishes. Everything is optional; what is missing is not guessed but left out of the
/// advice, except the hand, whose default is a stated assumption.
struct Player {
  std::string name;
  /// What one light stroke of this player's tool takes off. The default is an assumption until a scan after scraping
  /// tells better.
  double depth_per_stroke_um = 2.0;
  bool hand_is_known = false;
  double tool_width_mm = 4.0;            ///< Of the tool's footprint across the fibre.
  std::optional<double> tip_opening_mm;  ///< Of the mouthpiece.
  std::optional<double> facing_length_mm;
  std::optional<double> reference_stiffness_n_per_mm;
  std::optional<double> wanted_stiffness_n_per_mm;
};

/// Reads `player.toml`: `name`, and tables [hand] depth_per_stroke_um, tool_width_mm; [mouthpiece] tip_opening_mm,
/// facing_length_mm; [stiffness] reference_n_per_mm, wanted_n_per_mm. Throws InputError.
[[nodiscard]] Player read_player(const std::filesystem::path& path);

}  // namespace canewise
