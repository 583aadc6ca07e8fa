// A cell's footprint: the half-cell bins three cells along and two across, centred on the cell.
#include "scanproc/thickness/footprint.h"

#include <gtest/gtest.h>

#include <cmath>

namespace canewise {
namespace {

constexpr Eigen::Index kBinColumns = 12;
const Grid kGrid{0.4, 8, 6};

/// Bins that all hold one point, but for those that a test empties.
Bins filled() {
  Bins bins(kGrid);
  for (PlaneMoments& moments : bins.moments) moments.add(0.0, 0.0, 1.0);
  return bins;
}
PlaneMoments& bin_of(Bins& bins, Eigen::Index row, Eigen::Index column) {
  return bins.moments[static_cast<std::size_t>(row * kBinColumns + column)];
}

TEST(Footprint, IsSixBinsAlongAndFourAcrossAboutItsCell) {
  const Bins bins = filled();
  // Cell (3, 2) has the bins of rows 6, 7 and columns 4, 5.
  const Footprint footprint = footprint_of(bins, 3, 2);
  ASSERT_EQ(footprint.count, 24U);
  EXPECT_EQ(footprint.points, 24.0);
  std::size_t k = 0;
  for (Eigen::Index row = 4; row <= 9; ++row) {
    for (Eigen::Index column = 3; column <= 6; ++column, ++k) {
      EXPECT_EQ(footprint.bins.at(k).row, row) << k;
      EXPECT_EQ(footprint.bins.at(k).column, column) << k;
      EXPECT_EQ(footprint.bins.at(k).moments, &bins.at(row, column)) << k;
    }
  }
  EXPECT_EQ(footprint.end() - footprint.begin(), 24);
}

TEST(Footprint, SaysWhereItsBinsLieFromTheCellsCentre) {
  const Bins bins = filled();
  const Footprint footprint = footprint_of(bins, 3, 2);
  ASSERT_EQ(footprint.count, 24U);
  // Bins of 0.2 mm: from -2.5 to 2.5 of them along, from -1.5 to 1.5 across.
  EXPECT_NEAR(footprint.bins[0].dx_mm, -0.5, 1e-12);
  EXPECT_NEAR(footprint.bins[0].dy_mm, -0.3, 1e-12);
  EXPECT_NEAR(footprint.bins[6].dx_mm, -0.3, 1e-12);
  EXPECT_NEAR(footprint.bins[6].dy_mm, 0.1, 1e-12);
  EXPECT_NEAR(footprint.bins[23].dx_mm, 0.5, 1e-12);
  EXPECT_NEAR(footprint.bins[23].dy_mm, 0.3, 1e-12);
}

TEST(Footprint, LeavesEmptyBinsOutAndCountsEveryPoint) {
  Bins bins = filled();
  bin_of(bins, 4, 3) = {};
  bin_of(bins, 7, 6) = {};
  for (int extra = 0; extra < 9; ++extra) bin_of(bins, 9, 6).add(0.0, 0.0, 1.0);
  const Footprint footprint = footprint_of(bins, 3, 2);
  EXPECT_EQ(footprint.count, 22U);
  EXPECT_EQ(footprint.points, 31.0);
  EXPECT_EQ(footprint.begin()->column, 4) << "the first that is left";
  for (const FootprintBin& bin : footprint) EXPECT_GT(bin.moments->n, 0.0);
}

TEST(Footprint, IsCutOffAtTheGridsRim) {
  const Bins bins = filled();
  // One cell of three along and half a cell of two across lie beyond the corner.
  EXPECT_EQ(footprint_of(bins, 0, 0).count, 4U * 3U);
  EXPECT_EQ(footprint_of(bins, 7, 5).count, 4U * 3U);
  EXPECT_EQ(footprint_of(bins, 0, 2).count, 4U * 4U);
  EXPECT_EQ(footprint_of(bins, 3, 0).count, 6U * 3U);
  EXPECT_EQ(footprint_of(bins, 0, 0).bins[0].row, 0);
  EXPECT_NEAR(footprint_of(bins, 0, 0).bins[0].dx_mm, -0.1, 1e-12);
  EXPECT_EQ(footprint_of(bins, 7, 5).bins[11].row, 15);
  EXPECT_EQ(footprint_of(bins, 7, 5).bins[11].column, 11);
}

TEST(Footprint, OfNothingIsNothing) {
  const Footprint footprint = footprint_of(Bins(kGrid), 3, 2);
  EXPECT_EQ(footprint.count, 0U);
  EXPECT_EQ(footprint.points, 0.0);
  EXPECT_EQ(footprint.begin(), footprint.end());
}

}  // namespace
}  // namespace canewise
