#include "scanproc/mechanics/player.h"

#include "scanproc/scan/settings.h"

namespace canewise {

Player read_player(const std::filesystem::path& path) {
  Settings settings = Settings::read(path);
  Player player;
  if (const auto name = settings.text("name")) player.name = *name;
  Settings hand = settings.table("hand");
  if (const auto depth = hand.number("depth_per_stroke_um", 0.2, 50)) {
    player.depth_per_stroke_um = *depth;
    player.hand_is_known = true;
  }
  hand.number_into(player.tool_width_mm, "tool_width_mm", 0.5, 20);
  Settings mouthpiece = settings.table("mouthpiece");
  if (const auto opening = mouthpiece.number("tip_opening_mm", 0.2, 5)) player.tip_opening_mm = *opening;
  if (const auto length = mouthpiece.number("facing_length_mm", 5, 50)) player.facing_length_mm = *length;
  Settings stiffness = settings.table("stiffness");
  if (const auto value = stiffness.number("reference_n_per_mm", 0.001, 1000))
    player.reference_stiffness_n_per_mm = *value;
  if (const auto value = stiffness.number("wanted_n_per_mm", 0.001, 1000)) player.wanted_stiffness_n_per_mm = *value;
  hand.refuse_unknown();
  mouthpiece.refuse_unknown();
  stiffness.refuse_unknown();
  settings.refuse_unknown();
  return player;
}

}  // namespace canewise
