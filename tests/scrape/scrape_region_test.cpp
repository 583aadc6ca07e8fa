#include "scanproc/scrape/scrape_region.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "tests/support/reed_by_hand.h"

namespace canewise {
namespace {

/// Reaches 1.2 mm along, 0.8 mm across, 0.9 mm to the tip.
constexpr Footprint kHand{.tool_width_mm = 3.0, .edge_mm = 0.4, .run_out_mm = 1.2, .slip_mm = 0.6};
constexpr double kMargin_mm = 0.5;

test::ReedByHand wedge() {
  return test::reed_by_hand([](double x, double) { return test::plain_wedge_mm(x); });
}
ScrapeField field_of(const test::ReedByHand& reed) {
  return {reed.map, reed.outline, reed.assessment, {.footprint = kHand, .tip_margin_mm = kMargin_mm}};
}
Eigen::Index row_at(double x_mm) { return static_cast<Eigen::Index>(std::floor(x_mm / 0.25)); }
Eigen::Index column_at(double y_mm) { return static_cast<Eigen::Index>(std::floor(y_mm / 0.25)) + 24; }
bool free_at(const ScrapeField& field, double x_mm, double y_mm) { return field.free(row_at(x_mm), column_at(y_mm)); }

struct Extent {
  double x0 = 1e9, x1 = -1e9, inner = 1e9, outer = -1e9;  ///< Across by distance from the centreline.
  explicit Extent(const std::vector<PlanPoint>& polygon) {
    for (const PlanPoint& p : polygon) {
      x0 = std::min(x0, p.x_mm), x1 = std::max(x1, p.x_mm);
      inner = std::min(inner, std::abs(p.y_mm)), outer = std::max(outer, std::abs(p.y_mm));
    }
  }
};
std::vector<Station> straight(double from_mm, double to_mm, double inner_mm, double outer_mm) {
  std::vector<Station> stations;
  for (int k = 0; k <= 4; ++k) stations.push_back({from_mm + 0.25 * k * (to_mm - from_mm), inner_mm, outer_mm});
  return stations;
}

TEST(ScrapeRegion, APolygonHoldsWhatLiesInsideAndNotInItsBays) {
  const std::vector<PlanPoint> bay{{0.0, 0.0}, {8.0, 0.0}, {8.0, 6.0}, {4.0, 2.0}, {0.0, 6.0}};
  EXPECT_TRUE(holds(bay, 4.0, 1.0));
  EXPECT_TRUE(holds(bay, 1.0, 4.0));
  EXPECT_TRUE(holds(bay, 7.0, 4.0));
  EXPECT_FALSE(holds(bay, 4.0, 4.0)) << "in the bay";
  EXPECT_FALSE(holds(bay, -1.0, 1.0));
  EXPECT_FALSE(holds(bay, 4.0, -1.0));
  EXPECT_FALSE(holds({}, 1.0, 1.0));
}

TEST(ScrapeRegion, APlaceIsDrawnUpToTheRimOfEitherSide) {
  const auto drawn = on_reed({{10.0, 4.0}, {10.0, 8.5}, {20.0, -7.0}, {20.0, -3.0}}, wedge().outline);
  EXPECT_EQ(drawn[0].y_mm, 4.0);
  EXPECT_EQ(drawn[1].y_mm, 6.0);
  EXPECT_EQ(drawn[2].y_mm, -6.0);
  EXPECT_EQ(drawn[3].y_mm, -3.0);
  EXPECT_EQ(drawn[2].x_mm, 20.0);
}

TEST(ScrapeRegion, HeartTipBarkAndWhatNobodySawAreNotFree) {
  test::ReedByHand reed = wedge();
  reed.map.thickness_mm.bottomRows(reed.map.grid.rows - row_at(40.1))
      .setConstant(static_cast<float>(test::ReedByHand::kBark_mm));
  reed.map.thickness_mm(row_at(30.1), column_at(-3.1)) = std::numeric_limits<float>::quiet_NaN();
  reed.map.thickness_mm(row_at(33.1), column_at(3.1)) = 3.15F;  // Bark: less than 80 um under its 3.2 mm.
  reed.map.thickness_mm(row_at(34.1), column_at(3.1)) = 3.10F;
  const ScrapeField field = field_of(reed);
  EXPECT_TRUE(free_at(field, 18.1, 2.4));
  EXPECT_TRUE(free_at(field, 9.9, -0.1)) << "before the heart";
  EXPECT_FALSE(free_at(field, 10.1, -0.1)) << "the heart";
  EXPECT_FALSE(free_at(field, 25.9, 1.9));
  EXPECT_TRUE(free_at(field, 26.1, 1.9)) << "behind the heart";
  EXPECT_FALSE(free_at(field, 0.4, 3.1)) << "the last half millimetre of the tip";
  EXPECT_TRUE(free_at(field, 0.6, 3.1));
  EXPECT_TRUE(free_at(field, 39.9, 3.1));
  EXPECT_FALSE(free_at(field, 40.1, 3.1)) << "behind the vamp";
  EXPECT_FALSE(free_at(field, 30.1, -3.1)) << "not measured";
  EXPECT_FALSE(free_at(field, 33.1, 3.1)) << "bark";
  EXPECT_TRUE(free_at(field, 34.1, 3.1));
}

// The heart lies from 10 to 26 mm, 2.1 mm to either side.
TEST(ScrapeRegion, BesideTheHeartABorderKeepsASlipAway) {
  const test::ReedByHand reed = wedge();
  const ScrapeField field = field_of(reed);
  EXPECT_NEAR(field.innermost_mm(18.0), 2.1 + 0.8, 1e-12);
  EXPECT_NEAR(field.innermost_mm(9.0), 2.9, 1e-12) << "a slip along reaches it from 8.8 mm on";
  EXPECT_NEAR(field.innermost_mm(27.1), 2.9, 1e-12);
  EXPECT_EQ(field.innermost_mm(8.7), 0.0);
  EXPECT_EQ(field.innermost_mm(27.3), 0.0);
}

TEST(ScrapeRegion, AtTheTipASlipTakesLessTheFartherTheBorderStaysBehind) {
  const test::ReedByHand reed = wedge();
  const ScrapeField field = field_of(reed);
  EXPECT_NEAR(field.sure_of_tip_mm(), 0.9, 1e-12);
  EXPECT_NEAR(field.share_at_tip(0.0), 0.75, 1e-12);  // 0.9 of 1.2 mm run-out.
  EXPECT_NEAR(field.share_at_tip(0.3), 0.5, 1e-12);
  EXPECT_EQ(field.share_at_tip(0.9), 0.0);
  EXPECT_EQ(field.share_at_tip(2.0), 0.0);
  EXPECT_EQ(field.share_at_tip(-1.0), 1.0);
}

TEST(ScrapeRegion, APlaceIsAsWideAsTheToolAboutItsMiddleOnItsOwnSide) {
  const test::ReedByHand reed = wedge();
  const ScrapeField field = field_of(reed);
  for (const Side side : {Side::left, Side::right}) {
    const auto polygon = field.polygon(side, straight(30.0, 36.0, 2.5, 3.5), 0.0, 3.0);
    const Extent extent(polygon);
    EXPECT_NEAR(extent.inner, 1.5, 1e-9);
    EXPECT_NEAR(extent.outer, 4.5, 1e-9);
    EXPECT_NEAR(extent.x0, 30.0, 1e-9);
    EXPECT_NEAR(extent.x1, 36.0, 1e-9);
    for (const PlanPoint& p : polygon) EXPECT_GT(p.y_mm * static_cast<double>(side), 0.0);
    EXPECT_TRUE(holds(polygon, 33.0, 3.0 * static_cast<double>(side)));
  }
  const Extent wide(field.polygon(Side::right, straight(30.0, 36.0, 0.5, 4.4), 0.0, 3.0));
  EXPECT_NEAR(wide.inner, 0.5, 1e-9) << "wide enough: as it is";
  EXPECT_NEAR(wide.outer, 4.4, 1e-9);
}

TEST(ScrapeRegion, AtTheRimTheToolHangsOverAndHoldsOn) {
  const test::ReedByHand reed = wedge();
  const ScrapeField field = field_of(reed);
  const Extent rail(field.polygon(Side::right, straight(30.0, 36.0, 4.8, 5.6), 0.0, 3.0));
  EXPECT_NEAR(rail.inner, 4.8, 1e-9) << "it cuts no farther in";
  EXPECT_NEAR(rail.outer, 7.8, 1e-9);
  const Extent narrow_tool(field.polygon(Side::right, straight(30.0, 36.0, 4.8, 5.6), 0.0, 1.0));
  EXPECT_NEAR(narrow_tool.outer, 6.6, 1e-9) << "over the rim by a slip";
  const Extent thin_strip(field.polygon(Side::right, straight(30.0, 36.0, 5.7, 5.9), 0.0, 3.0));
  EXPECT_NEAR(thin_strip.inner, 5.2, 1e-9) << "0.8 mm of hold on the reed";
}

TEST(ScrapeRegion, BesideTheHeartAPlaceIsPushedOutwardsAndNotIn) {
  const test::ReedByHand reed = wedge();
  const ScrapeField field = field_of(reed);
  for (const Side side : {Side::left, Side::right}) {
    const Extent extent(field.polygon(side, straight(12.0, 20.0, 1.0, 4.0), 0.0, 3.0));
    EXPECT_NEAR(extent.inner, 2.9, 1e-9);
    EXPECT_NEAR(extent.outer, 6.6, 1e-9) << "so wide a tool hangs over there";
  }
}

TEST(ScrapeRegion, BehindTheTipItStaysAsFarAsAskedAndFollowsTheArc) {
  test::ReedByHand reed = wedge();
  const Extent flat(field_of(reed).polygon(Side::right, straight(0.0, 6.0, 2.0, 4.0), 0.9, 1.0));
  EXPECT_GE(flat.x0, 1.4 - 1e-9);  // Margin of 0.5 mm and 0.9 mm behind it.
  EXPECT_LE(flat.x0, 1.5 + 1e-9);  // It is looked for in tenths.
  reed.outline.tip_edge_first_y_mm = -6.0;
  for (int k = 0; k <= 48; ++k) reed.outline.tip_edge_mm.push_back(std::pow(-6.0 + 0.25 * k, 2) / 20.0);
  const auto polygon = field_of(reed).polygon(Side::left, straight(0.0, 8.0, 3.0, 6.5), 0.9, 3.0);
  ASSERT_FALSE(polygon.empty());
  for (const PlanPoint& p : polygon) {
    if (std::abs(p.y_mm) > 5.85) continue;
    EXPECT_GE(p.x_mm, p.y_mm * p.y_mm / 20.0 + 1.4 - 0.01) << p.y_mm;
  }
  EXPECT_GT(Extent(polygon).outer, 6.5) << "behind the corner it hangs over the rim again";
}

TEST(ScrapeRegion, APlaceEndsHalfAMillimetreBeforeTheFirstBark) {
  test::ReedByHand reed = wedge();
  reed.map.thickness_mm(row_at(33.1), column_at(3.1)) = 3.15F;
  const ScrapeField field = field_of(reed);
  EXPECT_NEAR(Extent(field.polygon(Side::right, straight(30.0, 36.0, 2.5, 3.5), 0.0, 3.0)).x1, 33.125 - 0.5, 1e-9);
  EXPECT_NEAR(Extent(field.polygon(Side::left, straight(30.0, 36.0, 2.5, 3.5), 0.0, 3.0)).x1, 36.0, 1e-9)
      << "bark on the other side is no matter";
}

TEST(ScrapeRegion, WhereNothingWorthTheNameIsLeftThereIsNoPlace) {
  const test::ReedByHand reed = wedge();
  const ScrapeField field = field_of(reed);
  EXPECT_TRUE(field.polygon(Side::right, {{30.0, 2.0, 4.0}}, 0.0, 3.0).empty()) << "one station";
  EXPECT_TRUE(field.polygon(Side::right, straight(30.0, 30.8, 2.0, 5.0), 0.0, 3.0).empty()) << "under a millimetre";
  EXPECT_TRUE(field.lane_polygon({Side::right, AcrossBand::centre, 12.0, 20.0}, 3.0).empty()) << "the heart";
}

TEST(ScrapeRegion, ALaneOfTheMiddleEndsASlipBeforeTheHeartAndBeginsASlipBehindIt) {
  const test::ReedByHand reed = wedge();
  const ScrapeField field = field_of(reed);
  const Extent before(field.lane_polygon({Side::right, AcrossBand::centre, 5.0, 14.0}, 2.0));
  EXPECT_NEAR(before.x0, 5.0, 1e-9);
  EXPECT_NEAR(before.x1, 8.8, 1e-9);
  const Extent behind(field.lane_polygon({Side::right, AcrossBand::centre, 20.0, 32.0}, 2.0));
  EXPECT_NEAR(behind.x0, 27.2, 1e-9);
  EXPECT_NEAR(behind.x1, 32.0, 1e-9);
  const Extent rail(field.lane_polygon({Side::left, AcrossBand::rail, 30.0, 36.0}, 1.0));
  EXPECT_NEAR(rail.inner, 4.2, 1e-9);
  EXPECT_NEAR(rail.outer, 6.6, 1e-9);
}

TEST(ScrapeRegion, ItsCellsAreTheFreeOnesInside) {
  test::ReedByHand reed = wedge();
  const std::vector<PlanPoint> right{{30.0, 3.0}, {30.0, 4.0}, {32.0, 4.0}, {32.0, 3.0}};
  auto cells = field_of(reed).cells_in(right);
  EXPECT_EQ(cells.size(), 32U);  // Eight rows by four columns.
  const Eigen::Index one = column_at(3.1) * 240 + row_at(30.1);
  EXPECT_EQ(std::count(cells.begin(), cells.end(), one), 1);
  for (const Eigen::Index cell : cells) EXPECT_GT(reed.map.grid.y_mm(cell / 240), 3.0);
  reed.map.thickness_mm.data()[one] = std::numeric_limits<float>::quiet_NaN();
  cells = field_of(reed).cells_in(right);
  EXPECT_EQ(cells.size(), 31U);
  EXPECT_TRUE(field_of(reed).cells_in({}).empty());
}

}  // namespace
}  // namespace canewise
