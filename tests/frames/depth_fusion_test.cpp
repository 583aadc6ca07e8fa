// Noise, correlation, rounding and flying pixels of whole frames: tests/frames/depth_test.cpp.
#include "scanproc/frames/depth_fusion.h"

#include <gtest/gtest.h>

#include <cmath>

namespace canewise {
namespace {

/// What one pixel that saw these depths in turn becomes.
FusedDepth of_a_pixel(const std::vector<std::uint16_t>& depths) {
  std::vector<DepthImage> frames;
  for (const std::uint16_t depth : depths) frames.push_back({1, 1, {depth}});
  return fuse_depth(frames);
}

TEST(DepthFusion, DepthsWithinThreeRobustDeviationsOfTheMedianAreAveraged) {
  // Median 1001; the deviations' median is 2, so that 1.4826 * 3 * 2 = 8.9 bounds them.
  EXPECT_NEAR(of_a_pixel({998, 1008, 999, 1000, 1009, 1002, 998, 1001, 1002}).depth[0], 9017.0 / 9.0, 1e-3);
  EXPECT_NEAR(of_a_pixel({998, 1008, 999, 1000, 1010, 1002, 998, 1001, 1002}).depth[0], 8008.0 / 8.0, 1e-3)
      << "nine steps off is too far";
}

TEST(DepthFusion, NeighbouringStepsAverageInsteadOfVoting) {
  // More than half agree, which leaves no robust deviation; a step beside them counts all the same, two do not.
  EXPECT_NEAR(of_a_pixel({100, 101, 100, 102, 100}).depth[0], 100.25, 1e-5);
}

TEST(DepthFusion, TheUncertaintyIsThatOfTheMean) {
  // Two frames that differ by two steps: a standard deviation of the root of two, over the root of two frames. One pair
  // shows no correlation.
  const FusedDepth fused = of_a_pixel({100, 102});
  EXPECT_EQ(fused.depth[0], 101.0F);
  EXPECT_NEAR(fused.frame_sd, std::sqrt(2.0), 1e-6);
  EXPECT_NEAR(fused.frame_correlation, 0.0, 1e-12);
  EXPECT_NEAR(fused.u_depth[0], 1.0, 1e-6);
}

TEST(DepthFusion, PixelsKeepTheirPlaces) {
  const DepthImage frame{3, 2, {100, 110, 120, 130, 0, 150}};
  const FusedDepth fused = fuse_depth({frame, frame});
  ASSERT_EQ(fused.columns, 3U);
  ASSERT_EQ(fused.rows, 2U);
  for (std::size_t i = 0; i < 6; ++i) {
    if (frame.values[i] == 0) {
      EXPECT_TRUE(std::isnan(fused.depth[i])) << "no depth is none, never nought";
    } else {
      EXPECT_EQ(fused.depth[i], static_cast<float>(frame.values[i])) << i;
    }
  }
}

}  // namespace
}  // namespace canewise
