// The worked examples of the GUM stand in tests/handbook/gum_test.cpp.
#include "scanproc/core/budget.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <limits>
#include <numbers>

namespace canewise {
namespace {

constexpr double kInfinite = std::numeric_limits<double>::infinity();

Contribution contribution(double u, double sensitivity, double degrees_of_freedom = kInfinite) {
  return {{"verbatim", {{"text", "a line"}}}, u, sensitivity, degrees_of_freedom};
}

TEST(Budget, TheCoverageFactorLeavesFivePerCentOfANormalLawOutside) {
  EXPECT_NEAR(std::erf(kCoverage95 / std::numbers::sqrt2), 0.95, 1e-15);
}

TEST(Budget, StudentsLawIsWiderThanTheNormalOneByItsOwnQuantile) {
  // Closed forms of the upper 97.5 % quantile: tan(0.475 pi) for one degree of freedom, 0.95 sqrt(2 / (1 - 0.95^2)) for
  // two.
  EXPECT_NEAR(students_over_normal(1.0) * kCoverage95, std::tan(0.475 * std::numbers::pi), 1e-9);
  EXPECT_NEAR(students_over_normal(2.0) * kCoverage95, 0.95 * std::sqrt(2.0 / (1.0 - 0.95 * 0.95)), 1e-9);
  // [GUM], table G.2, column 95 %: half a unit of the last digit.
  for (const auto& [nu, t] :
       {std::array{3.0, 3.18}, {4.0, 2.78}, {7.0, 2.36}, {10.0, 2.23}, {20.0, 2.09}, {50.0, 2.01}})
    EXPECT_NEAR(students_over_normal(nu) * 1.959964, t, 0.005) << nu;
}

TEST(Budget, StudentsLawApproachesTheNormalOneFromAbove) {
  // Expansion in 1/nu: 1 + (z^2 + 1) / (4 nu), z = 1.96; the next term is 1.4e-6 at 1000.
  EXPECT_NEAR(students_over_normal(1000.0), 1.0 + (1.959964 * 1.959964 + 1.0) / 4000.0, 3e-6);
  EXPECT_GT(students_over_normal(1e6), 1.0);
  EXPECT_LT(students_over_normal(1e6), 1.000002);
}

TEST(Budget, DegreesOfFreedomNeedNotBeWhole) {
  EXPECT_LT(students_over_normal(2.5), students_over_normal(2.0) - 0.1);
  EXPECT_GT(students_over_normal(2.5), students_over_normal(3.0) + 0.1);
}

TEST(Budget, ALineInTheOutputsUnitIsItsSensitivityTimesItsUncertainty) {
  EXPECT_EQ(contribution(1.5, -2.0).in_output_unit(), -3.0);
  const Contribution plain{{"verbatim"}, 4.0};
  EXPECT_EQ(plain.in_output_unit(), 4.0) << "an input in the output's unit";
  EXPECT_EQ(plain.degrees_of_freedom, kInfinite) << "known, unless it says otherwise";
}

TEST(Budget, IndependentPartsAddBySquares) {
  EXPECT_DOUBLE_EQ(root_sum_of_squares(std::array{2.0, -3.0, 6.0}), 7.0);
  EXPECT_EQ(root_sum_of_squares({}), 0.0);
}

TEST(Budget, EffectiveDegreesOfFreedomWeighTheFourthPowersInTheOutputsUnit) {
  // 3 with 4 degrees and 4 with 16: [GUM], eq. (G.2b), 5^4 / (3^4 / 4 + 4^4 / 16) = 625 / 36.25.
  const std::array lines{contribution(1.5, -2.0, 4.0), contribution(8.0, 0.5, 16.0)};
  const Combined combined = combine(lines);
  EXPECT_DOUBLE_EQ(combined.standard_uncertainty, 5.0);
  EXPECT_NEAR(combined.effective_degrees_of_freedom, 625.0 / 36.25, 1e-12);
  // [GUM], table G.2, row 17; row 18 would give 2.10 and 2.88.
  EXPECT_NEAR(combined.coverage_factor, 2.11, 0.005);
  EXPECT_NEAR(combined.expanded_uncertainty, 5.0 * 2.11, 0.025);
  EXPECT_NEAR(combine(lines, 0.99).coverage_factor, 2.90, 0.005);
}

TEST(Budget, ALineThatIsSurelyKnownRaisesTheDegreesOfFreedom) {
  // 12 more, known: 13^4 / 36.25.
  const std::array lines{contribution(1.5, -2.0, 4.0), contribution(8.0, 0.5, 16.0), contribution(12.0, 1.0)};
  const Combined combined = combine(lines);
  EXPECT_DOUBLE_EQ(combined.standard_uncertainty, 13.0);
  EXPECT_NEAR(combined.effective_degrees_of_freedom, 28561.0 / 36.25, 1e-9);
}

TEST(Budget, ALineWithoutEffectCostsNoDegreesOfFreedom) {
  const Combined combined = combine(std::array{contribution(2.0, 1.0), contribution(5.0, 0.0, 1.0)});
  EXPECT_EQ(combined.effective_degrees_of_freedom, kInfinite);
  EXPECT_NEAR(combined.coverage_factor, 1.959964, 5e-7);
}

TEST(Budget, NoLinesLeaveNothingUnsure) {
  const Combined combined = combine({});
  EXPECT_EQ(combined.standard_uncertainty, 0.0);
  EXPECT_EQ(combined.expanded_uncertainty, 0.0);
  EXPECT_EQ(combined.effective_degrees_of_freedom, kInfinite);
}

TEST(Budget, CorrelatedInputsAddWithTheirCovariance) {
  Eigen::Matrix2d covariance;
  covariance << 4.0, 1.5, 1.5, 9.0;
  // [GUM], eq. (13): 2^2 4 + 3^2 9 - 2 2 3 1.5.
  EXPECT_NEAR(combined_standard_uncertainty(Eigen::Vector2d(2.0, -3.0), covariance), std::sqrt(79.0), 1e-14);
  covariance << 4.0, 4.0, 4.0, 4.0;
  EXPECT_EQ(combined_standard_uncertainty(Eigen::Vector2d(1.0, -1.0), covariance), 0.0) << "what is common cancels";
  EXPECT_EQ(combined_standard_uncertainty(Eigen::Vector2d(1.0, 1.0), covariance), 4.0) << "or adds up";
  covariance(0, 1) = covariance(1, 0) = 4.0 + 1e-12;
  EXPECT_EQ(combined_standard_uncertainty(Eigen::Vector2d(1.0, -1.0), covariance), 0.0)
      << "a correlation that rounding takes beyond one is no NaN";
}

}  // namespace
}  // namespace canewise
