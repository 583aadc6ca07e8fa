#include "scanproc/mechanics/strength.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "scanproc/words/speech.h"
#include "tests/support/in_english.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

TEST(Strength, PlayersWordsAreSteps) {
  EXPECT_EQ(halves_from("reference").value(), 0.0);
  EXPECT_EQ(halves_from("half softer").value(), -1.0);
  EXPECT_EQ(halves_from("a quarter harder").value(), 0.5);
  EXPECT_EQ(halves_from("three quarters softer").value(), -1.5);
  EXPECT_EQ(halves_from("One and a half strengths harder").value(), 3.0);
  for (const char* words : {"", "harder", "nice", "a half", "half softer harder", "four and four softer"})
    EXPECT_FALSE(halves_from(words).has_value()) << words;
  for (int quarters = -16; quarters <= 16; ++quarters)
    EXPECT_EQ(halves_from(phrase(halves_words(0.5 * quarters))).value(), 0.5 * quarters) << quarters;
}

TEST(Strength, WithoutAReferenceThereIsNoStrength) {
  const Strength strength = place_on_scale(strength_scale({}, 0.1), 12.0, 0.01, {});
  EXPECT_FALSE(strength.known);
  EXPECT_NE(test::in_english(strength.sentence).find("12.00 N/mm"), std::string::npos);
}

TEST(Strength, TheScaleIsThePlayersOwn) {
  // Reeds that follow a scale of 20 % a half strength exactly.
  std::vector<KnownReed> known;
  for (const double halves : {-2.0, -1.0, 0.0, 0.0, 1.0, 2.0})
    known.push_back({"", halves, 10.0 * std::pow(1.2, halves)});
  const StrengthScale scale = strength_scale(known, 0.05);
  EXPECT_NEAR(scale.reference_n_per_mm, 10.0, 1e-9);
  // Pulled a little towards the assumption of 15 %.
  EXPECT_GT(std::exp(scale.step), 1.19);
  EXPECT_LT(std::exp(scale.step), 1.20);
  const Strength harder = place_on_scale(scale, 12.0, 0.01, {});
  EXPECT_NEAR(harder.halves, 1.0, 0.05);
  EXPECT_NE(test::in_english(harder.sentence).find("a half harder than your reference"), std::string::npos)
      << harder.sentence;
  EXPECT_NE(test::in_english(harder.advice).find("airy"), std::string::npos) << "common practice: too hard is airy";
  const Strength softer = place_on_scale(scale, 8.0, 0.01, {});
  EXPECT_NE(test::in_english(softer.advice).find("flat up high"), std::string::npos)
      << "common practice: too soft goes flat up high";
  EXPECT_LT(scale.between_reeds_rel, 0.05) << "six reeds that agree speak for less spread";
  EXPECT_GT(place_on_scale(strength_scale({known[2]}, 0.1), 12.0, 0.01, {}).u_halves, 2.0 * harder.u_halves)
      << "one reed makes a poor scale";
}

TEST(Strength, AdviceIsHeldAgainstWhatThePlayerWants) {
  std::vector<KnownReed> known;
  for (const double halves : {-1.0, 0.0, 1.0}) known.push_back({"", halves, 10.0 * std::pow(1.15, halves)});
  const StrengthScale scale = strength_scale(known, 0.05);
  Player harder;
  harder.wanted_halves = 1.0;
  EXPECT_NE(test::in_english(place_on_scale(scale, 11.5, 0.01, harder).advice).find("where you want it"),
            std::string::npos);
  EXPECT_NE(test::in_english(place_on_scale(scale, 10.0, 0.01, harder).advice).find("Softer than you want"),
            std::string::npos);
  EXPECT_NE(test::in_english(place_on_scale(scale, 13.3, 0.01, harder).advice).find("Harder than you want"),
            std::string::npos);
}

