// Names and constants of the verdicts, and the rule at numbers of this trade; tests/handbook holds it against the
// standards.
#include "scanproc/assess/conformity.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

namespace canewise {
namespace {

constexpr double kNan = std::numeric_limits<double>::quiet_NaN();

TEST(ConformitySpec, EveryVerdictHasANameOfItsOwn) {
  EXPECT_EQ(name_of(Verdict::within), "within");
  EXPECT_EQ(name_of(Verdict::outside), "outside");
  EXPECT_EQ(name_of(Verdict::cannot_tell), "cannot tell");
}

TEST(ConformitySpec, GuardBandAndVisibleDifferenceAreThe95PercentQuantileOnceAndTwice) {
  // Phi(z) = 0.95 by the error function.
  EXPECT_NEAR(0.5 * (1.0 + std::erf(kGuardBand / std::sqrt(2.0))), 0.95, 1e-12);
  EXPECT_NEAR(kVisible, 3.2897072539, 1e-9);
  EXPECT_EQ(kConformanceProbability, 0.95);
}

TEST(ConformitySpec, ADifferenceOfTheRailsIsJudgedByBothLimitsTogether) {
  // Tolerance 15 um. With u = 5 um the guard band is 8.2 um: within up to 6.7, outside from 23.3 on (the far limit is
  // four u away and adds a thousandth at most).
  EXPECT_EQ(judge(6.5, 5.0, -15.0, 15.0), Verdict::within);
  EXPECT_EQ(judge(-6.5, 5.0, -15.0, 15.0), Verdict::within);
  EXPECT_EQ(judge(7.0, 5.0, -15.0, 15.0), Verdict::cannot_tell);
  EXPECT_EQ(judge(23.0, 5.0, -15.0, 15.0), Verdict::cannot_tell);
  EXPECT_EQ(judge(23.5, 5.0, -15.0, 15.0), Verdict::outside);
  EXPECT_EQ(judge(-23.5, 5.0, -15.0, 15.0), Verdict::outside);
  // With u = 7.6 um one limit alone would let 2 um pass (13 / 7.6 = 1.71 > 1.645); both leave 94 %.
  EXPECT_EQ(judge(2.0, 7.6, -15.0, 15.0), Verdict::cannot_tell);
  // At u = 7.7 um nothing can be within any more: 15 / 7.7 = 1.948 < 1.960.
  EXPECT_EQ(judge(0.0, 7.6, -15.0, 15.0), Verdict::within);
  EXPECT_EQ(judge(0.0, 7.7, -15.0, 15.0), Verdict::cannot_tell);
  EXPECT_TRUE(can_prove_within(7.6, 15.0));
  EXPECT_FALSE(can_prove_within(7.7, 15.0));
}

TEST(ConformitySpec, ASideIsNamedOnlyWhereItIsSure) {
  // Tolerance 8. With a small uncertainty the tolerance decides, with a large one the side.
  EXPECT_EQ(judge_sides(11.4, 2.0, 8.0), Verdict::outside) << "8 and 1.645 times 2 are 11.3";
  EXPECT_EQ(judge_sides(-11.2, 2.0, 8.0), Verdict::cannot_tell);
  EXPECT_EQ(judge(47.0, 12.0, -8.0, 8.0), Verdict::outside) << "more than 95 % beyond the limit";
  for (const double side : {-1.0, 1.0}) {
    EXPECT_EQ(judge_sides(side * 47.0, 12.0, 8.0), Verdict::cannot_tell) << "less than four times 12";
    EXPECT_EQ(judge_sides(side * 48.5, 12.0, 8.0), Verdict::outside);
    EXPECT_EQ(judge_sides(side * 3.0, 2.0, 8.0), Verdict::within);
  }
  EXPECT_EQ(judge_sides(9.0, 0.0, 8.0), Verdict::outside);
  EXPECT_EQ(judge_sides(std::nan(""), 1.0, 8.0), Verdict::cannot_tell);
}

TEST(ConformitySpec, WhatIsSurelyOutsideIsCalledSoInNineteenOfTwentyScans) {
  for (const double u : {0.5, 2.0, 3.4, 5.0, 12.0}) {
    const double truth = surely_outside(u, 8.0);
    const double unlucky = truth - kGuardBand * u;
    EXPECT_EQ(judge_sides(unlucky + 1e-6, u, 8.0), Verdict::outside) << u;
    EXPECT_EQ(judge_sides(unlucky - 1e-6, u, 8.0), Verdict::cannot_tell) << u;
  }
}

TEST(ConformitySpec, ProbabilityIsNoLessThanNothingAndNoMoreThanAll) {
  EXPECT_EQ(conformance_probability(3.0, 0.0, 2.0, 4.0), 1.0);
  EXPECT_EQ(conformance_probability(5.0, 0.0, 2.0, 4.0), 0.0);
  EXPECT_NEAR(conformance_probability(100.0, 1.0, -15.0, 15.0), 0.0, 1e-12);
  // Half of the law lies below its middle: 3 u to the lower limit, the upper at the value itself.
  EXPECT_NEAR(conformance_probability(15.0, 10.0, -15.0, 15.0), 0.4986501, 1e-7);
}

TEST(ConformitySpec, NaNIsNoVerdict) {
  EXPECT_EQ(judge(kNan, 1.0, -1.0, 1.0), Verdict::cannot_tell);
  EXPECT_EQ(judge(50.0, kNan, -1.0, 1.0), Verdict::cannot_tell);
  EXPECT_FALSE(can_prove_within(kNan, 1.0));
}

}  // namespace
}  // namespace canewise
