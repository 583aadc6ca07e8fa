#include "scanproc/scrape/rolling_test.h"

#include <gtest/gtest.h>

#include <random>
#include <tuple>

namespace canewise {
namespace {

// JCGM 101: the closed form against drawn reeds.
TEST(RollingTestBelief, IsWhatDrawnReedsOfThatShapeAndAnswerShow) {
  for (const auto& [value, answer] :
       {std::tuple{0.0, RollingTest::right}, std::tuple{0.05, RollingTest::right}, std::tuple{0.05, RollingTest::even},
        std::tuple{-0.03, RollingTest::left}, std::tuple{0.01, RollingTest::left}}) {
    const ShapeImbalance shape{value, 0.01, 0.55, 0.05};
    std::mt19937_64 random(3);
    std::normal_distribution<double> normal;
    double sum = 0.0, cane_sum = 0.0, count = 0.0;
    constexpr int draws = 400000;
    for (int k = 0; k < draws; ++k) {
      const double cane = shape.cane_sd * normal(random);
      const double truth = shape.value + shape.u * normal(random) + shape.by_cane * cane;
      const double heard = truth + kNoticedBlur * normal(random);
      const RollingTest given = heard > kNoticedImbalance    ? RollingTest::right
                                : heard < -kNoticedImbalance ? RollingTest::left
                                                             : RollingTest::even;
      if (given != answer) continue;
      sum += truth;
      cane_sum += cane;
      count += 1.0;
    }
    const ImbalanceBelief belief = believe(shape, answer);
    EXPECT_NEAR(belief.imbalance, sum / count, 4.0 * 0.03 / std::sqrt(count));
    EXPECT_NEAR(belief.cane, cane_sum / count, 4.0 * 0.05 / std::sqrt(count));
    EXPECT_NEAR(belief.probability, count / draws, 4.0 * std::sqrt(belief.probability / draws));
  }
}

TEST(RollingTestBelief, WithoutATestShapeStands) {
  const ImbalanceBelief belief = believe({0.03, 0.002, 0.55, 0.05}, RollingTest::not_done);
  EXPECT_EQ(belief.imbalance, 0.03);
  EXPECT_EQ(belief.cane, 0.0);
}

TEST(RollingTestBelief, AnAnswerThatHardlyHappensStaysFinite) {
  const ImbalanceBelief belief = believe({0.9, 0.001, 0.0, 0.05}, RollingTest::left);
  EXPECT_LT(belief.probability, 1e-12);
  EXPECT_TRUE(std::isfinite(belief.imbalance));
  EXPECT_EQ(belief.cane, 0.0);
}

}  // namespace
}  // namespace canewise
