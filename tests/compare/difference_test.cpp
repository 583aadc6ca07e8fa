// What differs between two scans of one reed, cell by cell. The reed is a wedge of 13 by 68 mm.
#include "scanproc/compare/difference.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "tests/support/plain_result.h"

namespace canewise {
namespace {

using Index = Eigen::Index;
const Grid kGrid{0.5, 136, 26};
const Field kNoPlan = Field::Zero(kGrid.rows, kGrid.columns);

/// 0.1 mm at the tip of a reed of full length, rising by 0.05 along and by 0.01 to the right.
double wedge_mm(double from_old_tip_mm, double y_mm) { return 0.1 + 0.05 * from_old_tip_mm + 0.01 * y_mm; }

/// A scan of the wedge after `clipped_mm` came off its tip and `taken_mm` off its right half.
Result scan_of(double clipped_mm = 0.0, double taken_mm = 0.0) {
  Result result = test::plain_result();
  result.outline.length_mm -= clipped_mm;
  result.outline.u_length_mm = 0.01;
  result.map.grid = kGrid;
  result.map.thickness_mm.resize(kGrid.rows, kGrid.columns);
  for (Index r = 0; r < kGrid.rows; ++r) {
    for (Index c = 0; c < kGrid.columns; ++c) {
      const double y = kGrid.y_mm(c);
      result.map.thickness_mm(r, c) =
          static_cast<float>(wedge_mm(kGrid.x_mm(r) + clipped_mm, y) - (y > 0.0 ? taken_mm : 0.0));
    }
  }
  result.map.noise.covariance_sum_mm2 = 4e-6;
  result.map.noise.bins_per_cell = 2.0;
  result.map.noise.filled_share = 0.5;
  return result;
}

TEST(ClipBetween, AReedThatIsShorterByMoreThanBothEdgesLeaveOpenWasClipped) {
  const Clip clip = clip_between(scan_of(), scan_of(0.5));
  EXPECT_NEAR(clip.shorter_mm, 0.5, 1e-12);
  EXPECT_NEAR(clip.clipped_mm, 0.5, 1e-12);
  EXPECT_NEAR(clip.u_clipped_mm, std::hypot(0.01, 0.01), 1e-12);
}

TEST(ClipBetween, WhatTheEdgesLeaveOpenIsNoClip) {
  Result before = scan_of(), after = scan_of(0.06);
  EXPECT_NEAR(clip_between(before, after).clipped_mm, 0.06, 1e-12);
  before.outline.u_length_mm = 0.03;
  EXPECT_EQ(clip_between(before, after).clipped_mm, 0.0) << "three standard uncertainties are 0.095 mm";
  EXPECT_NEAR(clip_between(before, after).shorter_mm, 0.06, 1e-12) << "the frames still lie apart by it";
  EXPECT_EQ(clip_between(scan_of(), scan_of(0.04)).clipped_mm, 0.0) << "a twentieth of a millimetre at least";
  EXPECT_EQ(clip_between(after, before).clipped_mm, 0.0) << "no reed grows";
}

TEST(DifferenceBetween, EachCellHoldsWhatCameOff) {
  const Result before = scan_of(), after = scan_of(0.0, 0.020);
  const Difference difference = difference_between(before, after, clip_between(before, after), kNoPlan);
  EXPECT_FALSE(difference.left_right_only);
  for (const Index row : {Index{3}, Index{60}, Index{130}}) {
    EXPECT_NEAR(difference.removed_mm(row, 20), 0.020, 1e-6) << "right";
    EXPECT_NEAR(difference.removed_mm(row, 5), 0.0, 1e-6) << "left";
  }
}

// The frame begins at the tip, so a clip moves it along a slope of 0.05: 50 um for each millimetre.
TEST(DifferenceBetween, AClipIsNotTakenForScraping) {
  const Result before = scan_of(), after = scan_of(1.0);
  const Difference difference = difference_between(before, after, clip_between(before, after), kNoPlan);
  EXPECT_NEAR(difference.removed_mm(60, 5), 0.0, 1e-6);
  EXPECT_NEAR(difference.removed_mm(60, 20), 0.0, 1e-6);
  EXPECT_TRUE(std::isnan(difference.removed_mm(0, 20))) << "what was clipped away was not scraped";
  EXPECT_NEAR(difference_between(before, after, {}, kNoPlan).removed_mm(60, 5), -0.05, 1e-6) << "without heeding it";
}

TEST(DifferenceBetween, WhereEitherScanSawNothingNothingIsKnown) {
  Result before = scan_of(), after = scan_of();
  before.map.thickness_mm(40, 5) = std::numeric_limits<float>::quiet_NaN();
  after.map.thickness_mm(50, 5) = std::numeric_limits<float>::quiet_NaN();
  const Difference difference = difference_between(before, after, {}, kNoPlan);
  EXPECT_TRUE(std::isnan(difference.removed_mm(40, 5)));
  EXPECT_TRUE(std::isnan(difference.removed_mm(50, 5)));
  EXPECT_FALSE(std::isnan(difference.removed_mm(45, 5)));
}

// 4e-6 over two bins a cell, of which half are filled, is 4e-6 a cell and scan.
TEST(DifferenceBetween, BothScansNoiseAndSlowErrorsCount) {
  Result before = scan_of(), after = scan_of();
  before.map.noise.smooth_mm = 3e-4, before.map.noise.smooth_length_mm = 4.0;
  after.map.noise.smooth_mm = 4e-4, after.map.noise.smooth_length_mm = 6.0;
  const Difference difference = difference_between(before, after, {}, kNoPlan);
  EXPECT_NEAR(difference.variance_mm2, 8e-6, 1e-15);
  EXPECT_NEAR(difference.slow_variance_mm2, 25e-8, 1e-15);
  EXPECT_EQ(difference.slow_length_mm, 6.0);
}

TEST(LeftOverRight, EachCellIsHeldAgainstItsMirrorImageAndCarriesTheNoiseOfBoth) {
  const Result before = scan_of(), after = scan_of(0.0, 0.020);
  Difference both = difference_between(before, after, {}, kNoPlan);
  const double variance = both.variance_mm2;
  const Difference difference = left_over_right(std::move(both));
  EXPECT_TRUE(difference.left_right_only);
  EXPECT_NEAR(difference.removed_mm(60, 20), 0.020, 1e-6);
  EXPECT_NEAR(difference.removed_mm(60, 5), -0.020, 1e-6);
  EXPECT_NEAR(difference.variance_mm2, 2.0 * variance, 1e-15);
  // Swelling goes with the thickness, of which 0.065 mm differ from side to side at 3.25 mm.
  const Field& swelling = difference.layings.fields.front();
  EXPECT_NEAR(swelling(60, 19), -swelling(60, 6), 1e-9);
  EXPECT_NE(swelling(60, 19), 0.0F);
}

}  // namespace
}  // namespace canewise
