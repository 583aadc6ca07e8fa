// By what the edge is found, and how sure a fit to neighbouring edge points is.
#include "scanproc/datum/rim_edge.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace canewise {
namespace {

/// A reed 1 mm high that ends at 0 and a plate behind it, every tenth of a millimetre.
std::vector<StepSample> strip() {
  std::vector<StepSample> samples;
  for (int k = -20; k <= 13; ++k) samples.push_back({0.1 * k, k <= 0 ? 1.0 : 0.0});
  return samples;
}

TEST(EdgeFinder, APlateBesideTheReedIsAWitnessAndNothingIsNone) {
  const EdgeFinder by_plate({0.005, Beside::plate}), by_reed({0.005, Beside::nothing});
  EXPECT_TRUE(by_plate.sees_plate());
  EXPECT_FALSE(by_reed.sees_plate());
  auto samples = strip();
  const auto edge = by_plate(samples, {});
  ASSERT_TRUE(edge.has_value());
  EXPECT_NEAR(edge->middle_mm(), 0.05, 1e-12);
  EXPECT_NEAR(edge->gap_mm, 0.1, 1e-12);
  const auto bare = by_reed(samples, {});
  ASSERT_TRUE(bare.has_value());
  EXPECT_TRUE(std::isnan(bare->gap_mm));
  EXPECT_NEAR(bare->beyond_reed_mm(), 0.05, 1e-12);
}

// Correlations by hand: one twelfth at lag 1, less than nothing at lag 2, where counting ends.
TEST(CorrelationFactor, CountsLagsUpToTheFirstThatIsNotPositive) {
  Eigen::VectorXd pairs(12);
  pairs << 1, 1, -1, -1, 1, 1, -1, -1, 1, 1, -1, -1;
  EXPECT_NEAR(correlation_factor(pairs, 1.0), std::sqrt(7.0 / 6.0), 1e-12);
  EXPECT_NEAR(correlation_factor(1e-3 * pairs, 1e-3), std::sqrt(7.0 / 6.0), 1e-12) << "whatever the unit";
}

TEST(CorrelationFactor, IsNeverBelowOne) {
  EXPECT_EQ(correlation_factor(Eigen::VectorXd::Zero(30), 0.0), 1.0);
  EXPECT_EQ(correlation_factor(Eigen::VectorXd(), 1.0), 1.0);
  Eigen::VectorXd alternating(30);
  for (Eigen::Index i = 0; i < alternating.size(); ++i) alternating(i) = i % 2 == 0 ? 1.0 : -1.0;
  EXPECT_EQ(correlation_factor(alternating, 1.0), 1.0);
}

// The mean of a first-order autoregressive series is sqrt((1 + a)/(1 - a)) times as unsure as its scatter says.
TEST(CorrelationFactor, IsThatOfAnAutoregressiveSeries) {
  std::mt19937_64 random(3);
  std::normal_distribution<double> normal;
  for (const double a : {0.0, 0.6}) {
    Eigen::VectorXd series(40'000);
    double value = 0.0;
    for (double& each : series) each = value = a * value + std::sqrt(1.0 - a * a) * normal(random);
    EXPECT_NEAR(correlation_factor(series, 1.0), std::sqrt((1.0 + a) / (1.0 - a)), 0.07) << a;
  }
}

TEST(CorrelationFactor, TwoStraysSideBySideAreNoCorrelation) {
  Eigen::VectorXd residuals(40);
  for (Eigen::Index i = 0; i < residuals.size(); ++i) residuals(i) = i % 2 == 0 ? 1.0 : -1.0;
  residuals(10) = residuals(11) = 100.0;
  EXPECT_EQ(correlation_factor(residuals, 1.0), 1.0);
}

// A place anywhere in a gap of 0.12 mm: variance 0.12^2/12 = 0.0012.
TEST(UOfPhase, IsWhatOfAnEvenLawTheScatterDoesNotShow) {
  EXPECT_NEAR(u_of_phase(0.12, 0.0), std::sqrt(0.0012), 1e-15);
  EXPECT_NEAR(u_of_phase(0.12, 0.02), std::sqrt(0.0008), 1e-15);
  EXPECT_EQ(u_of_phase(0.12, 0.05), 0.0) << "all of it shows";
}

}  // namespace
}  // namespace canewise
