#include "scanproc/scrape/scrape_places.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "scanproc/core/budget.h"
#include "tests/support/reed_by_hand.h"

namespace canewise {
namespace {

constexpr double kFloor_mm = 0.05;
constexpr std::size_t kBackRail = 11, kBackFlank = 10;

/// The right rail is 30 um too thick all along.
test::ReedByHand heavy_right_rail() {
  return test::reed_by_hand([](double x, double y) { return test::plain_wedge_mm(x) + (y > 4.2 ? 0.030 : 0.0); });
}
/// Keeps the reed that the maker only refers to.
struct Bench {
  test::ReedByHand reed;
  ScrapeField field;
  PlaceMaker maker;
  explicit Bench(test::ReedByHand r)
      : reed(std::move(r)),
        field(reed.map, reed.outline, reed.assessment, {.footprint = {}, .tip_margin_mm = 0.5}),
        maker(reed.map, reed.assessment, field, kFloor_mm) {}
};
Lane rail_lane(std::vector<Side> sides, StepAim aim = StepAim::balance) {
  return {aim, std::move(sides), AcrossBand::rail, 28.0, 34.0};
}

// From 4.2 mm (by halves of cells 4.25 mm) to the rim at 6 mm over 6 mm: 10.5 mm2. A border's soft part beyond it is
// 0.4 of its deviation, 0.505 mm: 1.21 mm2 of the rail's cut lie on the flank. Of the back's 56 rows the rail has 7
// columns, 24.5 mm2, and the flank 9, 31.5 mm2.
TEST(ScrapePlaces, WhatAMillimetreOfDepthChangesIsItsShareOfEachZone) {
  const Bench bench(heavy_right_rail());
  for (const auto& [side, sign] : {std::pair{Side::right, -1.0}, {Side::left, 1.0}}) {
    const auto place = bench.maker.lane(rail_lane({side}));
    ASSERT_TRUE(place);
    EXPECT_NEAR(place->area_mm2, 10.5, 0.2);
    EXPECT_NEAR(place->difference.at(kBackRail) * sign, 9.29 / 24.5, 0.015) << "cane off the right lessens it";
    EXPECT_NEAR(place->difference.at(kBackFlank) * sign, 1.21 / 31.5, 0.003);
    EXPECT_NEAR(place->half_zone.at(half_zone_index(kBackRail, side)), -9.29 / 24.5, 0.015);
    EXPECT_EQ(place->half_zone.at(half_zone_index(kBackRail, side == Side::left ? Side::right : Side::left)), 0.0);
    double cells = 0.0;
    for (std::size_t z = 0; z < 12; ++z)
      cells += place->difference.at(z) * static_cast<double>(bench.reed.assessment.balance.zones[z].difference.cells);
    EXPECT_NEAR(cells * sign * 0.0625, place->area_mm2, 1e-4) << "no cane is lost between zones";
  }
}

TEST(ScrapePlaces, APlaceKnowsWhereItLies) {
  const Bench bench(heavy_right_rail());
  const auto place = bench.maker.lane({StepAim::balance, {Side::right}, AcrossBand::flank, 22.0, 30.0});
  ASSERT_TRUE(place);
  EXPECT_EQ(place->from_mm, 22.0);
  EXPECT_EQ(place->to_mm, 30.0);
  EXPECT_EQ(place->across, AcrossBand::flank);
  EXPECT_EQ(place->along, (std::vector{AlongBand::middle, AlongBand::back}));
  EXPECT_EQ(place->fault, -1);
  ASSERT_EQ(place->parts.size(), 1U);
  EXPECT_EQ(place->parts.front().side, Side::right);
}

// 28.125 mm is its thinnest row, 31 mm its middle.
TEST(ScrapePlaces, ThicknessSurplusAndWhatMayComeOffAreThoseOfItsCells) {
  const Bench bench(heavy_right_rail());
  const auto right = bench.maker.lane(rail_lane({Side::right})), left = bench.maker.lane(rail_lane({Side::left}));
  ASSERT_TRUE(right && left);
  EXPECT_NEAR(right->surplus_mm, 0.030, 1e-6);
  EXPECT_NEAR(left->surplus_mm, -0.030, 1e-6) << "too thin against the other side";
  EXPECT_NEAR(right->thickness_mm, 0.15 + 0.05 * 31.0 + 0.030, 1e-6);
  EXPECT_NEAR(right->most_mm, 0.15 + 0.05 * 28.125 + 0.030 - kFloor_mm, 1e-6);
  EXPECT_NEAR(left->most_mm, 0.15 + 0.05 * 28.125 - kFloor_mm, 1e-6);
}

// 24 rows of 7 cells of 0.5 um each: sqrt(2/168) x 0.5 um. A roll of 1 um at the rim moves the difference by 2
// x 5.125/6 um in their mean.
TEST(ScrapePlaces, ItsUncertaintyIsThatOfTheDifferenceAtNinetyFivePerCent) {
  test::ReedByHand reed = heavy_right_rail();
  const Bench quiet(reed);
  const double noise = 0.5e-3 * std::sqrt(2.0 / 168.0);
  EXPECT_NEAR(quiet.maker.lane(rail_lane({Side::right}))->u95_mm, kCoverage95 * noise, 1e-9);
  CommonEffect roll{EffectSource::seating, {}, Field::Zero(240, 48)};
  for (Eigen::Index c = 0; c < 48; ++c)
    roll.shift_mm.col(c).setConstant(static_cast<float>(0.001 * reed.map.grid.y_mm(c) / 6.0));
  reed.map.common.push_back(roll);
  const Bench rolled(reed);
  EXPECT_NEAR(rolled.maker.lane(rail_lane({Side::right}))->u95_mm, kCoverage95 * std::hypot(noise, 0.002 * 5.125 / 6.0),
              1e-8);
}

TEST(ScrapePlaces, APairTakesAlikeFromBothSidesAndChangesNoBalance) {
  const Bench bench(heavy_right_rail());
  const auto pair = bench.maker.lane(rail_lane({Side::left, Side::right}, StepAim::softer));
  ASSERT_TRUE(pair);
  ASSERT_EQ(pair->parts.size(), 2U);
  EXPECT_NEAR(pair->area_mm2, 2.0 * 10.5, 0.4);
  for (std::size_t z = 0; z < 12; ++z) EXPECT_NEAR(pair->difference.at(z), 0.0, 1e-6) << z;
  EXPECT_NEAR(pair->half_zone.at(half_zone_index(kBackRail, Side::left)),
              pair->half_zone.at(half_zone_index(kBackRail, Side::right)), 1e-6);
  EXPECT_EQ(pair->surplus_mm, 0.0) << "softer asks for no surplus";
}

TEST(ScrapePlaces, TowardsATargetTheLesserOfBothSidesSurplusCounts) {
  test::ReedByHand reed = heavy_right_rail();
  TargetComparison target;
  target.deviation_mm = Field::Constant(240, 48, 0.020F);
  target.deviation_mm.rightCols(24).setConstant(0.050F);
  for (const ZoneThickness& zone : reed.assessment.zone_thickness) {
    ZoneDeviation deviation;
    deviation.zone = zone.zone;
    deviation.deviation.u_mm = 1e-4;
    if (zone.zone == Zone{AlongBand::back, AcrossBand::rail, Side::left}) deviation.deviation.u_mm = 0.002;
    if (zone.zone == Zone{AlongBand::back, AcrossBand::rail, Side::right}) deviation.deviation.u_mm = 0.001;
    target.zones.push_back(deviation);
  }
  reed.assessment.target = target;
  const Bench bench(reed);
  const auto pair = bench.maker.lane(rail_lane({Side::left, Side::right}, StepAim::target));
  ASSERT_TRUE(pair);
  EXPECT_NEAR(pair->surplus_mm, 0.020, 1e-6);
  EXPECT_NEAR(pair->u95_mm, kCoverage95 * 0.002, 1e-9) << "the less certain side";
}

TEST(ScrapePlaces, WhereNothingMayBeScrapedOrComparedThereIsNoPlace) {
  const Bench bench(heavy_right_rail());
  EXPECT_FALSE(bench.maker.lane({StepAim::balance, {Side::right}, AcrossBand::centre, 12.0, 20.0})) << "the heart";
  test::ReedByHand half_seen = heavy_right_rail();
  half_seen.map.thickness_mm.leftCols(24).setConstant(std::numeric_limits<float>::quiet_NaN());
  test::assess_again(half_seen);
  EXPECT_FALSE(Bench(half_seen).maker.lane(rail_lane({Side::right}))) << "no other side to compare with";
}

// Default hand: a slip reaches 0.35 + 0.5 mm to the tip and runs out over 1 mm.
TEST(ScrapePlaces, AStretchKeepsItsBordersAndItsShareAtTheTip) {
  const Bench bench(heavy_right_rail());
  const auto place = bench.maker.stretch(Side::left, {{30.0, 2.0, 4.0}, {33.0, 2.0, 4.0}, {36.0, 2.0, 4.0}}, 0.2);
  ASSERT_TRUE(place);
  EXPECT_EQ(place->from_mm, 30.0);
  EXPECT_EQ(place->to_mm, 36.0);
  EXPECT_EQ(place->parts.front().side, Side::left);
  EXPECT_NEAR(place->share_at_tip, 0.65, 1e-12);
  EXPECT_EQ(place->across, AcrossBand::flank) << "where most of the cut lies";
  EXPECT_LT(place->half_zone.at(half_zone_index(kBackFlank, Side::left)), -0.1);
}

// The vamp's bands end at 4, 10, 26 and 40 mm: 1, 2, 5 and 5 pieces of about 3 mm.
TEST(ScrapePlaces, NoPieceOfAVampLiesInTwoBands) {
  const std::vector<double> ends = Bench(heavy_right_rail()).maker.stations(3.0);
  ASSERT_EQ(ends.size(), 14U);
  EXPECT_EQ(ends.front(), 0.0);
  for (const double border : {4.0, 10.0, 26.0, 40.0})
    EXPECT_TRUE(std::any_of(ends.begin(), ends.end(), [&](double x) { return std::abs(x - border) < 1e-9; })) << border;
  for (std::size_t k = 1; k < ends.size(); ++k) {
    EXPECT_GT(ends[k] - ends[k - 1], 2.0);
    EXPECT_LT(ends[k] - ends[k - 1], 4.5);
  }
}

TEST(ScrapePlaces, HalfZonesAreCountedLeftBeforeRight) {
  const test::ReedByHand reed = heavy_right_rail();
  for (std::size_t z = 0; z < 12; ++z) {
    for (const Side side : {Side::left, Side::right}) {
      const Zone& zone = reed.assessment.zone_thickness.at(half_zone_index(z, side)).zone;
      EXPECT_EQ(static_cast<std::size_t>(ZoneMap::label_of(zone.along, zone.across)), z);
      EXPECT_EQ(zone.side, side);
    }
  }
}

}  // namespace
}  // namespace canewise
