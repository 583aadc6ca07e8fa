#include "scanproc/bendtest/thickness_doubts.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/bench_scans.h"

namespace canewise::test {
namespace {

double variance_at(const std::vector<Field>& doubts, Eigen::Index r, Eigen::Index c) {
  double sum = 0.0;
  for (const Field& doubt : doubts) sum += static_cast<double>(doubt(r, c)) * static_cast<double>(doubt(r, c));
  return sum;
}

class Doubts : public testing::Test {
 protected:
  Doubts() {
    for (const PriorKey& key : kPriorKeys) reed_.rig.priors.*key.member = 0.0;
    reed_.frame = {};
    reed_.map.noise.smooth_mm = 0.0;
  }
  Result reed_ = result_on_plate(fixtures::draw_bench(1).reed, fixtures::profilometer(), 1);
  Eigen::Index middle_ = reed_.map.grid.columns / 2;
};

TEST_F(Doubts, WhereNothingIsInDoubtThereAreNone) { EXPECT_TRUE(thickness_doubts(reed_, 0.0, 0.0).empty()); }

TEST_F(Doubts, EachPriorCountsOnce) {
  reed_.rig.priors.seating_offset_um = 3.0;
  reed_.rig.priors.penetration_um = 4.0;
  const auto doubts = thickness_doubts(reed_, 0.0, 0.0);
  ASSERT_EQ(doubts.size(), 1U);
  EXPECT_NEAR(doubts.front()(80, middle_), 0.005, 1e-6);
}

// The map lies 0.1 mm too near to the tip: everywhere as much too thin as it rises over that way.
TEST_F(Doubts, AShiftAlongTheReedIsItsSlope) {
  const auto doubts = thickness_doubts(reed_, 0.1, 0.0);
  ASSERT_EQ(doubts.size(), 1U);
  const auto& h = reed_.map.thickness_mm;
  const double slope = static_cast<double>(h(83, middle_) - h(77, middle_)) / (6.0 * reed_.map.grid.cell_mm);
  EXPECT_NEAR(doubts.front()(80, middle_), 0.1 * slope, 1e-6);
}

TEST_F(Doubts, FromBothSidesTheTableAndTheTipsCurlAreNoCane) {
  reed_.rig.priors = {};
  const double plate = variance_at(thickness_doubts(reed_, 0.0, 0.0), 4, middle_);
  reed_.datum = DatumMode::two_sided;
  const double both = variance_at(thickness_doubts(reed_, 0.0, 0.0), 4, middle_);
  EXPECT_GT(plate, 10.0 * both);
  EXPECT_NEAR(std::sqrt(plate), 0.019, 0.006) << "a tip's curl of 30 um at its edge, mostly";
}

TEST_F(Doubts, TheScannersSlowErrorIsAsLargeEverywhere) {
  reed_.map.noise.smooth_mm = 0.002;
  reed_.map.noise.smooth_length_mm = 4.0;
  const auto doubts = thickness_doubts(reed_, 0.0, 0.0);
  EXPECT_GT(doubts.size(), 12U);
  for (const Eigen::Index r : {30, 50, 70, 90})
    EXPECT_NEAR(std::sqrt(variance_at(doubts, r, middle_)), 0.002, 0.0006) << r;
}

}  // namespace
}  // namespace canewise::test
