// How sure a cell's height is: the variance of a least-squares plane's height at the cell's centre, under noise whose
// covariance between bins is known. Truths are closed forms of regular footprints.
#include "scanproc/thickness/local_variance.h"

#include <gtest/gtest.h>

namespace canewise {
namespace {

using Index = Eigen::Index;
const Grid kGrid{0.4, 8, 6};
constexpr double kVariance_mm2 = 4e-6;

/// One point in the middle of every bin of these rows and columns.
Bins bins_of(Index from_row, Index to_row, Index from_column, Index to_column) {
  Bins bins(kGrid);
  for (Index r = from_row; r <= to_row; ++r)
    for (Index c = from_column; c <= to_column; ++c)
      bins.moments[static_cast<std::size_t>(r * bins.columns + c)].add(0.0, 0.0, 1.0);
  return bins;
}
NoiseModel white() {
  NoiseModel noise;
  noise.by_lag(0, NoiseModel::kMaxLag) = kVariance_mm2;
  return noise;
}
/// As much at (along, across) and, as covariances are, at the opposite lag.
NoiseModel with_lag(NoiseModel noise, Index along, Index across, double covariance_mm2) {
  noise.by_lag(along, across + NoiseModel::kMaxLag) = covariance_mm2;
  if (along == 0) noise.by_lag(along, NoiseModel::kMaxLag - across) = covariance_mm2;
  return noise;
}
double variance_of(const Bins& bins, const NoiseModel& noise) {
  return local_variance(footprint_of(bins, 3, 2), FootprintCovariance(noise));
}

TEST(FootprintCovariance, IsTheNoiseModelsAtEveryLagWithinAFootprint) {
  NoiseModel noise;
  for (Index k = 0; k < noise.by_lag.size(); ++k) noise.by_lag.data()[k] = 1.0 + static_cast<double>(k);
  const FootprintCovariance covariance(noise);
  for (Index dx = 0; dx < 6; ++dx)
    for (Index dy = -3; dy <= 3; ++dy)
      EXPECT_EQ(covariance.at(dx, dy), noise.by_lag(dx, dy + NoiseModel::kMaxLag)) << dx << ' ' << dy;
}

TEST(LocalVariance, OfAWholeFootprintOfIndependentBinsIsThatOfTheirMean) {
  EXPECT_NEAR(variance_of(bins_of(0, 15, 0, 11), white()), kVariance_mm2 / 24.0, 1e-15);
}

// Rows at -0.5, -0.3 and -0.1 mm only: a line's height at 0, 0.3 mm from the middle one, has 1/3 + 0.3^2 / (2 0.2^2) of
// a row's variance; each row is the mean of four bins.
TEST(LocalVariance, GrowsWhereThePlaneIsContinuedBeyondItsBins) {
  EXPECT_NEAR(variance_of(bins_of(4, 6, 3, 6), white()), kVariance_mm2 * (1.0 / 3.0 + 0.09 / 0.08) / 4.0, 1e-13);
}

// The same across: two columns at -0.3 and -0.1 mm continue to 0 with weights -0.5 and 1.5, six rows each.
TEST(LocalVariance, GrowsAcrossAsItDoesAlong) {
  EXPECT_NEAR(variance_of(bins_of(4, 9, 3, 4), white()), kVariance_mm2 * (0.25 + 2.25) / 6.0, 1e-13);
}

// Weights are 1/24 each. Of 24 bins in six rows of four, 18 pairs are neighbours across, 20 along, and 15 on a
// diagonal.
TEST(LocalVariance, CountsEveryPairOfCorrelatedBinsTwice) {
  const Bins bins = bins_of(0, 15, 0, 11);
  constexpr double common_mm2 = 1e-6, mean2 = 24.0 * 24.0;
  const double alone = kVariance_mm2 / 24.0;
  EXPECT_NEAR(variance_of(bins, with_lag(white(), 0, 1, common_mm2)), alone + 2.0 * 18.0 * common_mm2 / mean2, 1e-15);
  EXPECT_NEAR(variance_of(bins, with_lag(white(), 1, 0, common_mm2)), alone + 2.0 * 20.0 * common_mm2 / mean2, 1e-15);
  EXPECT_NEAR(variance_of(bins, with_lag(white(), 1, -1, common_mm2)), alone + 2.0 * 15.0 * common_mm2 / mean2, 1e-15);
  EXPECT_NEAR(variance_of(bins, with_lag(white(), 5, 3, common_mm2)), alone + 2.0 * common_mm2 / mean2, 1e-15)
      << "one pair of corners";
}

TEST(LocalVariance, NoiseThatCancelsLeavesThreeTenths) {
  // An estimated covariance may be so far below nought that nothing, or less, would be left.
  const double least = variance_of(bins_of(0, 15, 0, 11), with_lag(white(), 1, 0, -3e-6));
  EXPECT_NEAR(least, 0.3 * kVariance_mm2 / 24.0, 1e-15);
}

// A bin's mean counts as often as it has points.
TEST(LocalVariance, WeighsBinsByTheirPoints) {
  // Two rows of four bins, before and behind the centre; those behind hold three points each.
  Bins bins = bins_of(6, 7, 3, 6);
  for (Index c = 3; c <= 6; ++c)
    for (int extra = 0; extra < 2; ++extra)
      bins.moments[static_cast<std::size_t>(7 * bins.columns + c)].add(0.0, 0.0, 1.0);
  // A plane meets both rows' means whatever they weigh: half of each, four bins in each.
  EXPECT_NEAR(variance_of(bins, white()), kVariance_mm2 * (0.25 + 0.25) / 4.0, 1e-13);
  // Three rows 0.2 mm apart of which the middle one counts `w` times: its mean weighs w / (w + 2).
  Bins three = bins_of(5, 7, 3, 6);
  for (Index c = 3; c <= 6; ++c)
    for (int extra = 0; extra < 3; ++extra)
      three.moments[static_cast<std::size_t>(6 * three.columns + c)].add(0.0, 0.0, 1.0);
  // At -0.1 mm the weights would be 1/6, 4/6, 1/6; 0.1 mm farther the slope adds -1/4, 0, 1/4.
  const double before = 1.0 / 6.0 - 0.25, middle = 4.0 / 6.0, behind = 1.0 / 6.0 + 0.25;
  EXPECT_NEAR(variance_of(three, white()), kVariance_mm2 * (before * before + middle * middle + behind * behind) / 4.0,
              1e-13);
}

}  // namespace
}  // namespace canewise
