#include "scanproc/mechanics/player.h"

#include <toml++/toml.h>

#include <cmath>

#include "scanproc/scan/scan_file.h"

namespace canewise {
namespace {

constexpr std::string_view kKnownKeys =
    "name; [hand] depth_per_stroke_um, tool_width_mm; [mouthpiece] tip_opening_mm, facing_length_mm; [stiffness] "
    "reference_n_per_mm, "
    "wanted_n_per_mm";

[[noreturn]] void fail_at(const ScanFile& file, const toml::node& node, const std::string& what) {
  file.fail("line " + std::to_string(node.source().begin.line) + ": " + what);
}

double number_between(const ScanFile& file, const std::string& key, const toml::node& node, double smallest,
                      double largest) {
  const auto number = node.value<double>();
  if (!number || !(*number >= smallest && *number <= largest)) {
    std::ostringstream limits;
    limits << smallest << " to " << largest;
    fail_at(file, node, key + " must be a number from " + limits.str() + ".");
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
    if (!node.is_table()) {
      fail_at(file, node,
              "'" + std::string(key.str()) + "' is unknown or not of its kind. Known are: " + std::string(kKnownKeys) +
                  ".");
    }
    for (const auto& [inner, value] : *node.as_table()) {
      const std::string name = std::string(key.str()) + "." + std::string(inner.str());
      if (name == "hand.depth_per_stroke_um") {
        player.depth_per_stroke_um = number_between(file, name, value, 0.2, 50);
        player.hand_is_known = true;
      } else if (name == "hand.tool_width_mm") {
        player.tool_width_mm = number_between(file, name, value, 0.5, 20);
      } else if (name == "mouthpiece.tip_opening_mm") {
        player.tip_opening_mm = number_between(file, name, value, 0.2, 5);
      } else if (name == "mouthpiece.facing_length_mm") {
        player.facing_length_mm = number_between(file, name, value, 5, 50);
      } else if (name == "stiffness.reference_n_per_mm") {
        player.reference_stiffness_n_per_mm = number_between(file, name, value, 0.001, 1000);
      } else if (name == "stiffness.wanted_n_per_mm") {
        player.wanted_stiffness_n_per_mm = number_between(file, name, value, 0.001, 1000);
      } else {
        fail_at(file, value, "'" + name + "' is unknown. Known are: " + std::string(kKnownKeys) + ".");
      }
    }
  }
  return player;
}

}  // namespace canewise
