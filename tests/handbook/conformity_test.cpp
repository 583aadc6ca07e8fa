// Verdicts against the decision rules of ISO 14253-1:2017 (conformance probability of at least 95 %), JCGM 106:2012
// (probability that a normal quantity lies in an interval) and ISO 11843-1 (what can be detected at all).
#include "scanproc/assess/conformity.h"

#include <gtest/gtest.h>

#include <boost/math/distributions/normal.hpp>
#include <cmath>
#include <limits>
#include <ostream>

namespace canewise {

/// So that a failed expectation names the verdicts.
void PrintTo(Verdict verdict, std::ostream* out) { *out << name_of(verdict); }  // NOLINT: GoogleTest's name.

namespace {

constexpr double kT = 10.0;  // Tolerance +-T, micrometres.
constexpr double kU = 0.5;   // Small against T: the far limit takes no part (20 T/u standard deviations away).
// Quantiles of the normal law, computed (Abramowitz & Stegun 26.2; ISO 14253-1:2017 prints 1.65): 95 % and 97.5 %.
constexpr double kOneSided = 1.644853626951473;
constexpr double kTwoSided = 1.959963984540054;
constexpr double kHair = 1e-6;
constexpr double kInfinite = std::numeric_limits<double>::infinity();
constexpr double kMissing = std::numeric_limits<double>::quiet_NaN();

TEST(Conformity, IsProvedOneGuardBandInsideALimit) {
  for (const double side : {-1.0, 1.0}) {
    const double edge = kT - kOneSided * kU;  // ISO 14253-1:2017: 1.65 u where u is small against the tolerance.
    EXPECT_EQ(judge(side * (edge - kHair), kU, -kT, kT), Verdict::within);
    EXPECT_EQ(judge(side * (edge + kHair), kU, -kT, kT), Verdict::cannot_tell);
  }
}

TEST(Conformity, NonConformityIsProvedOneGuardBandOutsideALimit) {
  for (const double side : {-1.0, 1.0}) {
    const double edge = kT + kOneSided * kU;  // ISO 14253-1:2017.
    EXPECT_EQ(judge(side * (edge - kHair), kU, -kT, kT), Verdict::cannot_tell);
    EXPECT_EQ(judge(side * (edge + kHair), kU, -kT, kT), Verdict::outside);
  }
}

TEST(Conformity, NothingIsProvedAtTheLimitItself) {
  EXPECT_EQ(judge(kT, kU, -kT, kT), Verdict::cannot_tell);
  EXPECT_NEAR(conformance_probability(kT, kU, -kT, kT), 0.5, 1e-12);  // JCGM 106:2012: an even chance.
}

TEST(Conformity, LimitsNeedNotLieAboutZero) {
  EXPECT_EQ(judge(1000.0 + kT - kOneSided * kU - kHair, kU, 1000.0 - kT, 1000.0 + kT), Verdict::within);
  EXPECT_EQ(judge(1000.0 - kT - kOneSided * kU - kHair, kU, 1000.0 - kT, 1000.0 + kT), Verdict::outside);
  EXPECT_EQ(judge(1000.0 - kT, kU, 1000.0 - kT, kInfinite), Verdict::cannot_tell);  // One limit alone.
  EXPECT_EQ(judge(1000.0, kU, 1000.0 - kT, kInfinite), Verdict::within);
}

TEST(Conformity, ProbabilityIsTheNormalLawOverTheInterval) {
  // JCGM 106:2012: p = Phi((upper - y)/u) - Phi((lower - y)/u). A normal table: 0.682689, 0.954500, 0.997300.
  EXPECT_NEAR(conformance_probability(0.0, kT, -kT, kT), 0.682689492137086, 1e-14);
  EXPECT_NEAR(conformance_probability(0.0, kT / 2, -kT, kT), 0.954499736103642, 1e-14);
  EXPECT_NEAR(conformance_probability(0.0, kT / 3, -kT, kT), 0.997300203936740, 1e-14);
  const boost::math::normal law;
  for (const double value : {-14.0, -3.0, 0.0, 4.4, 9.9, 17.0}) {
    for (const double u : {0.9, 4.0, 25.0}) {
      const double expected = boost::math::cdf(law, (kT - value) / u) - boost::math::cdf(law, (-kT - value) / u);
      EXPECT_NEAR(conformance_probability(value, u, -kT, kT), expected, 1e-14) << value << ' ' << u;
    }
  }
}

TEST(Conformity, FalseAcceptanceAtTheOlderGuardBandIsAtMost2Point3Percent) {
  // JCGM 106:2012: a guard band of U = 2 u, the rule before 2017, leaves 2.3 % at the limit.
  EXPECT_NEAR(1.0 - conformance_probability(kT - 2.0 * kU, kU, -kT, kT), 0.023, 5e-4);
  EXPECT_EQ(judge(kT - 2.0 * kU, kU, -kT, kT), Verdict::within);
}

TEST(Conformity, CannotBeProvedForAnyValueWhereTheScanIsTooRough) {
  // Both limits together: the best case is the middle, where 95 % need T = 1.96 u (normal law, two-sided).
  const double too_rough = kT / kTwoSided * (1.0 + 1e-9), just_fine = kT / kTwoSided * (1.0 - 1e-9);
  for (int k = -2000; k <= 2000; ++k) {
    EXPECT_NE(judge(kT * k / 1000.0, too_rough, -kT, kT), Verdict::within) << k;
  }
  EXPECT_EQ(judge(0.0, just_fine, -kT, kT), Verdict::within);
  EXPECT_TRUE(can_prove_within(just_fine, kT));
  EXPECT_FALSE(can_prove_within(too_rough, kT));
  EXPECT_FALSE(can_prove_within(kMissing, kT));
}

TEST(Conformity, WithoutUncertaintyTheLimitsDecide) {
  EXPECT_EQ(judge(kT, 0.0, -kT, kT), Verdict::within);  // ISO 14253-1: the limits belong to the tolerance.
  EXPECT_EQ(judge(-kT, 0.0, -kT, kT), Verdict::within);
  EXPECT_EQ(judge(std::nextafter(kT, 20.0), 0.0, -kT, kT), Verdict::outside);
  EXPECT_EQ(judge(-kT - kHair, 0.0, -kT, kT), Verdict::outside);
}

TEST(Conformity, WhatWasNotMeasuredCannotBeTold) {
  EXPECT_EQ(judge(kMissing, kU, -kT, kT), Verdict::cannot_tell);
  EXPECT_EQ(judge(0.0, kMissing, -kT, kT), Verdict::cannot_tell);
  EXPECT_EQ(judge(kMissing, 0.0, -kT, kT), Verdict::cannot_tell);
  EXPECT_EQ(name_of(judge(kMissing, kMissing, -kT, kT)), "cannot tell");
}

TEST(Conformity, AValueInsideTheLimitsIsNeverProvedOutside) {
  // ISO 14253-1: non-conformity is proved only beyond a limit by more than the guard band, however large that is. So
  // the worse the scan, the less may be said.
  for (const double value : {0.0, 4.0, -9.0}) {
    for (const double u : {0.1 * kT, kT, 10.0 * kT, 20.0 * kT, 1e3 * kT, kInfinite}) {
      EXPECT_NE(judge(value, u, -kT, kT), Verdict::outside) << "value " << value << ", u " << u;
    }
  }
}

TEST(Conformity, MoreUncertaintyNeverProvesMore) {
  // A value once not proved outside stays so when u grows: the guard band grows with u (ISO 14253-1).
  for (const double value : {10.5, 12.0, 20.0, 40.0}) {
    bool proved = true;
    for (double u = 0.01; u < 1e4; u *= 1.1) {
      const bool now = judge(value, u, -kT, kT) == Verdict::outside;
      EXPECT_FALSE(now && !proved) << "value " << value << ", u " << u;
      proved = now;
    }
  }
}

/// Share of scans that are called outside when the true value is `truth`: the normal law beyond the two values where
/// the verdict flips, found by bisection, so that it is judge() that is asked.
double share_called_outside(double truth, double u) {
  const auto flip = [&](double inside, double outside) {
    for (int k = 0; k < 200; ++k) {
      const double middle = 0.5 * (inside + outside);
      (judge(middle, u, -kT, kT) == Verdict::outside ? outside : inside) = middle;
    }
    return outside;
  };
  const boost::math::normal law(truth, u);
  return boost::math::cdf(law, flip(0.0, -3.0 * kT)) +
         boost::math::cdf(boost::math::complement(law, flip(0.0, 3.0 * kT)));
}

TEST(Conformity, AVisibleDifferenceIsCalledOutsideIn95PercentOfScans) {
  // ISO 11843-1: with 5 % false alarms and 5 % misses the smallest detectable difference is (1.645 + 1.645) u.
  EXPECT_NEAR(kVisible, 3.29, 5e-3);
  EXPECT_NEAR(share_called_outside(kT + kVisible * kU, kU), 0.95, 1e-9);
  EXPECT_NEAR(share_called_outside(-kT - kVisible * kU, kU), 0.95, 1e-9);
}

TEST(Conformity, FalseAlarmsAtTheLimitAre5Percent) {
  EXPECT_NEAR(share_called_outside(kT, kU), 0.05, 1e-9);  // ISO 11843-1: error of the first kind.
  EXPECT_NEAR(share_called_outside(-kT, kU), 0.05, 1e-9);
}

}  // namespace
}  // namespace canewise
