// ISO 5436-1:2000, 8.2, type A1 (read as coded in an open step-height tool): height of a ridge or depth of a groove.
#include "calib/step_gauge.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <random>
#include <vector>

namespace canewise {
namespace {

struct Profile {
  std::vector<double> x_mm, z_mm;
  void add(double x, double z) { x_mm.push_back(x), z_mm.push_back(z); }
};

std::optional<StepHeight> evaluate(const Profile& profile, double centre_mm, double width_mm) {
  return step_height_a1(profile.x_mm, profile.z_mm, centre_mm, width_mm);
}

/// A ridge 6 mm wide about x = 0. Outer parts (ISO 5436-1:2000, 8.2): 5 to 9 mm; middle: within 1 mm.
Profile ridge_by_hand() { return {{-8, -6, 0, 1, 6, 8}, {0, 1, 12, 12.2, 3, 3.5}}; }

// By hand. With a part's own constant the slope comes from within the parts alone:
//   outer: mean x 0, mean z 1.875, sum x^2 200, sum x z 40;  middle: mean x 0.5, mean z 12.1, sums 0.5 and 0.1;
//   slope 40.1/200.5 = 0.2;  step 12.1 - 1.875 - 0.2 x 0.5 = 10.125.
// Residuals -0.275 0.325 0 0 -0.075 0.025: squares 0.1875, over 6 - 3 degrees of freedom: 0.25^2.
constexpr double kStepByHand_mm = 10.125, kNoiseByHand_mm = 0.25;
constexpr double kRounding_mm = 1e-13;  // Six points near 10: a few tens of roundings of 1e-15.

TEST(StepHeight, SixPointsGiveWhatIsWorkedOutByHand) {
  const auto step = evaluate(ridge_by_hand(), 0.0, 6.0);
  ASSERT_TRUE(step);
  EXPECT_NEAR(step->height_mm, kStepByHand_mm, kRounding_mm);
  EXPECT_NEAR(step->noise_mm, kNoiseByHand_mm, kRounding_mm);
  EXPECT_EQ(step->points, 6U);
}

TEST(StepHeight, AGrooveIsNegative) {
  Profile groove = ridge_by_hand();
  for (double& z : groove.z_mm) z = -z;
  EXPECT_NEAR(evaluate(groove, 0.0, 6.0).value().height_mm, -kStepByHand_mm, kRounding_mm);
}

TEST(StepHeight, AnyStraightLineIsTakenUp) {
  for (const double tilt : {-0.8, 0.0037, 1.5}) {
    Profile tilted = ridge_by_hand();
    for (std::size_t i = 0; i < tilted.x_mm.size(); ++i) tilted.z_mm[i] += tilt * tilted.x_mm[i] + 123.4;
    const auto step = evaluate(tilted, 0.0, 6.0).value();
    EXPECT_NEAR(step.height_mm, kStepByHand_mm, 20.0 * kRounding_mm);  // Numbers ten times larger than above.
    EXPECT_NEAR(step.noise_mm, kNoiseByHand_mm, 20.0 * kRounding_mm);
  }
}

TEST(StepHeight, OrderAndPlaceOfTheProfileDoNotMatter) {
  Profile moved = ridge_by_hand();
  std::reverse(moved.x_mm.begin(), moved.x_mm.end());
  std::reverse(moved.z_mm.begin(), moved.z_mm.end());
  for (double& x : moved.x_mm) x -= 40.0;
  EXPECT_NEAR(evaluate(moved, -40.0, 6.0).value().height_mm, kStepByHand_mm, 20.0 * kRounding_mm);
}

TEST(StepHeight, PointsOutsideThePartsDoNotCount) {
  // ISO 5436-1:2000, 8.2: left out are W/6 to 5 W/6 from the middle and all beyond 3 W/2: here 1 to 5 mm, beyond 9 mm.
  Profile wild = ridge_by_hand();
  for (const double x : {1.001, 1.2, 2.999, 3.001, 4.0, 4.999, 9.001, 12.0, 1e6}) {
    wild.add(x, 500.0 + x);
    wild.add(-x, -3.0 * x);
  }
  const auto step = evaluate(wild, 0.0, 6.0).value();
  EXPECT_EQ(step.height_mm, evaluate(ridge_by_hand(), 0.0, 6.0).value().height_mm);
  EXPECT_EQ(step.points, 6U);
}

TEST(StepHeight, PointsJustInsideThePartsCount) {
  for (const double x : {0.999, 5.001, 8.999}) {
    for (const double side : {-1.0, 1.0}) {
      Profile more = ridge_by_hand();
      more.add(side * x, 20.0);
      const auto step = evaluate(more, 0.0, 6.0).value();
      EXPECT_EQ(step.points, 7U) << side * x;
      // 20 is 8 mm or more off the middle part and 16 mm or more off the outer ones: a third or a fifth of that at
      // least.
      EXPECT_GT(std::abs(step.height_mm - kStepByHand_mm), 1.0) << side * x;
    }
  }
}

TEST(StepHeight, APartWithOnePointIsNotEvaluated) {
  for (const std::size_t left_out : {0U, 2U, 5U}) {
    Profile few = ridge_by_hand();
    few.x_mm.erase(few.x_mm.begin() + static_cast<std::ptrdiff_t>(left_out));
    few.z_mm.erase(few.z_mm.begin() + static_cast<std::ptrdiff_t>(left_out));
    EXPECT_FALSE(evaluate(few, 0.0, 6.0)) << left_out;
  }
}

constexpr double kWidth_mm = 0.6, kCentre_mm = 7.3;
constexpr int kPointsPerWidth = 120;  // Divisible by 6, so that every part holds a whole number of points.

/// Five widths about a feature whose edges are anything but sharp: the W/3 on each side of an edge must not count.
Profile feature(double height_mm) {
  Profile profile;
  for (int i = 0; i < 5 * kPointsPerWidth; ++i) {
    const double t = (i + 0.5) / kPointsPerWidth - 2.5;  // In widths from the middle.
    const double far = std::abs(t);
    const double burr = 0.4 * height_mm * std::sin(40.0 * t) + 3e-3;  // Uneven on both sides.
    profile.add(kCentre_mm + t * kWidth_mm, far < 1.0 / 6.0 ? height_mm : far > 5.0 / 6.0 ? 0.0 : burr);
  }
  return profile;
}

TEST(StepHeight, APerfectFeatureGivesItsHeightToRounding) {
  for (const double height_mm : {-0.9, -0.0294, -5e-5, 2.34e-3, 0.9}) {
    const auto step = evaluate(feature(height_mm), kCentre_mm, kWidth_mm).value();
    EXPECT_NEAR(step.height_mm, height_mm, 1e-13 * std::abs(height_mm));  // A few hundred roundings of 1e-16 each.
    EXPECT_NEAR(step.noise_mm, 0.0, 1e-13 * std::abs(height_mm));
    // ISO 5436-1:2000, 8.2: 2 W/3 + 2 W/3 + W/3.
    EXPECT_EQ(step.points, 5U * kPointsPerWidth / 3U);
  }
}

TEST(StepHeight, RepeatedMeasurementsScatterByFifteenQuartersOfTheNoisePerPoint) {
  // Derived from the model (computed): the design is symmetric, so the slope drops out, and
  // var(d) = 4 s^2/(sum of (delta - mean)^2) = 4 s^2/(16 n/15) = 3.75 s^2/n, n points a width.
  constexpr int repeats = 4000;
  constexpr double noise_mm = 0.7e-3, height_mm = -0.0294;
  std::mt19937_64 random(5436);
  std::normal_distribution<double> normal(0.0, noise_mm);
  double sum = 0.0, squares = 0.0, variances = 0.0;
  for (int k = 0; k < repeats; ++k) {
    Profile noisy = feature(height_mm);
    for (double& z : noisy.z_mm) z += normal(random);
    const auto step = evaluate(noisy, kCentre_mm, kWidth_mm).value();
    const double error = step.height_mm - height_mm;
    sum += error, squares += error * error, variances += step.noise_mm * step.noise_mm;
  }
  const double mean = sum / repeats, variance = (squares - repeats * mean * mean) / (repeats - 1);
  const double expected = 3.75 * noise_mm * noise_mm / kPointsPerWidth;
  // Four standard deviations of a sample variance, of a mean, and of a pooled variance with 5 n/3 - 3 freedoms a trial.
  EXPECT_NEAR(variance / expected, 1.0, 4.0 * std::sqrt(2.0 / (repeats - 1)));
  EXPECT_NEAR(mean, 0.0, 4.0 * std::sqrt(expected / repeats));
  constexpr double freedoms = repeats * (5.0 * kPointsPerWidth / 3.0 - 3.0);
  EXPECT_NEAR(variances / repeats / (noise_mm * noise_mm), 1.0, 4.0 * std::sqrt(2.0 / freedoms));
}

}  // namespace
}  // namespace canewise
