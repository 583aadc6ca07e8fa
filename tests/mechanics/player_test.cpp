#include "scanproc/mechanics/player.h"

#include <gtest/gtest.h>

#include "scanproc/core/error.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

Player read(const std::string& text) {
  const test::TempFolder folder;
  return read_player(folder.file("player.toml", text));
}

TEST(Player, WhatIsMissingIsLeftOut) {
  const Player player =
      read("name = 'Ottoline'\n[hand]\ndepth_per_stroke_um = 1.5\n[mouthpiece]\ntip_opening_mm = 1.05\n");
  EXPECT_EQ(player.name, "Ottoline");
  EXPECT_EQ(player.depth_per_stroke_um, 1.5);
  EXPECT_TRUE(player.hand_is_known);
  EXPECT_EQ(player.tip_opening_mm.value(), 1.05);
  EXPECT_FALSE(player.wanted_halves.has_value());
}

TEST(Player, WhatItDoesNotKnowIsRefused) {
  for (const char* depth : {"0", "0.001", "60", "nan", "'deep'"}) {
    EXPECT_THROW(read(std::string("[hand]\ndepth_per_stroke_um = ") + depth + "\n"), InputError) << depth;
  }
  EXPECT_THROW(read("[hand]\ngrip = 'soft'\n"), InputError);
  EXPECT_THROW(read("strength = 3\n"), InputError);
  EXPECT_THROW(read("[hand\n"), InputError);
}

}  // namespace
}  // namespace canewise
