// What two layings-down make of a difference is found on cane that nobody touched, and taken off everywhere.
#include "scanproc/compare/removed_cane.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <tuple>
#include <utility>

#include "tests/support/plain_result.h"
#include "tests/support/refusals.h"

namespace canewise {
namespace {

using Index = Eigen::Index;
const Grid kGrid{0.5, 136, 26};
constexpr double kSpread = 0.003, kScraped_mm = 0.03;

/// A reed of 13 by 68 mm with one place to scrape: 10 to 20 mm from the tip, 4 to 6 mm right of the centreline.
Result planned_reed() {
  Result result = test::plain_result();
  result.plan.steps = {test::plain_step("here")};
  return result;
}
bool in_place(double x, double y) { return x > 10.0 && x < 20.0 && y > 4.0 && y < 6.0; }

/// Twice the spread of swelling and half of an offset, and what was scraped.
Difference twice_swollen() {
  Difference difference;
  difference.grid = kGrid;
  difference.variance_mm2 = 1e-8;
  difference.layings.swelling_spread = kSpread;
  difference.layings.fields.assign(2, Field::Constant(kGrid.rows, kGrid.columns, 0.002F));
  difference.removed_mm = Field::Zero(kGrid.rows, kGrid.columns);
  for (Index r = 0; r < kGrid.rows; ++r) {
    for (Index c = 0; c < kGrid.columns; ++c) {
      const double x = kGrid.x_mm(r), thickness = std::min(3.0, 0.1 + 0.09 * x);
      difference.layings.fields[0](r, c) = static_cast<float>(-kSpread * thickness);
      difference.removed_mm(r, c) = static_cast<float>(2.0 * -kSpread * thickness + 0.5 * 0.002 +
                                                       (in_place(x, kGrid.y_mm(c)) ? kScraped_mm : 0.0));
    }
  }
  return difference;
}

TEST(FreedOfLayings, LeavesWhatWasScraped) {
  Difference difference = twice_swollen();
  difference.removed_mm(60, 13) = std::numeric_limits<float>::quiet_NaN();
  const RemovedCane removed = freed_of_layings(difference, planned_reed(), {.clipped_mm = 0.4});
  EXPECT_EQ(removed.clipped_mm, 0.4);
  // The priors draw a little towards nought.
  EXPECT_NEAR(removed.swelling_rel, 2.0 * kSpread, 0.02 * kSpread);
  EXPECT_GT(removed.u_swelling_rel, 0.0);
  EXPECT_LT(removed.u_swelling_rel, 0.02 * kSpread);
  for (Index r = 0; r < kGrid.rows; ++r) {
    for (Index c = 0; c < kGrid.columns; ++c) {
      if (r == 60 && c == 13) continue;
      const double truth = in_place(kGrid.x_mm(r), kGrid.y_mm(c)) ? kScraped_mm : 0.0;
      EXPECT_NEAR(removed.difference.removed_mm(r, c), truth, 5e-5) << r << ' ' << c;
    }
  }
  EXPECT_TRUE(std::isnan(removed.difference.removed_mm(60, 13)));
  EXPECT_TRUE(std::isnan(removed.u_mm(60, 13)));
  EXPECT_LT(removed.u_mm(60, 14), 5e-5);
}

TEST(FreedOfLayings, CellsThatWereScrapedWithoutAPlanPullLittle) {
  Difference difference = twice_swollen();
  for (Index r = 100; r < 104; ++r) difference.removed_mm.row(r) += 0.05F;
  const RemovedCane removed = freed_of_layings(difference, planned_reed(), {});
  EXPECT_NEAR(removed.difference.removed_mm(101, 13), 0.05, 1e-3);
  EXPECT_NEAR(removed.difference.removed_mm(50, 13), 0.0, 1e-3);
}

TEST(FreedOfLayings, NeedsFiftyCellsThatNobodyTouched) {
  // Only within 1.5 mm of the place, where a hand may slip, and a piece of bark.
  const auto with_bark = [](Index rows) {
    Difference difference = twice_swollen();
    Field seen = Field::Constant(kGrid.rows, kGrid.columns, std::numeric_limits<float>::quiet_NaN());
    for (const auto& [row, column, height, width] :
         {std::tuple<Index, Index, Index, Index>{20, 20, 20, 6}, {100, 10, rows, 5}})
      seen.block(row, column, height, width) = difference.removed_mm.block(row, column, height, width);
    difference.removed_mm = seen;
    return difference;
  };
  const auto freed = [&](Index rows) { return freed_of_layings(with_bark(rows), planned_reed(), {}); };
  EXPECT_NEAR(freed(10).difference.removed_mm(105, 12), 0.0, 1e-3) << "fifty cells";
  EXPECT_EQ(test::refusal_of([&] { return freed(9); }).id, "comparison.too_little_untouched");
}

/// Four cells of known loss, with one shape.
RemovedCane by_hand() {
  RemovedCane removed;
  removed.difference.grid = {0.5, 2, 2};
  removed.difference.removed_mm.resize(2, 2);
  removed.difference.removed_mm << 0.010F, 0.020F, 0.060F, std::numeric_limits<float>::quiet_NaN();
  removed.difference.layings.fields.assign(1, Field::Constant(2, 2, 0.0F));
  removed.difference.layings.fields[0] << 0.001F, 0.002F, 0.009F, 1.0F;
  removed.root = Eigen::MatrixXd::Constant(1, 1, 0.5);
  return removed;
}
bool everywhere(Index, Index) { return true; }

TEST(MeanWhere, IsOfTheCellsThatWereMeasuredAndAreTaken) {
  const CellMean all = mean_where(by_hand(), everywhere);
  EXPECT_EQ(all.cells, 3);
  EXPECT_NEAR(all.mean_mm, 0.030, 1e-8);
  EXPECT_EQ(all.planned_mm, 0.0);
  Field planned_mm(2, 2);
  planned_mm << 0.1F, 0.3F, 0.9F, 9.0F;
  const CellMean first_row = mean_where(by_hand(), planned_mm, [](Index r, Index) { return r == 0; });
  EXPECT_EQ(first_row.cells, 2);
  EXPECT_NEAR(first_row.mean_mm, 0.015, 1e-8);
  EXPECT_NEAR(first_row.planned_mm, 0.2, 1e-7);
  EXPECT_EQ(mean_where(by_hand(), [](Index, Index) { return false; }).cells, 0);
}

TEST(MeanWhere, NoiseAveragesOutAndWhatIsCommonDoesNot) {
  // The shape is 0.004 mm in the mean of three cells, times its root of 0.5.
  RemovedCane removed = by_hand();
  EXPECT_NEAR(mean_where(removed, everywhere).u_mm, 0.002, 1e-9);
  removed.difference.variance_mm2 = 3.0 * 0.0015 * 0.0015;
  EXPECT_NEAR(mean_where(removed, everywhere).u_mm, 0.0025, 1e-9) << "3-4-5";
}

TEST(MeanWhere, ASlowErrorAveragesOutOverItsLengthOnly) {
  RemovedCane removed = by_hand();
  removed.root.setZero();
  removed.difference.slow_variance_mm2 = 0.003 * 0.003;
  removed.difference.slow_length_mm = 1e6;
  EXPECT_NEAR(mean_where(removed, everywhere).u_mm, 0.003, 1e-8) << "alike over all cells";
  removed.difference.slow_length_mm = 1e-6;
  EXPECT_LT(mean_where(removed, everywhere).u_mm, 1e-8);
  // As long as the cells reach: 0.5 mm times the root of three.
  removed.difference.slow_length_mm = 0.8660254;
  EXPECT_NEAR(mean_where(removed, everywhere).u_mm, 0.0015, 1e-8);
}

TEST(WithinSlip, IsThePlaceAndAMillimetreAndAHalfAboutIt) {
  const ScrapeStep step = test::plain_step("here");
  EXPECT_TRUE(within_slip(step, 15.0, 5.0));
  EXPECT_TRUE(within_slip(step, 15.0, 2.55));
  EXPECT_FALSE(within_slip(step, 15.0, 2.45));
  EXPECT_TRUE(within_slip(step, 15.0, 7.45));
  EXPECT_FALSE(within_slip(step, 15.0, 7.55));
  EXPECT_TRUE(within_slip(step, 8.55, 5.0));
  EXPECT_FALSE(within_slip(step, 8.45, 5.0));
  EXPECT_TRUE(within_slip(step, 21.45, 5.0));
  EXPECT_FALSE(within_slip(step, 21.55, 5.0));
  // Round about corners: 1.05 mm in both directions is 1.485 mm, 1.1 mm is 1.556 mm.
  EXPECT_TRUE(within_slip(step, 21.05, 2.95));
  EXPECT_FALSE(within_slip(step, 21.1, 2.9));
  EXPECT_FALSE(within_slip(step, 15.0, -5.0)) << "the other side";
}

}  // namespace
}  // namespace canewise
