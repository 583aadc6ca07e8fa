#include "scanproc/mechanics/player.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "scanproc/core/error.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

using testing::AllOf;
using testing::HasSubstr;

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

std::string refusal(const std::string& text) {
  try {
    (void)read(text);
  } catch (const InputError& error) {
    return error.what();
  }
  return "read";
}

const std::string kMouthpiece = "[mouthpiece]\ntip_opening_mm = 1.05\n";
std::string feeler(double gauge_mm, double left_mm, double right_mm) {
  return fmt::format("[[mouthpiece.feeler]]\ngauge_mm = {}\nleft_mm = {}\nright_mm = {}\n", gauge_mm, left_mm,
                     right_mm);
}

TEST(Player, FeelersAreSortedFromTheTipOnAndWrittenAsTheyWereRead) {
  const Player player = read(kMouthpiece + feeler(0.1, 13.0, 13.5) + feeler(0.5, 6.0, 6.25));
  ASSERT_EQ(player.feelers.size(), 2U);
  EXPECT_EQ(player.feelers[0].gauge_mm, 0.5);
  EXPECT_EQ(player.feelers[0].right_mm, 6.25);
  EXPECT_EQ(player.feelers[1].left_mm, 13.0);
  const Player again = read(player_text(player));
  ASSERT_EQ(again.feelers.size(), 2U);
  for (std::size_t k = 0; k < 2; ++k) {
    EXPECT_EQ(again.feelers[k].gauge_mm, player.feelers[k].gauge_mm);
    EXPECT_EQ(again.feelers[k].left_mm, player.feelers[k].left_mm);
    EXPECT_EQ(again.feelers[k].right_mm, player.feelers[k].right_mm);
  }
}

TEST(Player, FeelersThatNoMouthpieceCanHaveAreRefusedWithTheRail) {
  EXPECT_THAT(refusal("[mouthpiece]\n" + feeler(0.5, 6.0, 6.0)),
              AllOf(HasSubstr("mouthpiece.tip_opening"), HasSubstr("measure the opening")));
  EXPECT_THAT(refusal(kMouthpiece + "[[mouthpiece.feeler]]\ngauge_mm = 0.5\nleft_mm = 6.0\n"),
              AllOf(HasSubstr("right_mm"), HasSubstr("is missing")));
  EXPECT_THAT(refusal(kMouthpiece + "facing_power = 2.0\n" + feeler(0.5, 6.0, 6.0)), HasSubstr("Leave one out"));
  // A thinner feeler goes farther in; nothing as thick as the opening goes in at all.
  EXPECT_THAT(refusal(kMouthpiece + feeler(0.5, 6.0, 6.0) + feeler(0.1, 13.0, 5.0)),
              AllOf(HasSubstr("0.100 mm"), HasSubstr("right rail"), HasSubstr("farther in")));
  EXPECT_THAT(refusal(kMouthpiece + feeler(0.5, 6.0, 6.0) + feeler(0.1, 6.0, 13.0)), HasSubstr("left rail"));
  EXPECT_THAT(refusal(kMouthpiece + feeler(0.5, 6.0, 6.0) + feeler(0.5, 13.0, 13.0)), HasSubstr("twice"));
  EXPECT_THAT(refusal(kMouthpiece + "left_tip_opening_mm = 0.9\n" + feeler(0.95, 1.0, 1.0)),
              AllOf(HasSubstr("as thick"), HasSubstr("left rail")));
  EXPECT_THAT(refusal(kMouthpiece + "right_facing_length_mm = 12.0\n" + feeler(0.1, 13.0, 13.0)),
              AllOf(HasSubstr("past the end"), HasSubstr("right rail")));
  EXPECT_EQ(refusal(kMouthpiece + "facing_length_mm = 18.0\n" + feeler(0.1, 13.0, 13.0)), "read");
  EXPECT_THAT(refusal(kMouthpiece + feeler(0.1, 13.0, 13.0) + "grip = 1\n"), HasSubstr("grip"));
}

}  // namespace
}  // namespace canewise
