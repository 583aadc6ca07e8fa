// Where the cut ends in one column of the map. Columns are made here: a straight bark, below it a cut that starts at a
// known place, each height the mean over the 0.75 mm of a cell's plane.
#include "scanproc/assess/column_end.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <utility>

namespace canewise {
namespace {

constexpr double kBark_mm = 3.0, kRise = 0.002, kCell_mm = 0.25, kEnd_mm = 30.03, kSlope = 0.15;

struct Cut {
  double slope = kSlope, bend = 0.0;
};
double surface(double x, const Cut& cut) {
  const double before = std::max(0.0, kEnd_mm - x);
  return kBark_mm + kRise * x - cut.slope * before - cut.bend * before * before;
}
/// From 20 to 60 mm, or without the cells between two places.
MapColumn column_of(const Cut& cut, double none_from = 0.0, double none_to = 0.0) {
  MapColumn column;
  for (double x = 20.125; x < 60.0; x += kCell_mm) {
    if (x > none_from && x < none_to) continue;
    constexpr int samples = 750;
    double sum = 0.0;
    for (int k = 0; k < samples; ++k) sum += surface(x - 0.375 + 0.001 * (k + 0.5), cut);
    column.x_mm.push_back(x);
    column.height_mm.push_back(sum / samples);
  }
  return column;
}
void sink(MapColumn& column, double from, double to, double by_mm) {
  for (std::size_t i = 0; i < column.x_mm.size(); ++i)
    if (column.x_mm[i] > from && column.x_mm[i] < to) column.height_mm[i] -= by_mm;
}

TEST(ColumnsNearCentre, AreThoseWithinFortyFiveHundredthsOfTheHalfWidthAtTheReedsMiddle) {
  ThicknessMap map;
  map.grid = {kCell_mm, 272, 52};
  map.thickness_mm = Field::Constant(272, 52, 2.5F);
  map.thickness_mm(100, 26) = std::numeric_limits<float>::quiet_NaN();
  map.thickness_mm(101, 26) = 1.75F;
  Outline outline;
  outline.left = {-5.5, -0.02}, outline.right = {5.5, 0.02};
  // 5.5 + 0.02 * 34 mm = 6.18 mm, of which 0.45 are 2.781 mm: columns at 2.625 mm are in, at 2.875 mm out.
  const auto columns = columns_near_centre(map, outline, 68.0);
  ASSERT_EQ(columns.size(), 22U);
  EXPECT_NEAR(columns.front().y_mm, -2.625, 1e-12);
  EXPECT_NEAR(columns.back().y_mm, 2.625, 1e-12);
  // To 66.5 mm: the butt's edge is no bark. The last cell is that at 66.375 mm.
  EXPECT_EQ(columns.front().x_mm.size(), 266U);
  EXPECT_NEAR(columns.front().x_mm.back(), 66.375, 1e-9);
  const MapColumn& with_gap = columns.at(11);
  ASSERT_EQ(with_gap.x_mm.size(), 265U);
  EXPECT_NEAR(with_gap.x_mm.at(100), 25.375, 1e-9) << "after the cell that was not measured";
  EXPECT_EQ(with_gap.height_mm.at(100), 1.75);
}

// The bark is left where 80 um are missing: 0.533 mm before the end, so that the cell at 29.375 mm is the first.
TEST(RoughEnd, IsTheFirstCellBelowTheBark) {
  EXPECT_NEAR(rough_end(column_of({}), 35.0), 29.375, 1e-9);
  EXPECT_NEAR(rough_end(column_of({1.0}), 35.0), 29.875, 1e-9) << "steep";
}

TEST(RoughEnd, MarksInTheBarkAreNoEnd) {
  MapColumn marked = column_of({});
  sink(marked, 33.0, 34.5, 0.3);
  sink(marked, 45.0, 46.5, 0.3);
  EXPECT_NEAR(rough_end(marked, 35.0), 29.375, 1e-9);
}

TEST(RoughEnd, IsNotFoundWithoutACutOrWithoutEnoughBark) {
  EXPECT_TRUE(std::isnan(rough_end(column_of({0.0}), 35.0)));
  EXPECT_TRUE(std::isnan(rough_end(column_of({}), 57.5))) << "ten cells";
  EXPECT_FALSE(std::isnan(rough_end(column_of({}), 56.5))) << "fourteen";
  // Only 3 mm of the cut were seen: that may be a mark.
  EXPECT_TRUE(std::isnan(rough_end(column_of({}, 0.0, 26.4), 35.0)));
  EXPECT_FALSE(std::isnan(rough_end(column_of({}, 0.0, 24.9), 35.0)));
}

TEST(FitEnd, FindsEndAndSlopeOfAStraightCut) {
  const ColumnEnd end = fit_end(column_of({}), {29.375}, {4.0, 5.0});
  EXPECT_NEAR(end.at_mm, kEnd_mm, 0.005);
  EXPECT_NEAR(end.slope, kSlope, 0.003);
  EXPECT_NEAR(end.gap_mm, kCell_mm, 1e-9);
  // Cells from 25.375 to 34.375 mm: 19 before 30.03 mm, 18 behind.
  EXPECT_EQ(end.cut_cells, 19.0);
  EXPECT_EQ(end.bark_cells, 18.0);
  EXPECT_LT(end.squares_mm2 + end.bark_squares_mm2, 1e-6);
}

TEST(FitEnd, FindsThatOfACurvedCut) {
  const ColumnEnd end = fit_end(column_of({0.2, -0.015}), {29.375}, {4.0, 5.0});
  EXPECT_NEAR(end.at_mm, kEnd_mm, 0.02);
  EXPECT_NEAR(end.slope, 0.2, 0.01);
}

TEST(FitEnd, SaysHowFarCellsScatterBesideIt) {
  MapColumn column = column_of({});
  // By turns up and down: 2 um in the cut and 1 um in the bark.
  for (std::size_t i = 0; i < column.x_mm.size(); ++i)
    column.height_mm[i] += (i % 2 == 0 ? 1.0 : -1.0) * (column.x_mm[i] < kEnd_mm ? 2e-3 : 1e-3);
  const ColumnEnd end = fit_end(column, {29.375}, {4.0, 5.0});
  EXPECT_NEAR(end.at_mm, kEnd_mm, 0.05);
  EXPECT_NEAR(end.squares_mm2 / end.cut_cells, 4e-6, 0.8e-6);
  EXPECT_NEAR(end.bark_squares_mm2 / end.bark_cells, 1e-6, 0.2e-6);
}

TEST(FitEnd, LeavesTheCornerOutWhereItIsTold) {
  MapColumn rounded = column_of({});
  sink(rounded, 29.6, 30.6, 0.02);
  const ColumnEnd with = fit_end(rounded, {29.375}, {4.0, 5.0}),
                  without = fit_end(rounded, {29.375, 30.1}, {4.0, 5.0, 0.5});
  EXPECT_GT(std::abs(with.at_mm - kEnd_mm), 0.05);
  EXPECT_NEAR(without.at_mm, kEnd_mm, 0.02);
  EXPECT_EQ(without.cut_cells + without.bark_cells, 33.0) << "four cells less";
}

TEST(FitEnd, MayLieInAGap) {
  // No cells between 29.5 and 30.5 mm.
  const ColumnEnd end = fit_end(column_of({}, 29.5, 30.5), {29.375}, {4.0, 5.0});
  EXPECT_NEAR(end.at_mm, kEnd_mm, 0.02);
  EXPECT_NEAR(end.gap_mm, 30.625 - 29.375, 1e-9);
}

TEST(FitEnd, IsNotFoundWhereNothingDropsOrTooLittleIsSeen) {
  EXPECT_TRUE(std::isnan(fit_end(column_of({-0.15}), {29.375}, {4.0, 5.0}).at_mm)) << "it rises";
  EXPECT_TRUE(std::isnan(fit_end(column_of({}), {29.375}, {1.0, 1.2}).at_mm)) << "nine cells";
  EXPECT_TRUE(std::isnan(fit_end(column_of({}), {}, {4.0, 5.0}).at_mm)) << "nobody knows where to look";
}

}  // namespace
}  // namespace canewise
