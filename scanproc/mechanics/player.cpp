#include "scanproc/mechanics/player.h"

#include <toml++/toml.h>

#include <cmath>

#include "scanproc/scan/scan_file.h"

namespace canewise {
namespace {

double positive_number(const ScanFile& file, const std::string& key, const toml::node& node, double largest) {
  const auto number = node.value<double>();
  if (!number || !std::isfinite(*number) || *number <= 0.0 || *number > largest) {
    file.fail(key + " must be a number above 0 and at most " + std::to_string(static_cast<int>(largest)) + ".");
  }
  return *number;
}

}  // namespace

Player read_player(const std::filesystem::path& path) {
  const ScanFile file(path);
  constexpr std::uint64_t largest_player_file = 1U << 20U;
  if (file.size() > largest_player_file) file.fail("is too large for a player file.");
  toml::table document;
  try {
    document = toml::parse(file.all());
  } catch (const toml::parse_error& error) {
    file.fail("line " + std::to_string(error.source().begin.line) + ": " + std::string(error.description()) + ".");
  }
  Player player;
  for (const auto& [key, node] : document) {
    if (key.str() == "name" && node.is_string()) {
      player.name = *node.value<std::string>();
      continue;
    }
    if (!node.is_table()) file.fail("has the unknown or ill-typed key '" + std::string(key.str()) + "'.");
    for (const auto& [inner, value] : *node.as_table()) {
      const std::string name = std::string(key.str()) + "." + std::string(inner.str());
      if (name == "hand.depth_per_stroke_um") {
        player.depth_per_stroke_um = positive_number(file, name, value, 50);
        player.hand_is_known = true;
      } else if (name == "hand.tool_width_mm") {
        player.tool_width_mm = positive_number(file, name, value, 20);
      } else if (name == "mouthpiece.tip_opening_mm") {
        player.tip_opening_mm = positive_number(file, name, value, 5);
      } else if (name == "mouthpiece.facing_length_mm") {
        player.facing_length_mm = positive_number(file, name, value, 50);
      } else if (name == "stiffness.reference_n_per_mm") {
        player.reference_stiffness_n_per_mm = positive_number(file, name, value, 1000);
      } else if (name == "stiffness.wanted_n_per_mm") {
        player.wanted_stiffness_n_per_mm = positive_number(file, name, value, 1000);
      } else {
        file.fail("has the unknown key '" + name + "'.");
      }
    }
  }
  return player;
}

}  // namespace canewise
