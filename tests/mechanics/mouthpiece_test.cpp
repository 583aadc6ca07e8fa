#include "scanproc/mechanics/mouthpiece.h"

#include <gtest/gtest.h>

#include <cmath>

#include "scanproc/datum/instrument.h"

namespace canewise {
namespace {

TEST(Mouthpiece, AFacingOpensFromItsEndToTheTip) {
  const FacingCurve facing{.tip_opening_mm = 1.2, .length_mm = 20.0, .power = 2.0};
  EXPECT_NEAR(facing.gap_mm(5.0), 1.2 * 0.5625, 1e-12);  // (1 - 5/20)^2
  EXPECT_EQ(facing.gap_mm(0.0), 1.2);
  EXPECT_EQ(facing.gap_mm(-0.3), 1.2) << "before the tip it opens no farther";
  EXPECT_EQ(facing.gap_mm(20.0), 0.0);
  EXPECT_EQ(facing.gap_mm(27.0), 0.0);
  const FacingCurve flatter{.tip_opening_mm = 1.2, .length_mm = 20.0, .power = 1.5};
  EXPECT_NEAR(flatter.gap_mm(12.8), 1.2 * 0.216, 1e-12);  // (1 - 0.64)^1.5 = 0.6^3
}

// The circle that touches the table at the facing's end and has the opening at the tip.
TEST(Mouthpiece, ThePowerOfTwoIsAnArcOfACircleToAMicrometre) {
  const FacingCurve facing{.tip_opening_mm = 1.05, .length_mm = 18.0, .power = 2.0};
  const double radius = (18.0 * 18.0 + 1.05 * 1.05) / (2.0 * 1.05);
  for (double x = 0.0; x < 18.0; x += 0.5) {
    const double arc = radius - std::sqrt(radius * radius - (18.0 - x) * (18.0 - x));
    EXPECT_NEAR(facing.gap_mm(x), arc, 1e-3) << x;
  }
}

// A circle that touches the table 18 mm from the tip and opens by 1.05 mm there; feelers of eight thicknesses. On an
// arc the root of the gap falls evenly, to a micrometre.
TEST(Mouthpiece, FeelersOnAnArcGiveTheArcBackAndWhereItEnds) {
  const double radius = (18.0 * 18.0 + 1.05 * 1.05) / (2.0 * 1.05);
  Player player;
  player.tip_opening_mm = 1.05;
  for (const double gauge : {0.9, 0.7, 0.5, 0.35, 0.2, 0.1, 0.06, 0.04}) {
    const double at = 18.0 - std::sqrt(radius * radius - (radius - gauge) * (radius - gauge));
    player.feelers.push_back({gauge, at, at});
  }
  const Mouthpiece mouthpiece = mouthpiece_for(player, "clarinet-bb");
  EXPECT_FALSE(mouthpiece.facing_is_invented);
  EXPECT_NEAR(mouthpiece.left.length_mm, 18.0, 0.02);
  for (double x = 0.0; x < 18.0; x += 0.3) {
    const double arc = radius - std::sqrt(radius * radius - (18.0 - x) * (18.0 - x));
    EXPECT_NEAR(mouthpiece.left.gap_mm(x), arc, 1e-3) << x;
    EXPECT_EQ(mouthpiece.right.gap_mm(x), mouthpiece.left.gap_mm(x)) << x;
  }
  EXPECT_NEAR(mouthpiece.left.gap_mm(-1.0), 1.05, 1e-12);
  EXPECT_EQ(mouthpiece.left.gap_mm(18.2), 0.0);
}

TEST(Mouthpiece, EachRailGoesThroughItsOwnReadings) {
  Player player;
  player.tip_opening_mm = 1.1;
  player.right_tip_opening_mm = 1.2;
  player.facing_length_mm = 19.0;
  player.feelers = {{0.5, 6.0, 7.5}, {0.1, 13.0, 14.0}};
  const Mouthpiece crooked = mouthpiece_for(player, "clarinet-bb");
  EXPECT_NEAR(crooked.left.gap_mm(6.0), 0.5, 1e-12);
  EXPECT_NEAR(crooked.left.gap_mm(13.0), 0.1, 1e-12);
  EXPECT_NEAR(crooked.right.gap_mm(7.5), 0.5, 1e-12);
  EXPECT_NEAR(crooked.right.gap_mm(14.0), 0.1, 1e-12);
  EXPECT_NEAR(crooked.left.gap_mm(0.0), 1.1, 1e-12);
  EXPECT_NEAR(crooked.right.gap_mm(0.0), 1.2, 1e-12);
  EXPECT_EQ(crooked.left.length_mm, 19.0) << "what the player says goes before what the readings suggest";
  // Half-way from 0.5 to 0.1 mm: the square of the mean of both roots.
  EXPECT_NEAR(crooked.left.gap_mm(9.5), 0.25 * std::pow(std::sqrt(0.5) + std::sqrt(0.1), 2), 1e-12);
  EXPECT_EQ(crooked.left.gap_mm(19.0), 0.0);
}

TEST(Mouthpiece, TheMeanOfTwoRailsLiesHalfWayWhereEitherWasRead) {
  FacingCurve left{.tip_opening_mm = 1.0, .length_mm = 18.0}, right = left;
  left.stops = {{0.4, 7.0}, {0.1, 12.0}};
  right.length_mm = 20.0;
  const FacingCurve mean = mean_of(left, right);
  EXPECT_EQ(mean.length_mm, 20.0);
  for (const double at : {0.0, 7.0, 12.0, 18.0, 20.0})
    EXPECT_NEAR(mean.gap_mm(at), 0.5 * (left.gap_mm(at) + right.gap_mm(at)), 1e-12) << at;
  const FacingCurve same = mean_of(left, left);
  for (double x = 0.0; x < 19.0; x += 0.5) EXPECT_NEAR(same.gap_mm(x), left.gap_mm(x), 1e-12) << x;
}

TEST(Mouthpiece, AnotherOpeningDrawsTheWholeCurveApart) {
  const FacingCurve arc{.tip_opening_mm = 1.0, .length_mm = 18.0};
  FacingCurve read = arc;
  read.stops = {{0.4, 7.0}, {0.1, 12.0}};
  for (const FacingCurve& curve : {arc, read}) {
    const FacingCurve wider = with_opening(curve, 1.2);
    for (double x = 0.0; x < 19.0; x += 0.5) EXPECT_NEAR(wider.gap_mm(x), 1.2 * curve.gap_mm(x), 1e-12) << x;
  }
}

// Common practice: the window ends about where the vamp does, and the ligature sits behind it on the stock.
TEST(Mouthpiece, EveryInstrumentHasAnExampleThatFitsItsReeds) {
  const Mouthpiece b_flat = mouthpiece_for({}, "clarinet-bb");
  for (const Instrument& instrument : kInstruments) {
    const Mouthpiece example = mouthpiece_for({}, instrument.name);
    EXPECT_TRUE(example.facing_is_invented) << instrument.name;
    EXPECT_TRUE(instrument.vamp_length_mm.holds(example.window_end_mm)) << instrument.name;
    EXPECT_GT(example.ligature_mm, example.window_end_mm + 3.0) << instrument.name;
    EXPECT_LT(example.ligature_mm, 0.7 * instrument.length_mm.low) << instrument.name;
    EXPECT_LT(example.left.length_mm, example.window_end_mm) << instrument.name;
    EXPECT_EQ(example.left.tip_opening_mm, example.right.tip_opening_mm) << instrument.name;
    EXPECT_EQ(example.left.length_mm, example.right.length_mm) << instrument.name;
    if (instrument.name == "clarinet-bb") continue;
    EXPECT_NE(example.window_end_mm, b_flat.window_end_mm) << instrument.name << " is no B-flat clarinet";
    EXPECT_NE(example.left.tip_opening_mm, b_flat.left.tip_opening_mm) << instrument.name;
    EXPECT_NE(example.left.length_mm, b_flat.left.length_mm) << instrument.name;
  }
  EXPECT_GT(mouthpiece_for({}, "sax-baritone").left.tip_opening_mm, 2.0 * b_flat.left.tip_opening_mm);
}

TEST(Mouthpiece, ThePlayersNumbersStandInPlaceOfTheExamples) {
  Player player;
  player.tip_opening_mm = 1.31;
  player.facing_length_mm = 19.5;
  player.facing_power = 1.8;
  player.window_end_mm = 33.0;
  player.ligature_mm = 40.5;
  const Mouthpiece own = mouthpiece_for(player, "sax-tenor");
  for (const FacingCurve& rail : {own.left, own.right}) {
    EXPECT_EQ(rail.tip_opening_mm, 1.31);
    EXPECT_EQ(rail.length_mm, 19.5);
    EXPECT_EQ(rail.power, 1.8);
  }
  EXPECT_EQ(own.window_end_mm, 33.0);
  EXPECT_EQ(own.ligature_mm, 40.5);
  EXPECT_FALSE(own.facing_is_invented);
}

TEST(Mouthpiece, OneRailsNumberIsThatRailsAlone) {
  Player player;
  player.tip_opening_mm = 1.1;
  player.facing_length_mm = 18.5;
  player.left_tip_opening_mm = 1.0;
  player.right_facing_length_mm = 21.0;
  const Mouthpiece crooked = mouthpiece_for(player, "clarinet-bb");
  EXPECT_EQ(crooked.left.tip_opening_mm, 1.0);
  EXPECT_EQ(crooked.right.tip_opening_mm, 1.1);
  EXPECT_EQ(crooked.left.length_mm, 18.5);
  EXPECT_EQ(crooked.right.length_mm, 21.0);
  player.left_tip_opening_mm.reset();
  player.right_facing_length_mm.reset();
  player.right_tip_opening_mm = 1.2;
  player.left_facing_length_mm = 16.0;
  const Mouthpiece other_way = mouthpiece_for(player, "clarinet-bb");
  EXPECT_EQ(other_way.left.tip_opening_mm, 1.1);
  EXPECT_EQ(other_way.right.tip_opening_mm, 1.2);
  EXPECT_EQ(other_way.left.length_mm, 16.0);
  EXPECT_EQ(other_way.right.length_mm, 18.5);
}

TEST(Mouthpiece, AFacingIsInventedUntilOpeningAndLengthAreBothGiven) {
  Player player;
  player.tip_opening_mm = 1.1;
  EXPECT_TRUE(mouthpiece_for(player, "clarinet-bb").facing_is_invented);
  player.facing_length_mm = 18.0;
  EXPECT_FALSE(mouthpiece_for(player, "clarinet-bb").facing_is_invented);
  player.tip_opening_mm.reset();
  EXPECT_TRUE(mouthpiece_for(player, "clarinet-bb").facing_is_invented);
}

TEST(Mouthpiece, TheLigatureNeverHoldsTheReedInsideTheWindow) {
  Player player;
  player.window_end_mm = 34.0;
  player.ligature_mm = 30.0;
  EXPECT_EQ(mouthpiece_for(player, "clarinet-bb").ligature_mm, 34.0);
  player.ligature_mm.reset();
  player.window_end_mm = 41.0;  // Behind the example's ligature.
  EXPECT_EQ(mouthpiece_for(player, "clarinet-bb").ligature_mm, 41.0);
}

// Common practice: the larger the reed, the farther back the lip lies.
TEST(Mouthpiece, TheLipIsWhereItUsuallyIsOnThisInstrumentUnlessThePlayerSaysOtherwise) {
  EXPECT_LT(lip_of({}, "clarinet-eb").at_mm, lip_of({}, "clarinet-bb").at_mm);
  EXPECT_LT(lip_of({}, "clarinet-bb").at_mm, lip_of({}, "sax-alto").at_mm);
  EXPECT_LT(lip_of({}, "sax-alto").at_mm, lip_of({}, "sax-baritone").at_mm);
  for (const Instrument& instrument : kInstruments) {
    const Lip usual = lip_of({}, instrument.name);
    EXPECT_EQ(usual.at_mm, instrument.lip.at_mm) << instrument.name;
    EXPECT_EQ(usual.length_mm, instrument.lip.length_mm) << instrument.name;
    EXPECT_EQ(usual.force_n, instrument.lip.force_n) << instrument.name;
    EXPECT_EQ(usual.tip_patch_at_mm, instrument.lip.tip_patch_at_mm) << instrument.name;
  }
  Player player;
  player.lip_at_mm = 8.5;
  player.lip_length_mm = 6.0;
  player.lip_force_n = 1.4;
  player.tip_patch_at_mm = 3.5;
  const Lip own = lip_of(player, "sax-tenor");
  EXPECT_EQ(own.at_mm, 8.5);
  EXPECT_EQ(own.length_mm, 6.0);
  EXPECT_EQ(own.force_n, 1.4);
  EXPECT_EQ(own.tip_patch_at_mm, 3.5);
}

TEST(Mouthpiece, AnUnknownInstrumentIsAnErrorAndNeverAnotherOnesNumbers) {
  EXPECT_THROW((void)mouthpiece_for({}, "clarinet"), std::logic_error);
  EXPECT_THROW((void)lip_of({}, "clarinet"), std::logic_error);
}

}  // namespace
}  // namespace canewise
