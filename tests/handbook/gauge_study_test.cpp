// Gauge repeatability and reproducibility: the data set of the Measurement Systems Analysis manual (AIAG MSA, 4th ed.),
// read in the test suites of two independent projects that agree, and a small study worked by hand.
#include "calib/gauge_study.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

namespace canewise {
namespace {

constexpr std::size_t kParts = 10, kAppraisers = 3, kTrials = 3;

/// AIAG MSA, 4th ed.: one line a part; appraisers A, B, C with three trials each.
std::vector<double> published_readings() {
  return {0.29,  0.41,  0.64,  0.08,  0.25,  0.07,  0.04,  -0.11, -0.15,  //
          -0.56, -0.68, -0.58, -0.47, -1.22, -0.68, -1.38, -1.13, -0.96,  //
          1.34,  1.17,  1.27,  1.19,  0.94,  1.34,  0.88,  1.09,  0.67,   //
          0.47,  0.50,  0.64,  0.01,  1.03,  0.20,  0.14,  0.20,  0.11,   //
          -0.80, -0.92, -0.84, -0.56, -1.20, -1.28, -1.46, -1.07, -1.45,  //
          0.02,  -0.11, -0.21, -0.20, 0.22,  0.06,  -0.29, -0.67, -0.49,  //
          0.59,  0.75,  0.66,  0.47,  0.55,  0.83,  0.02,  0.01,  0.21,   //
          -0.31, -0.20, -0.17, -0.63, 0.08,  -0.34, -0.46, -0.56, -0.49,  //
          2.26,  1.99,  2.01,  1.80,  2.12,  2.19,  1.77,  1.45,  1.87,   //
          -1.36, -1.25, -1.31, -1.68, -1.62, -1.50, -1.49, -1.77, -2.16};
}

GaugeStudy published_study() { return study_gauge(published_readings(), kParts, kAppraisers, kTrials); }

// Every tolerance of the published study is half a unit of the last printed digit.

TEST(GaugeStudyPublished, SumsOfSquaresAreThePrintedOnes) {
  const GaugeStudy s = published_study();
  EXPECT_NEAR(s.ss_part, 88.3619, 5e-5);  // AIAG MSA, 4th ed., here and below.
  EXPECT_NEAR(s.ss_appraiser, 3.1673, 5e-5);
  EXPECT_NEAR(s.ss_interaction, 0.3590, 5e-5);
  EXPECT_NEAR(s.ss_repeatability, 2.7589, 5e-5);
  EXPECT_NEAR(s.ss_total, 94.6471, 5e-5);
  // A balanced study falls apart without a rest; a hundred roundings of 1e-16 of the total.
  EXPECT_NEAR(s.ss_part + s.ss_appraiser + s.ss_interaction + s.ss_repeatability, s.ss_total, 1e-12);
}

TEST(GaugeStudyPublished, TheInteractionShowsNothingAndIsPooled) {
  const GaugeStudy s = published_study();
  EXPECT_NEAR(s.f_interaction, 0.434, 5e-4);  // AIAG MSA: F.
  EXPECT_NEAR(s.p_interaction, 0.974, 5e-4);  // AIAG MSA: p.
  EXPECT_TRUE(s.pooled);
}

TEST(GaugeStudyPublished, StandardDeviationsAreThePrintedOnes) {
  const GaugeStudy s = published_study();
  EXPECT_NEAR(s.ev, 0.199933, 5e-7);
  EXPECT_NEAR(s.ev * s.ev, 0.03997, 5e-6);  // Pooled mean square, 78 degrees of freedom.
  EXPECT_NEAR(s.av, 0.226838, 5e-7);
  EXPECT_NEAR(s.grr, 0.302372, 5e-7);  // Printed 0.302373, from rounded parts.
  EXPECT_NEAR(s.pv, 1.042327, 5e-7);
  EXPECT_NEAR(s.tv, 1.085300, 5e-7);  // Printed 1.085; the other digits recomputed.
}

TEST(GaugeStudyPublished, AnInteractionThatWasKeptWouldMakeRepeatability7PercentTooLarge) {
  const GaugeStudy s = published_study();
  constexpr double unpooled = 0.214435;  // Recomputed: the wrong model for these data.
  EXPECT_NEAR(s.ss_repeatability / 60.0, unpooled * unpooled, 5e-7 * 2 * unpooled);  // It is in the data...
  EXPECT_LT(s.ev, unpooled - 0.014);                                                 // ...and not in the result.
}

TEST(GaugeStudyPublished, PercentagesAndContributionsAreThePrintedOnes) {
  const GaugeStudy s = published_study();
  const auto share = [&s](double sd) { return 100.0 * sd / s.tv; };
  const auto contribution = [&s](double sd) { return 100.0 * sd * sd / (s.tv * s.tv); };
  EXPECT_NEAR(share(s.ev), 18.4, 0.05);
  EXPECT_NEAR(share(s.av), 20.9, 0.05);
  EXPECT_NEAR(share(s.grr), 27.9, 0.05);
  EXPECT_NEAR(share(s.pv), 96.0, 0.05);
  EXPECT_NEAR(contribution(s.ev), 3.4, 0.05);
  EXPECT_NEAR(contribution(s.av), 4.4, 0.05);
  EXPECT_NEAR(contribution(s.grr), 7.8, 0.05);
  EXPECT_NEAR(contribution(s.pv), 92.2, 0.05);
}

TEST(GaugeStudyPublished, GroupsToldApartAreRoundedDown) {
  const GaugeStudy s = published_study();
  EXPECT_NEAR(s.ndc_unrounded, 4.861, 5e-4);  // AIAG MSA: 1.41 PV/GRR.
  EXPECT_EQ(s.ndc, 4);                        // To the nearest it would be 5.
}

void expect_same(const GaugeStudy& a, const GaugeStudy& b) {
  constexpr double rounding = 1e-12;  // Sums of ninety terms near 1 in another order.
  EXPECT_NEAR(a.ss_part, b.ss_part, 100 * rounding);
  EXPECT_NEAR(a.ss_appraiser, b.ss_appraiser, rounding);
  EXPECT_NEAR(a.ss_interaction, b.ss_interaction, rounding);
  EXPECT_NEAR(a.ss_repeatability, b.ss_repeatability, rounding);
  EXPECT_NEAR(a.p_interaction, b.p_interaction, rounding);
  EXPECT_NEAR(a.ev, b.ev, rounding);
  EXPECT_NEAR(a.av, b.av, rounding);
  EXPECT_NEAR(a.grr, b.grr, rounding);
  EXPECT_NEAR(a.pv, b.pv, rounding);
  EXPECT_NEAR(a.grr_low, b.grr_low, rounding);
  EXPECT_NEAR(a.grr_high, b.grr_high, 10 * rounding);
  EXPECT_NEAR(a.ndc_unrounded, b.ndc_unrounded, 10 * rounding);
}

TEST(GaugeStudyPublished, TheOrderOfPartsAppraisersAndTrialsDoesNotMatter) {
  const std::vector<double> readings = published_readings();
  constexpr std::array<std::size_t, kParts> parts{7, 2, 9, 0, 4, 1, 8, 3, 6, 5};
  constexpr std::array<std::size_t, kAppraisers> appraisers{2, 0, 1};
  std::vector<double> by_part, by_appraiser, by_trial;
  for (std::size_t i = 0; i < kParts; ++i) {
    for (std::size_t j = 0; j < kAppraisers; ++j) {
      for (std::size_t k = 0; k < kTrials; ++k) {
        by_part.push_back(readings[(parts.at(i) * kAppraisers + j) * kTrials + k]);
        by_appraiser.push_back(readings[(i * kAppraisers + appraisers.at(j)) * kTrials + k]);
        by_trial.push_back(readings[(i * kAppraisers + j) * kTrials + kTrials - 1 - k]);
      }
    }
  }
  ASSERT_NE(by_part, readings);
  for (const auto& shuffled : {by_part, by_appraiser, by_trial})
    expect_same(study_gauge(shuffled, kParts, kAppraisers, kTrials), published_study());
}

// A study with effects that add to nought, so that every sum of squares is a sum of squared effects:
//   parts -3, 0, 3; two appraisers -1, 1; interaction (-g, 0, g) for the first, its negative for the second;
//   trials -e, 0, e. Three parts, two appraisers, three trials.
std::vector<double> study_by_hand(double g, double e) {
  std::vector<double> values;
  for (const double part : {-3.0, 0.0, 3.0}) {
    for (const double appraiser : {-1.0, 1.0}) {
      for (const double trial : {-e, 0.0, e})
        values.push_back(10.0 + part + appraiser - appraiser * g * part / 3.0 + trial);
    }
  }
  return values;
}

TEST(GaugeStudyByHand, ARealInteractionIsKeptAndCountsAmongTheAppraisers) {
  const GaugeStudy s = study_gauge(study_by_hand(1.0, 0.1), 3, 2, 3);
  // Eighteen numbers near 10, whose squares carry 1e-14 each.
  constexpr double rounding = 1e-12;
  EXPECT_NEAR(s.ss_part, 6.0 * (9.0 + 0.0 + 9.0), rounding);    // 2 degrees of freedom: mean square 54.
  EXPECT_NEAR(s.ss_appraiser, 9.0 * (1.0 + 1.0), rounding);     // 1: 18.
  EXPECT_NEAR(s.ss_interaction, 3.0 * 4.0 * 1.0, rounding);     // 2: 6.
  EXPECT_NEAR(s.ss_repeatability, 6.0 * 2.0 * 0.01, rounding);  // 12: 0.01.
  EXPECT_NEAR(s.f_interaction, 600.0, 1e-9);                    // The repeatability's digits, seven places down.
  // With two degrees of freedom above, Fisher's law has a closed tail: (1 + 2 F/12)^-6.
  EXPECT_NEAR(s.p_interaction / std::pow(101.0, -6.0), 1.0, 1e-9);
  EXPECT_FALSE(s.pooled);
  // Expected mean squares of the crossed random model.
  const double interaction = (6.0 - 0.01) / 3.0, appraiser = (18.0 - 6.0) / 9.0, part = (54.0 - 6.0) / 6.0;
  EXPECT_NEAR(s.ev, 0.1, rounding);
  EXPECT_NEAR(s.av, std::sqrt(appraiser + interaction), rounding);
  EXPECT_NEAR(s.grr, std::sqrt(0.01 + appraiser + interaction), rounding);
  EXPECT_NEAR(s.pv, std::sqrt(part), rounding);
  EXPECT_NEAR(s.tv, std::sqrt(0.01 + appraiser + interaction + part), rounding);
  EXPECT_NEAR(s.ndc_unrounded, 1.41 * std::sqrt(part / (0.01 + appraiser + interaction)), rounding);
  EXPECT_EQ(s.ndc, 2);
}

/// Interaction that makes Fisher's tail `p` in the study by hand: F = 6 (p^(-1/6) - 1) = 6 g^2 / e^2.
GaugeStudy study_with_tail(double p) {
  return study_gauge(study_by_hand(std::sqrt(std::pow(p, -1.0 / 6.0) - 1.0), 1.0), 3, 2, 3);
}

TEST(GaugeStudyByHand, PoolingBeginsAtAQuarter) {
  const GaugeStudy kept = study_with_tail(0.249), pooled = study_with_tail(0.251);
  EXPECT_NEAR(kept.p_interaction, 0.249, 1e-12);
  EXPECT_NEAR(pooled.p_interaction, 0.251, 1e-12);
  EXPECT_FALSE(kept.pooled);  // 0.25: the header's; the manual's own level from memory.
  EXPECT_TRUE(pooled.pooled);
  EXPECT_NEAR(kept.ev, 1.0, 1e-12);
  // Pooled: both sums of squares over both degrees of freedom, 2 and 12.
  const double g2 = std::pow(0.251, -1.0 / 6.0) - 1.0;
  EXPECT_NEAR(pooled.ev, std::sqrt((12.0 * g2 + 12.0) / 14.0), 1e-12);
}

TEST(GaugeStudyByHand, ANegativeVarianceCountsAsNought) {
  // Interaction 3, appraisers 1: their mean square, 18, lies below the interaction's, 54; the parts' (54) equals it.
  const GaugeStudy s = study_gauge(study_by_hand(3.0, 0.1), 3, 2, 3);
  EXPECT_NEAR(s.av, std::sqrt((54.0 - 0.01) / 3.0), 1e-12);  // The interaction alone.
  EXPECT_NEAR(s.pv, 0.0, 1e-6);                              // Root of a difference of 1e-13.
  EXPECT_EQ(s.ndc, 1);
}

}  // namespace
}  // namespace canewise
