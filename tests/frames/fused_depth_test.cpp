// Frames of a still scene fused to one depth a pixel, and how sure that is.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "scanproc/frames/depth_fusion.h"
#include "tests/frames/depth_frames.h"

namespace canewise {
namespace {

using test::constant;

constexpr std::size_t kSide = 120;  // Pixels a side.

/// Depth of a still scene in steps: a gentle tilt, so that every place between two steps occurs alike.
double true_depth(std::size_t pixel) {
  return 3000.0 + 0.0371 * static_cast<double>(pixel % kSide) + 0.0433 * static_cast<double>(pixel / kSide);
}

/// Frames of that scene with normal noise of `noise` steps; each frame's noise is `memory` times the last one's plus
/// something new.
std::vector<DepthImage> noisy_frames(std::size_t count, double noise, double memory = 0.0, std::uint64_t seed = 1) {
  std::mt19937_64 random(seed);
  std::normal_distribution<double> normal;
  std::vector<DepthImage> frames(count);
  std::vector<double> error(kSide * kSide);
  for (double& e : error) e = normal(random);
  for (auto& frame : frames) {
    frame.columns = frame.rows = kSide;
    for (std::size_t i = 0; i < error.size(); ++i) {
      frame.values.push_back(static_cast<std::uint16_t>(std::lround(true_depth(i) + noise * error[i])));
      error[i] = memory * error[i] + std::sqrt(1.0 - memory * memory) * normal(random);
    }
  }
  return frames;
}

struct Errors {
  double mean = 0, rms = 0, greatest = 0, u_rms = 0;
};
Errors errors_of(const FusedDepth& fused) {
  Errors e;
  double n = 0;
  for (std::size_t i = 0; i < fused.depth.size(); ++i) {
    const double d = static_cast<double>(fused.depth[i]) - true_depth(i);
    if (std::isnan(d)) continue;
    e.mean += d;
    e.rms += d * d;
    e.greatest = std::max(e.greatest, std::abs(d));
    e.u_rms += std::pow(static_cast<double>(fused.u_depth[i]), 2);
    n += 1;
  }
  e.mean /= n;
  e.rms = std::sqrt(e.rms / n);
  e.u_rms = std::sqrt(e.u_rms / n);
  return e;
}

TEST(FuseDepth, NormalNoiseAveragesOutAndTheUncertaintySaysSo) {
  for (const double noise : {1.0, 3.0, 12.0}) {
    SCOPED_TRACE(noise);
    constexpr double frames = 30;
    const FusedDepth fused = fuse_depth(noisy_frames(30, noise));
    EXPECT_EQ(fused.dropped_flying, 0U);
    const Errors e = errors_of(fused);
    const double scatter = std::sqrt(noise * noise + 1.0 / 12.0);  // Of one frame, with its rounding.
    EXPECT_LT(e.greatest, 5.0 * scatter / std::sqrt(frames));
    EXPECT_LT(std::abs(e.mean), 5.0 * scatter / std::sqrt(frames) / static_cast<double>(kSide));
    EXPECT_NEAR(fused.frame_sd, scatter, 0.05 * scatter);
    EXPECT_NEAR(e.u_rms, e.rms, 0.15 * e.rms);
    EXPECT_LT(fused.frame_correlation, 0.03);
  }
}

/// Rounding without noise: a uniform law of one step, the root of 1/12, of which the first wave of the ripple alone,
/// 1/(pi sqrt 2), is the greatest part [Widrow2008].
void expect_a_whole_step_in_doubt(double step_u) {
  EXPECT_LE(step_u, 1.0 / std::sqrt(12.0));
  EXPECT_GE(step_u, 1.0 / (std::numbers::pi * std::numbers::sqrt2));
}

TEST(FuseDepth, OneFrameHasNoScatterToShow) {
  const std::vector<DepthImage> frames = noisy_frames(1, 2.0);
  const FusedDepth fused = fuse_depth(frames);
  for (std::size_t i = 0; i < fused.depth.size(); ++i) {
    ASSERT_EQ(fused.depth[i], static_cast<float>(frames[0].values[i]));
    ASSERT_TRUE(std::isnan(fused.u_depth[i]));
  }
  expect_a_whole_step_in_doubt(fused.step_u);
}

TEST(FuseDepth, AFrameThatJumpedDoesNotMoveTheResult) {
  std::vector<DepthImage> frames = noisy_frames(30, 2.0);
  const Errors before = errors_of(fuse_depth(frames));
  for (auto& value : frames[11].values) value = static_cast<std::uint16_t>(value + 50);
  const Errors after = errors_of(fuse_depth(frames));
  // In a plain mean it would weigh 50/30 = 1.7 steps.
  EXPECT_NEAR(after.mean, before.mean, 0.02);
  EXPECT_LT(after.greatest, 5.0 * 2.02 / std::sqrt(29.0));
  EXPECT_LT(after.rms, 1.05 * before.rms);
}

TEST(FuseDepth, NoiseOfHalfAStepBlursTheSteps) {
  for (const double noise : {0.5, 0.8, 3.0}) {
    const FusedDepth fused = fuse_depth(noisy_frames(30, noise));
    EXPECT_LT(fused.step_u, 0.01) << noise;
    EXPECT_GT(fused.step_u, 0.0) << noise;
  }
  // Without noise all frames are alike, and as good as one.
  expect_a_whole_step_in_doubt(fuse_depth(noisy_frames(30, 0.0)).step_u);
}

TEST(FuseDepth, FramesThatRememberTheLastAreWorthFewer) {
  constexpr double memory = 0.7;
  for (const std::size_t count : {30U, 60U}) {
    const FusedDepth fused = fuse_depth(noisy_frames(count, 5.0, memory));
    EXPECT_NEAR(fused.frame_correlation, memory, 0.1);
    const Errors e = errors_of(fused);
    EXPECT_NEAR(e.u_rms, e.rms, 0.25 * e.rms);
    // Taken for independent, they would claim less than half of that.
    EXPECT_LT(5.0 / std::sqrt(static_cast<double>(count)), 0.5 * e.rms);
  }
}

TEST(FuseDepth, NoughtIsNoDepthAndAPixelNeedsHalfOfTheFrames) {
  std::vector<DepthImage> frames(10, constant(4, 1, 1000));
  for (std::size_t f = 0; f < 10; ++f) {
    frames[f].values[0] = 0;
    if (f < 6) frames[f].values[1] = 0;  // Seen in 4.
    if (f < 5) frames[f].values[2] = 0;  // Seen in 5: half.
  }
  const FusedDepth fused = fuse_depth(frames);
  EXPECT_TRUE(std::isnan(fused.depth[0]));
  EXPECT_TRUE(std::isnan(fused.depth[1]));
  EXPECT_EQ(fused.depth[2], 1000.0F);
  EXPECT_EQ(fused.depth[3], 1000.0F);
  EXPECT_EQ(fused.dropped_flying, 0U);
}

TEST(FuseDepth, PixelsThatHangAtAnEdgeAreDropped) {
  // Left of column 10 the near surface, right of it the far one; column 10 hangs between them, at another depth in each
  // row.
  std::vector<DepthImage> frames(8, constant(20, 12, 1000));
  for (auto& frame : frames) {
    for (std::size_t row = 0; row < 12; ++row) {
      for (std::size_t column = 10; column < 20; ++column) frame.values[row * 20 + column] = 2000;
      frame.values[row * 20 + 10] = static_cast<std::uint16_t>(1300 + 37 * row);
    }
  }
  // And one pixel that sees now this, now that.
  for (std::size_t f = 0; f < 8; ++f) frames[f].values[5 * 20 + 3] = f % 2 == 0 ? 1000 : 1400;
  const FusedDepth fused = fuse_depth(frames);
  EXPECT_EQ(fused.dropped_flying, 13U);
  for (std::size_t i = 0; i < fused.depth.size(); ++i) {
    const std::size_t column = i % 20;
    if (column == 10 || i == 5 * 20 + 3) {
      EXPECT_TRUE(std::isnan(fused.depth[i])) << "pixel " << i;
      EXPECT_TRUE(std::isnan(fused.u_depth[i])) << "pixel " << i;
    } else {
      EXPECT_EQ(fused.depth[i], column < 10 ? 1000.0F : 2000.0F) << "pixel " << i;
    }
  }
}

TEST(FuseDepth, ASharpStepLosesNoPixel) {
  std::vector<DepthImage> frames(8, constant(20, 12, 1000));
  for (auto& frame : frames) {
    for (std::size_t i = 0; i < frame.values.size(); ++i) frame.values[i] = i % 20 < 10 ? 1000 : 2000;
  }
  EXPECT_EQ(fuse_depth(frames).dropped_flying, 0U);
}

TEST(FuseDepth, NoFrameIsAMistakeOfTheProgram) { EXPECT_THROW((void)fuse_depth({}), std::invalid_argument); }

}  // namespace
}  // namespace canewise
