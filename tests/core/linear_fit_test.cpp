#include "scanproc/core/linear_fit.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace canewise {
namespace {

Eigen::MatrixXd line_design(int n) {
  Eigen::MatrixXd design(n, 2);
  for (int i = 0; i < n; ++i) design.row(i) << 1.0, i;
  return design;
}

TEST(LinearFit, ReproducesAnExactLine) {
  const Eigen::MatrixXd design = line_design(20);
  const Eigen::VectorXd y = design * Eigen::Vector2d(3.0, -0.25);
  const LinearFit fit = fit_linear(design, y);
  EXPECT_NEAR(fit.coefficients(0), 3.0, 1e-13);
  EXPECT_NEAR(fit.coefficients(1), -0.25, 1e-14);
  EXPECT_NEAR(fit.residual_sd, 0.0, 1e-13);
  EXPECT_EQ(fit.degrees_of_freedom, 18);
}

TEST(LinearFit, WeightZeroLeavesAnObservationOut) {
  const Eigen::MatrixXd design = line_design(10);
  Eigen::VectorXd y = design * Eigen::Vector2d(1.0, 2.0);
  y(4) += 100.0;
  Eigen::VectorXd weights = Eigen::VectorXd::Ones(10);
  weights(4) = 0.0;
  const LinearFit fit = fit_linear(design, y, weights);
  EXPECT_NEAR(fit.coefficients(1), 2.0, 1e-13);
  EXPECT_EQ(fit.degrees_of_freedom, 7);
}

TEST(LinearFit, CovarianceAgreesWithTheScatterOfRepeatedFits) {
  std::mt19937_64 random(3);
  std::normal_distribution<double> normal;
  const Eigen::MatrixXd design = line_design(30);
  double squares = 0.0, stated = 0.0;
  constexpr int repeats = 4000;
  for (int k = 0; k < repeats; ++k) {
    Eigen::VectorXd y(30);
    for (int i = 0; i < 30; ++i) y(i) = normal(random);
    const LinearFit fit = fit_linear(design, y);
    squares += fit.coefficients(1) * fit.coefficients(1);
    stated += fit.covariance(1, 1);
  }
  // The ratio of two variances from 4000 repeats scatters by sqrt(2 / 4000) = 2.2 %.
  EXPECT_NEAR(squares / stated, 1.0, 0.08);
}

// The mean of 10, 20, 30 and 40: s^2 = 500 / 3, and a quarter of it is the mean's variance.
TEST(LinearFit, TheCovarianceOfAMeanIsItsVarianceOverTheNumber) {
  const LinearFit fit = fit_linear(Eigen::MatrixXd::Ones(4, 1), Eigen::Vector4d(10.0, 20.0, 30.0, 40.0));
  EXPECT_NEAR(fit.coefficients(0), 25.0, 1e-12);
  EXPECT_NEAR(fit.residual_sd, std::sqrt(500.0 / 3.0), 1e-12);
  EXPECT_NEAR(fit.covariance(0, 0), 500.0 / 12.0, 1e-11);
}

TEST(LinearFit, RobustFitIsNotPulledByAFifthOfWildPoints) {
  const Eigen::MatrixXd design = line_design(50);
  Eigen::VectorXd y = design * Eigen::Vector2d(1.0, 0.5);
  for (int i = 0; i < 50; i += 5) y(i) += 40.0;
  const LinearFit fit = fit_linear_robust(design, y, 1e-6);
  EXPECT_NEAR(fit.coefficients(0), 1.0, 1e-9);
  EXPECT_NEAR(fit.coefficients(1), 0.5, 1e-10);
}

TEST(LinearFit, RefusesWhatHasNoAnswer) {
  EXPECT_THROW((void)fit_linear(Eigen::MatrixXd::Ones(5, 2), Eigen::VectorXd::Ones(5)), std::invalid_argument);
  EXPECT_THROW((void)fit_linear(Eigen::MatrixXd::Ones(1, 2), Eigen::VectorXd::Ones(1)), std::invalid_argument);
  EXPECT_THROW((void)fit_linear(line_design(5), Eigen::VectorXd::Ones(4)), std::invalid_argument);
}

}  // namespace
}  // namespace canewise