// Between the marks a straight line is known best: its reference and its step belong together.
TEST(Strength, UncertaintyIsThatOfALineThroughTheMarks) {
  const StrengthScale scale = strength_scale({{"", 0.0, 10.0}, {"", 2.0, 10.0 * std::pow(1.15, 2.0)}}, 0.05);
  const auto u_at = [&](double halves) {
    return place_on_scale(scale, scale.reference_n_per_mm * std::exp(scale.step * halves), 0.0, {}).u_halves;
  };
  // One reed's cane and half of it in the mean of two reeds: the step takes no part in the middle.
  EXPECT_NEAR(u_at(1.0), scale.between_reeds_rel * std::sqrt(1.5) / scale.step, 1e-6);
  EXPECT_NEAR(u_at(0.0), u_at(2.0), 1e-6);
  EXPECT_GT(u_at(0.0), 1.05 * u_at(1.0));
  EXPECT_GT(u_at(-2.0), 1.3 * u_at(1.0));
}

// A half is 15 % here, and the reed's place has a standard uncertainty of a half: twice that on each side is said.
TEST(Strength, TheRangeThatIsSaidHolds95Percent) {
  StrengthScale scale;
  scale.has_reference = true, scale.reeds = 3;
  scale.reference_n_per_mm = 10.0, scale.step = std::log(1.15);
  scale.between_reeds_rel = scale.step;
  const Strength strength = place_on_scale(scale, 10.0, 0.0, {});
  EXPECT_NEAR(strength.u_halves, 1.0, 1e-9);
  EXPECT_THAT(test::in_english(strength.sentence),
              testing::AllOf(testing::HasSubstr("one strength softer"), testing::HasSubstr("one strength harder")));
}

TEST(Strength, MarksThatContradictEachOtherMakeNoScale) {
  const StrengthScale scale = strength_scale({{"", 0.0, 10.0}, {"", 1.0, 7.0}, {"", 2.0, 5.0}}, 0.05);
  EXPECT_TRUE(scale.marks_contradict);
  EXPECT_DOUBLE_EQ(scale.step, std::log(kStiffnessPerHalf));
  const Strength strength = place_on_scale(scale, scale.reference_n_per_mm, 0.01, {});
  EXPECT_NEAR(strength.halves, 0.0, 1e-9);
  EXPECT_NE(test::in_english(strength.sentence).find("contradict"), std::string::npos) << strength.sentence;
}

TEST(Strength, OnlyReedsScannedInTheSameStateAreComparedWith) {
  Player player;
  player.known = {{"reference", 0.0, 12.0, MoistureState::dry},
                  {"a half softer", -1.0, 7.0, MoistureState::wet},
                  {"a half harder", 1.0, 14.0, MoistureState::unknown}};
  ASSERT_EQ(player.known_in(MoistureState::wet).size(), 1U);
  EXPECT_EQ(player.known_in(MoistureState::wet).front().stiffness_n_per_mm, 7.0);
  EXPECT_EQ(player.known_in(MoistureState::dry).size(), 2U);
  EXPECT_EQ(player.known_in(MoistureState::unknown).size(), 2U);
}

TEST(Strength, APlayerFileComesBackAsItWasWritten) {
  Player player;
  player.name = "some \"one\" \\ else";
  player.hand_is_known = true;
  player.depth_per_stroke_um = 1.7;
  player.tip_opening_mm = 1.1;
  player.right_facing_length_mm = 19.0;
  player.known = {{"reference", 0.0, 0.0, MoistureState::unknown, "../best reed", "2026-05-01T10:00:00Z"},
                  {"a half softer", -1.0, 0.0, MoistureState::wet, "soft/result.json", "2026-05-02T10:00:00Z"}};
  player.wanted_halves = -0.5;
  const test::TempFolder folder;
  const Player back = read_player(folder.file("player.toml", player_text(player)));
  EXPECT_EQ(player_text(back), player_text(player));
  EXPECT_EQ(back.name, player.name);
  EXPECT_EQ(back.known.at(1).halves, -1.0);
  EXPECT_EQ(back.known.at(0).result, "../best reed");
  EXPECT_EQ(back.known.at(1).measured_at, "2026-05-02T10:00:00Z");
  EXPECT_EQ(back.known.at(0).stiffness_n_per_mm, 0.0) << "bent anew whenever it is compared with";
  EXPECT_EQ(back.known.at(0).state, MoistureState::unknown);
  EXPECT_EQ(back.known.at(1).state, MoistureState::wet);
  EXPECT_EQ(back.wanted_halves.value(), -0.5);
}

}  // namespace
}  // namespace canewise
