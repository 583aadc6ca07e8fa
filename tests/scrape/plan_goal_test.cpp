#include "scanproc/scrape/plan_goal.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "tests/support/bent_reeds.h"

namespace canewise {
namespace {

constexpr std::size_t kTipRail = 2, kFrontRail = 5, kHeart = 6, kMiddleRail = 8, kBackFlank = 10, kBackRail = 11;

/// The right rail of the middle is 40 um too thick, of a tolerance of 15; everything else is even.
test::ReedByHand heavy_rail() {
  return test::reed_by_hand(
      [](double x, double y) { return test::plain_wedge_mm(x) + (y > 4.2 && x > 10.0 && x < 26.0 ? 0.040 : 0.0); });
}
test::ReedByHand even() {
  return test::reed_by_hand([](double x, double) { return test::plain_wedge_mm(x); });
}

FoundGoal set_for(const test::ReedByHand& reed, const BentReed& bent, const PlanOptions& options = {},
                  const Player& player = {}) {
  return plan_goal(test::plan_inputs(reed, bent, player), SteeredBending(bent, reed.map), options);
}
FoundGoal without_bending(const test::ReedByHand& reed, const PlanOptions& options = {}) {
  return set_for(reed, test::not_bent(), options);
}
BentReed bend(const test::ReedByHand& reed, const Player& player = {}) {
  return test::bent(reed, player, {.spacing_mm = 1.5, .modes = 1});
}

TEST(PlanGoal, BalanceMayTakeOnlyFromTheSideThatTheRollingTestNames) {
  for (const Side side : {Side::left, Side::right}) EXPECT_TRUE(may_lose(side, RollingTest::not_done));
  EXPECT_TRUE(may_lose(Side::left, RollingTest::left));
  EXPECT_FALSE(may_lose(Side::right, RollingTest::left));
  EXPECT_TRUE(may_lose(Side::right, RollingTest::right));
  EXPECT_FALSE(may_lose(Side::left, RollingTest::right));
  for (const Side side : {Side::left, Side::right}) EXPECT_FALSE(may_lose(side, RollingTest::even));
  EXPECT_EQ(side_of(0.01), Side::right);
  EXPECT_EQ(side_of(-0.01), Side::left);
}

TEST(PlanGoal, OnlyTheCentreOfTheMiddleIsTheHeart) {
  for (std::size_t z = 0; z < 12; ++z) EXPECT_EQ(is_heart(z), z == kHeart) << z;
}

// 64 rows of 7 cells: 28 mm2. A tenth of the tolerance is left for the soft borders of neighbouring cuts; what needs
// nothing may use four fifths of its tolerance: 6.4 um at the tip, 12 in front, 24 at the back.
TEST(PlanGoal, AZoneThatIsOutActsAndTheOthersKeepWhatTheyHave) {
  const FoundGoal set = without_bending(heavy_rail());
  EXPECT_TRUE(set.findings.zones_off);
  for (std::size_t z = 0; z < 12; ++z) EXPECT_EQ(set.goal.zone_acts.at(z), z == kMiddleRail) << z;
  EXPECT_EQ(set.goal.fault_acts, std::vector{true});
  EXPECT_NEAR(set.goal.difference_mm.at(kMiddleRail), 0.040, 1e-6);
  EXPECT_NEAR(set.goal.area_mm2.at(kMiddleRail), 28.0, 1e-9);
  const CaneGoal& cane = set.goal.cane;
  EXPECT_NEAR(cane.difference_mm.at(kMiddleRail).upper, kLeftOfTolerance * 0.015, 1e-9);
  EXPECT_NEAR(cane.difference_held_mm.at(kMiddleRail).upper, 0.040 + 0.1 * 0.015, 1e-6);
  EXPECT_NEAR(cane.difference_mm.at(kTipRail).upper, 0.0064, 1e-9);
  EXPECT_NEAR(cane.difference_mm.at(kFrontRail).upper, 0.0120, 1e-9);
  EXPECT_NEAR(cane.difference_mm.at(kBackRail).upper, 0.0240, 1e-9);
  for (std::size_t z = 0; z < 12; ++z) {
    EXPECT_EQ(cane.difference_mm.at(z).lower, -cane.difference_mm.at(z).upper);
    EXPECT_EQ(cane.difference_held_mm.at(z).lower, -cane.difference_held_mm.at(z).upper);
  }
  EXPECT_FALSE(cane.bending_known);
}

// From 34 mm on the outer millimetre of both rails is bark, 150 um higher on the right: that takes the whole zone out
// of its tolerance of 30 um, although the cut is even.
TEST(PlanGoal, WhatTheBarkMakesOfAZoneIsNotToBeScraped) {
  test::ReedByHand reed = test::reed_by_hand([](double x, double y) {
    if (std::abs(y) > 5.0 && x > 34.0) return y > 0.0 ? 2.05 : 1.90;
    return x > test::ReedByHand::kVamp_mm ? test::ReedByHand::kBark_mm : test::plain_wedge_mm(x);
  });
  reed.assessment.cut.bark.crown_y_mm = {0.2, 0.01};
  const ZoneBalance& zone = reed.assessment.balance.zones.at(kBackRail);
  ASSERT_EQ(zone.verdict, Verdict::outside);
  ASSERT_GT(zone.difference.mean_mm, 0.030);
  const FoundGoal set = without_bending(reed);
  EXPECT_NEAR(set.goal.difference_mm.at(kBackRail), 0.0, 1e-6);
  EXPECT_FALSE(set.goal.zone_acts.at(kBackRail));
  EXPECT_EQ(std::count(set.goal.fault_acts.begin(), set.goal.fault_acts.end(), true), 0);
  EXPECT_TRUE(set.findings.off_by_bark.at(kBackRail));
  EXPECT_EQ(std::count(set.findings.off_by_bark.begin(), set.findings.off_by_bark.end(), true), 1);
  ASSERT_TRUE(set.findings.bark_crown_mm);
  EXPECT_EQ(*set.findings.bark_crown_mm, 0.2);
  // What lies in the cut beside it still is.
  EXPECT_FALSE(without_bending(heavy_rail()).findings.bark_crown_mm);
  reed.assessment.cut.bark.crown_y_mm.u = 0.15;
  EXPECT_FALSE(without_bending(reed).findings.bark_crown_mm) << "nobody knows where the crown lies";
}

TEST(PlanGoal, AnEvenReedSetsNoGoal) {
  const FoundGoal set = without_bending(even());
  EXPECT_FALSE(set.findings.zones_off);
  EXPECT_TRUE(std::none_of(set.goal.zone_acts.begin(), set.goal.zone_acts.end(), [](bool acts) { return acts; }));
  EXPECT_TRUE(set.goal.fault_acts.empty());
}

TEST(PlanGoal, AThickSideThatTheRollingTestDidNotNameIsLeftAndRemembered) {
  const FoundGoal right = without_bending(heavy_rail(), {.rolling_test = RollingTest::right});
  EXPECT_TRUE(right.goal.zone_acts.at(kMiddleRail));
  EXPECT_FALSE(right.findings.other_side_left_out);
  const FoundGoal left = without_bending(heavy_rail(), {.rolling_test = RollingTest::left});
  EXPECT_FALSE(left.goal.zone_acts.at(kMiddleRail));
  EXPECT_EQ(left.goal.fault_acts, std::vector{false});
  EXPECT_TRUE(left.findings.other_side_left_out);
  EXPECT_NEAR(left.goal.cane.difference_mm.at(kMiddleRail).upper, 0.0415, 1e-6) << "it may stay as it is";
}

TEST(PlanGoal, TheHeartIsOutButNeverActs) {
  const FoundGoal set = without_bending(test::reed_by_hand([](double x, double y) {
    return test::plain_wedge_mm(x) + (y > 0.0 && y < 2.1 && x > 10.0 && x < 26.0 ? 0.040 : 0.0);
  }));
  EXPECT_TRUE(set.findings.zones_off);
  EXPECT_FALSE(set.goal.zone_acts.at(kHeart));
}

// The right rail's mean is 0.15 + 0.05 x 18 + 0.04 = 1.09 mm.
TEST(PlanGoal, NothingIsTakenBelowItsFloor) {
  test::ReedByHand reed = heavy_rail();
  const std::size_t right = half_zone_index(kMiddleRail, Side::right), left = half_zone_index(kMiddleRail, Side::left);
  reed.assessment.faults.at(0).at_fault = AtFault::thicker_side;
  EXPECT_NEAR(without_bending(reed).goal.cane.most_removed_mm.at(right), 1.09 - 0.05, 1e-5);
  RemovalLimits thick = kUsualRemoval;
  thick.floor_tip_mm = 0.3;
  const BentReed unknown = test::not_bent();
  const Player nobody;
  const FoundGoal floored =
      plan_goal(test::plan_inputs(reed, unknown, nobody, thick), SteeredBending(unknown, reed.map), {});
  EXPECT_NEAR(floored.goal.cane.most_removed_mm.at(right), 1.09 - 0.3, 1e-5);
  reed.assessment.faults.at(0).at_fault = AtFault::thinner_side;
  const auto thin = without_bending(reed).goal.cane.most_removed_mm;
  EXPECT_NEAR(thin.at(right), 0.15 * 1.09, 1e-5) << "of a sound side no more than 15 %";
  EXPECT_NEAR(thin.at(left), 1.05 - 0.05, 1e-5);
  reed.map.thickness_mm.block(104, 0, 56, 7).setConstant(std::numeric_limits<float>::quiet_NaN());  // Left back rail.
  test::assess_again(reed);
  EXPECT_EQ(without_bending(reed).goal.cane.most_removed_mm.at(half_zone_index(kBackRail, Side::left)), 0.0)
      << "what nobody saw is not scraped";
}

TargetComparison target_of(const test::ReedByHand& reed, double left_mm, double right_mm) {
  TargetComparison comparison;
  comparison.chosen_by_user = true;
  for (const ZoneThickness& zone : reed.assessment.zone_thickness) {
    ZoneDeviation deviation;
    deviation.zone = zone.zone;
    deviation.target_mm = 1.0;
    deviation.tolerance_mm = 0.020;
    deviation.deviation.u_mm = 0.001;
    const bool surplus = zone.zone.along == AlongBand::back && zone.zone.across == AcrossBand::flank;
    deviation.deviation.mean_mm = !surplus ? 0.0 : zone.zone.side == Side::left ? left_mm : right_mm;
    comparison.zones.push_back(deviation);
  }
  return comparison;
}

TEST(PlanGoal, AChosenTargetTakesAlikeFromBothSidesWhatBothHaveTooMuch) {
  test::ReedByHand reed = even();
  reed.assessment.target = target_of(reed, 0.030, 0.050);
  const FoundGoal set = without_bending(reed);
  EXPECT_TRUE(set.goal.aim.target);
  for (std::size_t z = 0; z < 12; ++z) EXPECT_EQ(set.goal.target_acts.at(z), z == kBackFlank) << z;
  for (const Side side : {Side::left, Side::right})
    EXPECT_NEAR(set.goal.cane.surplus_mm.at(half_zone_index(kBackFlank, side)), 0.030 - kLeftOfTolerance * 0.020, 1e-9);
  // Two tolerances under the target are the floor: 0.96 mm.
  reed = heavy_rail();
  reed.assessment.target = target_of(reed, 0.0, 0.0);
  reed.assessment.faults.at(0).at_fault = AtFault::thicker_side;
  const std::size_t rail = half_zone_index(kMiddleRail, Side::right);
  EXPECT_NEAR(without_bending(reed).goal.cane.most_removed_mm.at(rail), 1.09 - 0.96, 1e-5);
  reed.assessment.target->chosen_by_user = false;
  EXPECT_NEAR(without_bending(reed).goal.cane.most_removed_mm.at(rail), 1.09 - 0.05, 1e-5) << "nobody chose it";
}

TEST(PlanGoal, ATargetIsLeftAloneWhereOneSideIsNotSurelyTooThickOrNobodyChoseIt) {
  test::ReedByHand reed = even();
  reed.assessment.target = target_of(reed, 0.015, 0.050);
  EXPECT_FALSE(without_bending(reed).goal.target_acts.at(kBackFlank)) << "within its tolerance on the left";
  reed.assessment.target = target_of(reed, 0.030, 0.050);
  EXPECT_FALSE(without_bending(reed, {.aim = PlanAim{}}).goal.target_acts.at(kBackFlank)) << "balance alone is wanted";
  reed.assessment.target->chosen_by_user = false;
  const FoundGoal set = without_bending(reed, {.aim = PlanAim{true, std::nullopt}});
  EXPECT_FALSE(set.goal.aim.target);
  EXPECT_FALSE(set.goal.target_acts.at(kBackFlank));
}

TEST(PlanGoal, SofterWithoutKnownBendingIsDroppedAndSaid) {
  const FoundGoal set = without_bending(even(), {.aim = PlanAim{false, -0.5}});
  EXPECT_TRUE(set.findings.aim_unknown);
  EXPECT_EQ(set.findings.wanted_halves, -0.5);
  EXPECT_FALSE(set.goal.aim.halves);
  EXPECT_FALSE(set.goal.softer());
}

// A half strength is a factor of 1.15 until the player's own reeds say otherwise; a quarter is its root.
TEST(PlanGoal, StiffnessStaysWithinAQuarterStrengthOfWhatIsWanted) {
  const test::ReedByHand reed = even();
  const BentReed bent = bend(reed);
  ASSERT_TRUE(bent.figures);
  const double now = bent.mechanics.figure(BendingFigure::stiffness_lip).value;
  const FoundGoal keep = set_for(reed, bent);
  EXPECT_TRUE(keep.goal.cane.bending_known);
  EXPECT_NEAR(keep.goal.cane.figure.at(2).lower / now, std::pow(1.15, -0.5), 1e-9);
  EXPECT_TRUE(std::isinf(keep.goal.cane.figure.at(2).upper));
  EXPECT_EQ(keep.goal.softest_n_per_mm, keep.goal.cane.figure.at(2).lower);
  const FoundGoal softer = set_for(reed, bent, {.aim = PlanAim{false, -1.0}});
  EXPECT_TRUE(softer.goal.softer());
  EXPECT_NEAR(softer.goal.cane.figure.at(2).lower / now, std::pow(1.15, -1.25), 1e-9);
  EXPECT_NEAR(softer.goal.cane.figure.at(2).upper / now, std::pow(1.15, -0.875), 1e-9);
  Player player;
  player.known = {{"reference", 0.0, 0.8 * now, MoistureState::dry}};
  player.wanted_halves = 0.0;
  EXPECT_NEAR(set_for(reed, bend(reed, player), {}, player).goal.cane.figure.at(2).lower / (0.8 * now),
              std::pow(1.15, -0.5), 1e-9)
      << "the player's own line counts, not this reed's";
}

TEST(PlanGoal, TheRollingTestSaysWhichSidesCaneIsStiffer) {
  const test::ReedByHand reed = even();
  const BentReed bent = bend(reed);
  const FoundGoal untested = set_for(reed, bent);
  EXPECT_EQ(untested.goal.cane_right_over_left, 0.0);
  EXPECT_FALSE(untested.goal.bending_acts());
  for (const auto& [test, sign] : {std::pair{RollingTest::right, 1.0}, {RollingTest::left, -1.0}}) {
    const FoundGoal set = set_for(reed, bent, {.rolling_test = test});
    EXPECT_GT(sign * set.goal.cane_right_over_left, 0.01);
    EXPECT_LT(sign * set.goal.cane_right_over_left, 0.15);
    EXPECT_GT(sign * set.goal.by_cane.at(0), 0.01);
    EXPECT_GT(sign * set.goal.by_cane.at(1), 0.0);
    // The shape is to make up for it: its range lies about the opposite.
    for (const std::size_t f : {0U, 1U}) {
      const Range& range = set.goal.cane.figure.at(f);
      EXPECT_NEAR(0.5 * (range.lower + range.upper), -set.goal.by_cane.at(f), 1e-9);
    }
  }
  const FoundGoal both_alike = set_for(reed, bent, {.rolling_test = RollingTest::even});
  EXPECT_FALSE(both_alike.goal.bending_acts());
}

TEST(PlanGoal, AnImbalanceOfBendingActsOnItsStifferSideAndAnAnswerAgainstItContradicts) {
  const test::ReedByHand reed =
      test::reed_by_hand([](double x, double y) { return test::plain_wedge_mm(x) * (1.0 + 0.02 * y); });
  const BentReed bent = bend(reed);
  const FoundGoal untested = set_for(reed, bent);
  EXPECT_TRUE(untested.goal.imbalance_acts.at(0));
  EXPECT_TRUE(untested.findings.bending_off);
  EXPECT_FALSE(untested.findings.test_contradicts);
  EXPECT_NEAR(untested.goal.cane.figure.at(0).upper, 0.4 * kUsualTolerances.imbalance, 1e-9);
  const FoundGoal against = set_for(reed, bent, {.rolling_test = RollingTest::left});
  EXPECT_FALSE(against.goal.bending_acts());
  EXPECT_TRUE(against.findings.test_contradicts);
}

// An even reed on rails of which the left begins to lie a millimetre later: its left side is softer there, the right
// answers as if it were too thick.
TEST(PlanGoal, RailsThatDifferExplainTheAnswerThatTheyMake) {
  Player player;
  player.left_facing_length_mm = 19.0;
  player.right_facing_length_mm = 18.0;
  const auto goal_for = [&](const test::ReedByHand& reed, RollingTest test) {
    const BentReed bent = bend(reed, player);
    return set_for(reed, bent, {.rolling_test = test}, player);
  };
  const FoundGoal right = goal_for(even(), RollingTest::right);
  ASSERT_TRUE(right.findings.facing_explains);
  EXPECT_GT(right.findings.facing_explains->facing, kNoticedImbalance);
  EXPECT_NEAR(right.findings.facing_explains->shape, 0.0, 0.005);
  EXPECT_FALSE(goal_for(even(), RollingTest::left).findings.facing_explains) << "the rails make the other answer";
  EXPECT_FALSE(goal_for(even(), RollingTest::not_done).findings.facing_explains);
  EXPECT_FALSE(goal_for(heavy_rail(), RollingTest::right).findings.facing_explains) << "its own rail is too thick";
  EXPECT_FALSE(set_for(even(), bend(even()), {.rolling_test = RollingTest::right}).findings.facing_explains)
      << "both rails are alike";
  // A shape that is as uneven, though the scan is not sure of it.
  BentReed unsure = bend(even(), player);
  SpreadValue& tip = unsure.mechanics.figures.at(index_of(BendingFigure::imbalance_tip));
  tip = {0.09, 0.05, 0.0};
  EXPECT_FALSE(set_for(even(), unsure, {.rolling_test = RollingTest::right}, player).findings.facing_explains);
  tip.value = -0.09;
  EXPECT_TRUE(set_for(even(), unsure, {.rolling_test = RollingTest::right}, player).findings.facing_explains)
      << "the shape makes the other answer";
}

// Nobody has to be asked then; the reed bends unevenly, surely or nearly.
TEST(PlanGoal, CaneThatWasBentTakesThePlaceOfTheRollingTest) {
  const test::ReedByHand reed = even();
  BentReed bent = bend(reed);
  EXPECT_EQ(set_for(reed, bent).goal.cane_right_over_left, 0.0);
  bent.sides = {0.06, 0.01, true};
  const FoundGoal set = set_for(reed, bent);
  EXPECT_EQ(set.goal.cane_right_over_left, 0.06);
  // The figures are those of the reed's own cane already: nothing is added to them a second time.
  EXPECT_EQ(set.goal.by_cane[0], 0.0);
}

}  // namespace
}  // namespace canewise
