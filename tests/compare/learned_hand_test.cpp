#include "scanproc/compare/learned_hand.h"

#include <gtest/gtest.h>

#include <cmath>

#include "scanproc/core/error.h"
#include "scanproc/core/output_folder.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

LearnedHand seen(double um, double u_rel) {
  LearnedHand hand;
  hand.seen_um = um;
  hand.u_seen_rel = u_rel;
  return hand;
}
Player player_of(double um, double u_rel) {
  Player player;
  player.depth_per_stroke_um = um;
  player.u_depth_per_stroke_rel = u_rel;
  return player;
}

// SHA-256 of the digests one after the other, by another program (Python's hashlib).
TEST(LearnedHand, AScrapingIsNamedByTheScansBeforeItAlone) {
  std::string zero_b;
  for (int k = 0; k < 32; ++k) zero_b += "0b";
  Result before;
  before.scans.resize(2);
  before.scans[0].sha256 = std::string(64, 'a');
  before.scans[1].sha256 = zero_b;
  EXPECT_EQ(scraping_name(before), "96dd6a091cbc64d7");
  before.scans[0].file = "another name.ply";
  before.measured_at = "2026-11-25T12:00:00Z";
  before.plan.steps.resize(3);
  EXPECT_EQ(scraping_name(before), "96dd6a091cbc64d7") << "the same on every computer and every day";
  std::swap(before.scans[0], before.scans[1]);
  EXPECT_EQ(scraping_name(before), "b118f686f6e6a9a2");
}

// Weights 1/0.4^2 = 6.25 for the 2 um that were assumed and 1/(0.1^2 + 0.15^2) = 30.77 for the 3 um that were seen, on
// logarithms; 0.15 is what no hand repeats better from day to day.
TEST(LearnedHand, WhatIsKnownAndWhatWasSeenAreWeighedByTheirVariance) {
  LearnedHand hand = seen(3.0, 0.1);
  EXPECT_TRUE(weigh_in(hand, player_of(2.0, 0.4), "new"));
  EXPECT_NEAR(hand.depth_per_stroke_um, 2.8015, 1e-3);
  EXPECT_NEAR(hand.u_depth_per_stroke_rel, 0.2225, 1e-3);
  EXPECT_FALSE(hand.known_already);
  // A hand that is known for sure hardly moves, one that nobody knows is what was seen.
  LearnedHand sure = seen(3.0, 0.1), unknown = seen(3.0, 0.1);
  EXPECT_TRUE(weigh_in(sure, player_of(2.0, 0.0), "new"));
  EXPECT_NEAR(sure.depth_per_stroke_um, 2.0, 0.03);
  EXPECT_TRUE(weigh_in(unknown, player_of(2.0, 2.0), "new"));
  EXPECT_NEAR(unknown.depth_per_stroke_um, 3.0, 0.03);
  EXPECT_GT(unknown.u_depth_per_stroke_rel, 0.15) << "never surer than hands are";
}

TEST(LearnedHand, OfAScrapingThatIsKnownNothingIsAdded) {
  Player player = player_of(2.4, 0.3);
  player.hand_learned_from = {"first", "second"};
  LearnedHand hand = seen(3.0, 0.1);
  EXPECT_TRUE(weigh_in(hand, player, "second"));
  EXPECT_TRUE(hand.known_already);
  EXPECT_EQ(hand.depth_per_stroke_um, 2.4);
  EXPECT_EQ(hand.u_depth_per_stroke_rel, 0.3);
}

TEST(LearnedHand, WhatIsNoLightStrokeIsNotLearned) {
  LearnedHand feather = seen(0.05, 0.05), axe = seen(400.0, 0.05);
  EXPECT_FALSE(weigh_in(feather, player_of(0.3, 0.4), "new"));
  EXPECT_FALSE(weigh_in(axe, player_of(20.0, 0.4), "new"));
}

Comparison comparison_of(const std::string& scraping) {
  Comparison comparison;
  comparison.scraping = scraping;
  comparison.hand = seen(3.0, 0.1);
  return comparison;
}

TEST(LearnedHand, ANewFileIsWhoThePlayerIsWithTheHandInReadableDigits) {
  const test::TempFolder folder;
  const auto file = folder.path() / "me.toml";
  Player otherwise = player_of(2.0, 0.4);
  otherwise.name = "Ottoline";
  otherwise.tool_width_mm = 3.5;
  const auto kept = keep_hand(file, comparison_of("first"), otherwise);
  ASSERT_TRUE(kept);
  EXPECT_EQ(kept->old_copy, "");
  const Player read = read_player(file);
  EXPECT_EQ(read.name, "Ottoline");
  EXPECT_EQ(read.tool_width_mm, 3.5);
  EXPECT_TRUE(read.hand_is_known);
  EXPECT_EQ(read.depth_per_stroke_um, 2.80);
  EXPECT_EQ(read.u_depth_per_stroke_rel, 0.22);
  EXPECT_EQ(read.hand_learned_from, std::vector<std::string>{"first"});
}

TEST(LearnedHand, TheFileAsItIsNowCountsAndIsKeptBesideTheNewOne) {
  const test::TempFolder folder;
  const auto file = folder.file("me.toml",
                                "name = 'Ottoline'\n[hand]\ndepth_per_stroke_um = 6.0\nu_depth_per_stroke_rel = 0.4\n"
                                "learned_from = ['older']\n");
  const auto kept = keep_hand(file, comparison_of("first"), player_of(2.0, 0.4));
  ASSERT_TRUE(kept);
  // As above with 6 um in the place of 2: 3^(30.77/37.02) 6^(6.25/37.02) = 3.37.
  EXPECT_NEAR(read_player(file).depth_per_stroke_um, 3.37, 0.011);
  EXPECT_EQ(read_player(file).hand_learned_from, (std::vector<std::string>{"older", "first"}));
  EXPECT_NE(kept->old_copy.find("before"), std::string::npos);
  EXPECT_EQ(read_player(folder.path() / kept->old_copy).depth_per_stroke_um, 6.0);
}

TEST(LearnedHand, NothingToLearnWritesNothing) {
  const test::TempFolder folder;
  const auto file = folder.path() / "me.toml";
  Comparison without = comparison_of("first");
  without.hand.reset();
  EXPECT_FALSE(keep_hand(file, without, {}));
  EXPECT_FALSE(is_there(file));
  ASSERT_TRUE(keep_hand(file, comparison_of("first"), player_of(2.0, 0.4)));
  EXPECT_FALSE(keep_hand(file, comparison_of("first"), player_of(2.0, 0.4))) << "learned before";
  EXPECT_EQ(read_player(file).hand_learned_from.size(), 1U);
  EXPECT_THROW((void)keep_hand(folder.file("broken.toml", "[hand"), comparison_of("first"), {}), InputError);
}

}  // namespace
}  // namespace canewise
