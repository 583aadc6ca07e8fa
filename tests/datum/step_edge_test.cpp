#include "scanproc/datum/step_edge.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace canewise {
namespace {

/// A step of `height` at `edge`, sampled every `pitch` with noise and some stray points.
std::vector<StepSample> step(double edge, double height, double pitch, double noise, std::mt19937_64& random) {
  std::normal_distribution<double> normal;
  std::uniform_real_distribution<double> uniform(0.0, 1.0);
  std::vector<StepSample> samples;
  for (double s = -2.5 + pitch * uniform(random); s < 2.0; s += pitch) {
    const double surface = s < edge ? height - 0.05 * (s - edge) : 0.0;
    const double stray = uniform(random) < 0.01 ? 3.0 * uniform(random) - 1.5 : 0.0;
    samples.push_back({s, surface + noise * normal(random) + stray});
  }
  return samples;
}

TEST(StepEdge, IsFoundWithoutBiasAtATipAsThinAsTheNoiseAllows) {
  std::mt19937_64 random(5);
  double sum = 0.0, squares = 0.0;
  constexpr int trials = 400;
  for (int k = 0; k < trials; ++k) {
    auto samples = step(0.1, 0.10, 0.02, 0.02, random);  // 100 um of tip under 20 um of noise.
    const auto edge = find_step_edge(samples, {.inside_from_mm = 0.3, .inside_to_mm = 2.3, .outside_mm = 1.2}, 0.02);
    ASSERT_TRUE(edge.has_value());
    sum += edge->middle_mm() - 0.1;
    squares += std::pow(edge->middle_mm() - 0.1, 2);
  }
  EXPECT_LT(std::abs(sum / trials), 0.004);
  EXPECT_LT(std::sqrt(squares / trials), 0.03);  // A point and a half.
}

TEST(StepEdge, AShadowShowsAsAGap) {
  std::mt19937_64 random(6);
  auto samples = step(0.0, 1.5, 0.05, 0.005, random);
  std::erase_if(samples, [](const StepSample& s) { return s.out_mm > 0.0 && s.out_mm < 0.9; });
  const auto edge = find_step_edge(samples, {}, 0.005);
  ASSERT_TRUE(edge.has_value());
  EXPECT_GT(edge->gap_mm, 0.85);
  EXPECT_NEAR(edge->reed_mm, 0.0, 0.06);  // The outermost reed point.
}

TEST(StepEdge, NoEdgeIsSaidToBeNone) {
  std::vector<StepSample> none;
  EXPECT_FALSE(find_step_edge(none, {}, 0.01).has_value());
  std::vector<StepSample> plate_only;
  for (int i = 0; i < 100; ++i) plate_only.push_back({-2.0 + 0.04 * i, 0.0});
  EXPECT_FALSE(find_step_edge(plate_only, {}, 0.01).has_value());
}

}  // namespace
}  // namespace canewise
