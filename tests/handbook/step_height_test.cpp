// ISO 5436-1:2000, 8.2, measurement standard type A1: a groove's depth by least squares. The evaluation is written here
// as a linear model for fit_linear, so that the project's least squares is held against a published procedure.
#include <gtest/gtest.h>

#include <Eigen/Core>
#include <cmath>
#include <random>
#include <vector>

#include "scanproc/core/linear_fit.h"

namespace canewise {
namespace {

constexpr double kWidth_mm = 0.6;     // W, of the groove.
constexpr int kPointsPerWidth = 120;  // Divisible by 6, so that every part holds a whole number of points.

/// Profile of 3 W about the groove's middle: z at x.
struct Profile {
  Eigen::VectorXd x_mm, z_um;
};

/// A groove whose edges are anything but sharp: the W/3 on each side of an edge must not count.
Profile groove(double depth_um) {
  Profile profile;
  profile.x_mm.resize(3 * kPointsPerWidth);
  profile.z_um.resize(3 * kPointsPerWidth);
  for (Eigen::Index i = 0; i < profile.x_mm.size(); ++i) {
    const double t = (static_cast<double>(i) + 0.5) / kPointsPerWidth - 1.5;  // In widths from the middle.
    profile.x_mm(i) = t * kWidth_mm;
    const double from_middle = std::abs(t);
    if (from_middle < 1.0 / 6.0) {
      profile.z_um(i) = -depth_um;
    } else if (from_middle > 0.5 + 1.0 / 3.0) {
      profile.z_um(i) = 0.0;
    } else {
      profile.z_um(i) = 0.4 * depth_um * std::sin(40.0 * t) + 3.0;  // Burr and rounding, uneven on both sides.
    }
  }
  return profile;
}

struct Depth {
  double depth_um = 0.0;
  LinearFit fit;
};

/// ISO 5436-1:2000, 8.2: z = alpha x + beta + h delta over A, B (delta +1: the outer 2 W/3 at each side) and C (delta
/// -1: the middle W/3 of the groove); the depth is 2 h.
Depth evaluate(const Profile& profile) {
  std::vector<Eigen::Index> used;
  for (Eigen::Index i = 0; i < profile.x_mm.size(); ++i) {
    const double from_middle = std::abs(profile.x_mm(i)) / kWidth_mm;
    if (from_middle < 1.0 / 6.0 || from_middle > 0.5 + 1.0 / 3.0) used.push_back(i);
  }
  Eigen::MatrixXd design(static_cast<Eigen::Index>(used.size()), 3);
  Eigen::VectorXd z(design.rows());
  for (Eigen::Index row = 0; row < design.rows(); ++row) {
    const Eigen::Index i = used[static_cast<std::size_t>(row)];
    const bool in_groove = std::abs(profile.x_mm(i)) / kWidth_mm < 0.5;
    design.row(row) << profile.x_mm(i), 1.0, in_groove ? -1.0 : 1.0;
    z(row) = profile.z_um(i);
  }
  Depth depth;
  depth.fit = fit_linear(design, z);
  depth.depth_um = 2.0 * depth.fit.coefficients(2);
  return depth;
}

TEST(StepHeight, APerfectGrooveGivesItsDepthToRounding) {
  for (const double depth_um : {0.05, 2.34, 29.4, 900.0}) {
    const Depth depth = evaluate(groove(depth_um));
    EXPECT_NEAR(depth.depth_um, depth_um, 1e-13 * (depth_um + 1.0));  // A few hundred roundings of 1e-16 each.
    EXPECT_NEAR(depth.fit.coefficients(0), 0.0, 1e-12 * depth_um);
  }
}

TEST(StepHeight, TheEvaluatedPartsHoldFiveThirdsOfAWidth) {
  // ISO 5436-1:2000, 8.2: 2 W/3 + 2 W/3 + W/3; three coefficients are fitted.
  EXPECT_EQ(evaluate(groove(10.0)).fit.degrees_of_freedom, 5 * kPointsPerWidth / 3 - 3);
}

TEST(StepHeight, LevellingDoesNotMatter) {
  // Any straight line is taken up by alpha and beta. 1e-11 um: offset and tilt of 1e3 um cost 1e-13 of themselves.
  const double level = evaluate(groove(29.4)).depth_um;
  for (const double tilt_um_per_mm : {-800.0, 3.7, 500.0}) {
    Profile tilted = groove(29.4);
    tilted.z_um.array() += tilt_um_per_mm * tilted.x_mm.array() + 1234.5;
    const Depth depth = evaluate(tilted);
    EXPECT_NEAR(depth.depth_um, level, 1e-11);
    EXPECT_NEAR(depth.fit.coefficients(0), tilt_um_per_mm, 1e-10);
  }
}

Profile noisy_groove(double noise_um, std::mt19937_64& random) {
  std::normal_distribution<double> normal(0.0, noise_um);
  Profile profile = groove(29.4);
  for (auto& z : profile.z_um) z += normal(random);
  return profile;
}

TEST(StepHeight, StatedVarianceIsFifteenQuartersOfTheNoisePerPoint) {
  // Derived from the model of ISO 5436-1:2000, 8.2: the design is symmetric, so the slope drops out, and
  // var(d) = 4 s^2/(sum of (delta - mean)^2) = 4 s^2/(16 n/15) = 3.75 s^2/n.
  std::mt19937_64 random(5436);
  const Depth depth = evaluate(noisy_groove(0.7, random));
  const double expected = 3.75 * depth.fit.residual_sd * depth.fit.residual_sd / kPointsPerWidth;
  EXPECT_GT(depth.fit.residual_sd, 0.6);
  EXPECT_NEAR(4.0 * depth.fit.covariance(2, 2), expected, 1e-12 * expected);
}

TEST(StepHeight, RepeatedMeasurementsScatterAsStated) {
  constexpr int repeats = 4000;
  constexpr double noise_um = 0.7;
  std::mt19937_64 random(1);
  double sum = 0.0, squares = 0.0;
  for (int k = 0; k < repeats; ++k) {
    const double error = evaluate(noisy_groove(noise_um, random)).depth_um - 29.4;
    sum += error;
    squares += error * error;
  }
  const double mean = sum / repeats;
  const double variance = (squares - repeats * mean * mean) / (repeats - 1);
  const double expected = 3.75 * noise_um * noise_um / kPointsPerWidth;
  // Four standard deviations of a sample variance and of a mean.
  EXPECT_NEAR(variance / expected, 1.0, 4.0 * std::sqrt(2.0 / (repeats - 1)));
  EXPECT_NEAR(mean, 0.0, 4.0 * std::sqrt(expected / repeats));
}

}  // namespace
}  // namespace canewise
