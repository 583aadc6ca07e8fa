// What came off the vamp and off the planned places. Differences are made here, cell by cell, without layings: a reed
// of 13 by 68 mm whose vamp is 33 mm long, in cells of half a millimetre.
#include "scanproc/compare/removed_places.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "scanproc/scrape/scrape_steps.h"
#include "tests/support/plain_result.h"
#include "tests/support/refusals.h"

namespace canewise {
namespace {

using Index = Eigen::Index;
const Grid kGrid{0.5, 136, 26};
const float kNotSeen = std::numeric_limits<float>::quiet_NaN();

RemovedCane removed_all(double mm) {
  RemovedCane removed;
  removed.difference.grid = kGrid;
  removed.difference.removed_mm = Field::Constant(kGrid.rows, kGrid.columns, static_cast<float>(mm));
  removed.u_mm = Field::Constant(kGrid.rows, kGrid.columns, 0.001F);
  return removed;
}
/// One place to scrape: rows 20 to 39 and columns 21 to 24 lie in it.
Result planned_reed() {
  Result before = test::plain_result();
  before.plan.steps = {test::plain_step("here")};
  before.plan.steps[0].volume_mm3 = 0.024 * 20.0;
  for (const AlongBand along : kAlongBands)
    for (const AcrossBand across : kAcrossBands)
      for (const Side side : {Side::left, Side::right})
        before.assessment.zone_thickness.push_back({{along, across, side}, {}});
  return before;
}
PlannedCane planned_all(double mm) {
  const Field field = Field::Constant(kGrid.rows, kGrid.columns, static_cast<float>(mm));
  return {field, field};
}

// To 32 mm, a millimetre before the shoulder, and 0.3 mm inside the rim: 63 rows of 24 cells, 378 mm^2.
TEST(VolumeOffVamp, IsTheMeanTimesTheAreaThatIsSeen) {
  RemovedCane removed = removed_all(0.010);
  removed.difference.removed_mm.bottomRows(136 - 64).setConstant(1.0F);
  removed.difference.variance_mm2 = 1512.0 * 1e-8;
  const Volume volume = volume_off_vamp(removed, planned_reed());
  EXPECT_NEAR(volume.mm3, 3.78, 1e-6);
  EXPECT_NEAR(volume.u_mm3, 378.0 * 1e-4, 1e-9);
  removed.clipped_mm = 1.0;
  EXPECT_NEAR(volume_off_vamp(removed, planned_reed()).mm3, 3.66, 1e-6) << "two rows are gone, with the tip";
  removed.difference.removed_mm.row(30).setConstant(kNotSeen);
  EXPECT_NEAR(volume_off_vamp(removed, planned_reed()).mm3, 3.60, 1e-6);
}

TEST(VolumeOffVamp, NeedsAVamp) {
  RemovedCane removed = removed_all(0.01);
  removed.difference.removed_mm.topRows(64).setConstant(kNotSeen);
  EXPECT_EQ(test::refusal_of([&] { return volume_off_vamp(removed, planned_reed()); }).id, "comparison.no_vamp");
}

/// What is said of so many cells that grew and so many that lost 10 um, in the vamp's middle: four cells a mm^2.
std::string said_of(Index grown, Index gone, double by_mm = 0.010, float u_mm = 0.001F) {
  RemovedCane removed = removed_all(0.0);
  removed.u_mm.setConstant(u_mm);
  for (Index k = 0; k < grown + gone; ++k)
    removed.difference.removed_mm(5 + k / 20, 3 + k % 20) = static_cast<float>(k < grown ? -by_mm : by_mm);
  try {
    check_that_none_grew(removed, planned_reed());
  } catch (const NotMeasurable& error) {
    return error.message().id;
  }
  return {};
}

TEST(NoneGrew, MoreThanDustAndMoreThanTwiceWhatIsGoneIsTheWrongOrder) {
  EXPECT_EQ(said_of(16, 0), "") << "4 mm^2 of dust";
  EXPECT_EQ(said_of(17, 0), "comparison.more_cane");
  EXPECT_EQ(said_of(17, 8), "comparison.more_cane");
  EXPECT_EQ(said_of(17, 9), "");
  EXPECT_EQ(said_of(0, 500), "") << "that is what scraping does";
}

TEST(NoneGrew, MuchOfBothIsAnotherReed) {
  EXPECT_EQ(said_of(160, 161), "");
  EXPECT_EQ(said_of(161, 160), "");
  EXPECT_EQ(said_of(161, 161), "comparison.not_one_reed");
}

// A rail that is 40 um heavy left or right is some 30 mm^2: two such reeds are not before and after.
TEST(NoneGrew, ARailThatGrewWhileAnotherLostIsAnotherReedOverLess) {
  const auto said = [](double grown_mm, double gone_mm, float u_mm = 0.001F, double variance_mm2 = 0.0) {
    RemovedCane removed = removed_all(0.0);
    removed.u_mm.setConstant(u_mm);
    removed.difference.variance_mm2 = variance_mm2;
    // From 8.5 to 21 mm, and within 2 mm of either side: 25 mm^2 each.
    removed.difference.removed_mm.block(17, 0, 25, 4).setConstant(static_cast<float>(-grown_mm));
    removed.difference.removed_mm.block(17, 22, 25, 4).setConstant(static_cast<float>(gone_mm));
    try {
      check_that_none_grew(removed, planned_reed());
    } catch (const NotMeasurable& error) {
      return error.message().id;
    }
    return std::string();
  };
  EXPECT_EQ(said(0.030, 0.030), "comparison.not_one_reed");
  EXPECT_EQ(said(0.030, 0.0), "comparison.more_cane") << "the wrong order";
  EXPECT_EQ(said(0.0, 0.030), "") << "that is what scraping does";
  EXPECT_EQ(said(0.012, 0.030), "") << "as much as lying and light may do";
  EXPECT_EQ(said(0.030, 0.030, 0.001F, 0.01), "") << "as long as the mean is not sure";
}

TEST(NoneGrew, OnlyWhatIsSureCounts) {
  EXPECT_EQ(said_of(500, 0, 0.0079), "") << "less than 8 um";
  EXPECT_EQ(said_of(500, 0, 0.0081), "comparison.more_cane");
  EXPECT_EQ(said_of(500, 0, 0.0149, 0.005F), "") << "less than three standard uncertainties";
  EXPECT_EQ(said_of(500, 0, 0.0151, 0.005F), "comparison.more_cane");
  RemovedCane bark = removed_all(0.0);
  bark.difference.removed_mm.bottomRows(60).setConstant(-0.1F);
  EXPECT_NO_THROW(check_that_none_grew(bark, planned_reed())) << "nobody scrapes the bark";
}

TEST(RemovedSteps, AreJudgedByAQuarterOfThePlanAndFiveMicrometres) {
  const auto verdict = [](double planned_um, double removed_um) {
    const auto steps = removed_steps(removed_all(1e-3 * removed_um), planned_reed(), planned_all(1e-3 * planned_um));
    EXPECT_EQ(steps.size(), 1U);
    EXPECT_EQ(steps.at(0).where, planned_reed().plan.steps[0].where);
    EXPECT_NEAR(steps.at(0).planned_um, planned_um, 1e-4);
    EXPECT_NEAR(steps.at(0).removed_um, removed_um, 1e-4);
    return steps.at(0).as_planned;
  };
  EXPECT_EQ(verdict(40.0, 30.5), Verdict::within);
  EXPECT_EQ(verdict(40.0, 29.5), Verdict::outside);
  EXPECT_EQ(verdict(40.0, 49.5), Verdict::within);
  EXPECT_EQ(verdict(40.0, 50.5), Verdict::outside);
  EXPECT_EQ(verdict(12.0, 7.5), Verdict::within);
  EXPECT_EQ(verdict(12.0, 6.5), Verdict::outside);
}

TEST(RemovedSteps, CountTheirOwnCellsBehindTheClipOnly) {
  RemovedCane removed = removed_all(0.5);
  removed.difference.removed_mm.block(20, 21, 20, 4).setConstant(0.030F);
  removed.difference.removed_mm.block(20, 21, 11, 4).setConstant(0.010F);
  removed.difference.variance_mm2 = 80.0 * 4e-6;
  const RemovedStep whole = removed_steps(removed, planned_reed(), planned_all(0.02)).at(0);
  EXPECT_NEAR(whole.removed_um, (11.0 * 10.0 + 9.0 * 30.0) / 20.0, 1e-4);
  EXPECT_NEAR(whole.u_um, 2.0, 1e-6);
  removed.clipped_mm = 15.2;
  EXPECT_NEAR(removed_steps(removed, planned_reed(), planned_all(0.02)).at(0).removed_um, 30.0, 1e-4);
}

TEST(RemovedSteps, SayNothingWhereTooLittleIsSeen) {
  RemovedCane removed = removed_all(kNotSeen);
  const auto step = [&](const PlannedCane& planned) { return removed_steps(removed, planned_reed(), planned).at(0); };
  EXPECT_EQ(step(planned_all(0.02)).planned_um, 24.0) << "what the plan says";
  EXPECT_TRUE(std::isnan(step(planned_all(0.02)).removed_um));
  removed.difference.removed_mm.block(20, 21, 7, 1).setConstant(0.02F);
  EXPECT_TRUE(std::isnan(step(planned_all(0.02)).removed_um));
  EXPECT_TRUE(std::isnan(step(planned_all(0.02)).u_um));
  EXPECT_EQ(step(planned_all(0.02)).as_planned, Verdict::cannot_tell);
  removed.difference.removed_mm(27, 21) = 0.02F;
  EXPECT_NEAR(step(planned_all(0.02)).removed_um, 20.0, 1e-4) << "eight cells";
  // Left over right shows half of what was planned on both sides: the rest cannot be seen.
  PlannedCane half = planned_all(0.02);
  half.shown_mm *= 0.5F;
  EXPECT_FALSE(std::isnan(step(half).removed_um));
  removed.difference.left_right_only = true;
  EXPECT_TRUE(std::isnan(step(half).removed_um));
  EXPECT_NEAR(step(half).planned_um, 20.0, 1e-4);
  EXPECT_FALSE(std::isnan(step(planned_all(0.02)).removed_um));
}

/// Of the left front flank, 36 cells.
void take_off_left_front_flank(RemovedCane& removed, float mm) {
  removed.difference.removed_mm.block(7, 4, 9, 4).setConstant(mm);
}

TEST(LostElsewhere, IsTheZoneThatLostMostWhereNothingWasPlanned) {
  RemovedCane removed = removed_all(0.0);
  removed.difference.removed_mm.block(20, 21, 20, 4).setConstant(0.030F);
  EXPECT_FALSE(lost_elsewhere(removed, planned_reed())) << "that was planned";
  take_off_left_front_flank(removed, 0.010F);
  auto lost = lost_elsewhere(removed, planned_reed());
  ASSERT_TRUE(lost);
  EXPECT_EQ(lost->zone, (Zone{AlongBand::front, AcrossBand::flank, Side::left}));
  EXPECT_NEAR(lost->removed_um, 10.0, 1e-4);
  // 12 um off the right centre of the back, from 21.45 mm on.
  removed.difference.removed_mm.block(43, 13, 21, 5).setConstant(0.012F);
  lost = lost_elsewhere(removed, planned_reed());
  ASSERT_TRUE(lost);
  EXPECT_EQ(lost->zone, (Zone{AlongBand::back, AcrossBand::centre, Side::right}));
  EXPECT_NEAR(lost->removed_um, 12.0, 1e-4);
}

TEST(LostElsewhere, IsNothingThatIsSmallUnsureOrHardlySeen) {
  const auto lost = [](float mm, double variance_mm2, Index seen_rows = 9) {
    RemovedCane removed = removed_all(0.0);
    removed.difference.removed_mm.block(7, 4, 9, 4).setConstant(kNotSeen);
    removed.difference.removed_mm.block(7, 4, seen_rows, 4).setConstant(mm);
    removed.difference.variance_mm2 = variance_mm2;
    return lost_elsewhere(removed, planned_reed()).has_value();
  };
  EXPECT_TRUE(lost(0.0051F, 0.0));
  EXPECT_FALSE(lost(0.0049F, 0.0));
  // 36 cells of 18 um have 3 um: 9 um are sure.
  EXPECT_TRUE(lost(0.0092F, 0.018 * 0.018));
  EXPECT_FALSE(lost(0.0088F, 0.018 * 0.018));
  EXPECT_TRUE(lost(0.010F, 0.0, 5)) << "twenty cells";
  EXPECT_FALSE(lost(0.010F, 0.0, 4));
}

/// A hand that takes off so much of what the plan's strokes should, with 2 um a stroke expected.
RemovedCane scraped(const Field& planned_mm, double share) {
  RemovedCane removed = removed_all(0.0);
  removed.difference.removed_mm = planned_mm * static_cast<float>(share);
  return removed;
}

TEST(HandSeen, IsWhatCameOffOverWhatItsStrokesShouldTake) {
  const Result before = planned_reed();
  const Field planned_mm = removal_of(kGrid, before.plan.steps);
  const auto all = hand_seen(scraped(planned_mm, 1.3), before, {planned_mm, planned_mm}, {});
  ASSERT_TRUE(all);
  EXPECT_NEAR(all->seen_um, 2.6, 1e-5);
  EXPECT_NEAR(all->removed_over_planned, 1.3, 1e-5);
  // Half of the strokes by the same hand.
  for (const std::vector<double>& done : {std::vector<double>{0.5}, std::vector<double>{0.5, 0.5}}) {
    const auto half = hand_seen(scraped(planned_mm, 0.65), before, {planned_mm, planned_mm}, done);
    ASSERT_TRUE(half);
    EXPECT_NEAR(half->seen_um, 2.6, 1e-5);
    EXPECT_NEAR(half->removed_over_planned, 0.65, 1e-5);
  }
}

TEST(HandSeen, IsAsSureAsWhatCameOff) {
  const Result before = planned_reed();
  const Field planned_mm = removal_of(kGrid, before.plan.steps);
  RemovedCane removed = scraped(planned_mm, 1.0);
  double cells = 0.0, sum_mm = 0.0;
  for (Index r = 0; r < kGrid.rows; ++r) {
    for (Index c = 0; c < kGrid.columns; ++c) {
      if (!within_slip(before.plan.steps[0], kGrid.x_mm(r), kGrid.y_mm(c))) continue;
      cells += 1.0, sum_mm += static_cast<double>(planned_mm(r, c));
    }
  }
  removed.difference.variance_mm2 = 1e-4;
  const auto hand = hand_seen(removed, before, {planned_mm, planned_mm}, {});
  ASSERT_TRUE(hand);
  EXPECT_NEAR(hand->u_seen_rel, 0.01 * std::sqrt(cells) / sum_mm, 1e-6);
  EXPECT_NEAR(hand->u_removed_over_planned, hand->u_seen_rel, 1e-6);
}

TEST(HandSeen, IsNoneWhereNothingWasDoneOrHalfOfItIsHidden) {
  const Result before = planned_reed();
  const Field planned_mm = removal_of(kGrid, before.plan.steps);
  const PlannedCane planned{planned_mm, planned_mm};
  EXPECT_FALSE(hand_seen(scraped(planned_mm, 1.0), before, planned, {0.0}));
  EXPECT_FALSE(hand_seen(scraped(planned_mm, 0.0), before, planned, {}));
  RemovedCane unsure = scraped(planned_mm, 1.0);
  unsure.difference.variance_mm2 = 1.0;
  EXPECT_FALSE(hand_seen(unsure, before, planned, {}));
  // The place is 20 rows long.
  RemovedCane hidden = scraped(planned_mm, 1.0);
  hidden.difference.removed_mm.topRows(27).setConstant(kNotSeen);
  EXPECT_TRUE(hand_seen(hidden, before, planned, {}));
  hidden.difference.removed_mm.topRows(33).setConstant(kNotSeen);
  EXPECT_FALSE(hand_seen(hidden, before, planned, {}));
}

}  // namespace
}  // namespace canewise
