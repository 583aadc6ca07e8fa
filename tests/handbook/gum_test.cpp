// The worked examples of the Guide to the expression of uncertainty in measurement (GUM, JCGM 100:2008), annex H.
// Results are printed there to two or three digits; the tolerances are half a unit of the last printed digit, widened
// only where the Guide itself rounds on the way.
#include <gtest/gtest.h>

#include <Eigen/Core>
#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "scanproc/assess/budget_table.h"
#include "scanproc/assess/zones.h"
#include "scanproc/core/budget.h"
#include "scanproc/words/speech.h"

namespace canewise {
namespace {

Message called(const char* name) { return {"verbatim", {{"text", name}}}; }

// ---------------------------------------------------------------------------------------------------------------------
// H.1: calibration of a 50 mm end gauge by comparison with a standard. Lengths in nanometres.
// ---------------------------------------------------------------------------------------------------------------------

constexpr double kStandardLength_nm = 50000623.0;  // GUM, H.1.2: l_S = 50.000623 mm.
constexpr double kExpansion_per_degC = 11.5e-6;    // GUM, H.1.3.3: alpha_S.
constexpr double kMeanTemperatureDeviation = 0.1;  // GUM, H.1.3.4: theta = -0.1 degC; only its square counts.

/// GUM, table H.1, first order: the inputs in their own units, with their sensitivities.
std::vector<Contribution> end_gauge() {
  const double root3 = std::sqrt(3.0);
  return {
      {called("length of the standard"), 25.0, 1.0, 18.0},                 // GUM, H.1.3.1 and H.1.6.
      {called("repeated differences"), 13.0 / std::sqrt(5.0), 1.0, 24.0},  // GUM, H.1.3.2: pooled s 13 nm, 5 readings.
      {called("comparator, random effects"), 3.9, 1.0, 5.0},               // GUM, H.1.3.2.
      {called("comparator, systematic effects"), 6.7, 1.0, 8.0},           // GUM, H.1.3.2.
      {called("difference of expansion coefficients"), 1e-6 / root3,       // GUM, H.1.3.5: +-1e-6 rectangular, nu 50.
       kStandardLength_nm * kMeanTemperatureDeviation, 50.0},              //
      {called("difference of temperatures"), 0.05 / root3,  // GUM, H.1.3.6: +-0.05 degC rectangular, nu 2.
       kStandardLength_nm * kExpansion_per_degC, 2.0},
  };
}

TEST(GumEndGauge, EveryContributionIsThePrintedOne) {
  const auto inputs = end_gauge();
  constexpr std::array printed_nm{25.0, 5.8, 3.9, 6.7, 2.9, 16.6};  // GUM, table H.1, last column.
  ASSERT_EQ(inputs.size(), printed_nm.size());
  for (std::size_t i = 0; i < inputs.size(); ++i) {
    EXPECT_NEAR(inputs[i].in_output_unit(), printed_nm.at(i), 0.05) << phrase(inputs[i].name);
  }
}

TEST(GumEndGauge, TheComparatorsPartHas9Point7NanometresAnd25DegreesOfFreedom) {
  const auto inputs = end_gauge();
  const Combined comparison = combine(std::span(inputs).subspan(1, 3));
  EXPECT_NEAR(comparison.standard_uncertainty, 9.7, 0.05);          // GUM, H.1.3.2: u(d) = 9.7 nm.
  EXPECT_NEAR(comparison.effective_degrees_of_freedom, 25.6, 0.2);  // GUM, H.1.6 prints 25.6; its inputs are rounded.
}

TEST(GumEndGauge, CombinedUncertaintyIs32Nanometres) {
  const Combined gauge = combine(end_gauge());
  EXPECT_NEAR(gauge.standard_uncertainty, 31.7, 0.05);  // GUM, H.1.4, eq. (H.6a): u_c^2 = 1002 nm^2; 32 nm.
  EXPECT_EQ(std::lround(gauge.standard_uncertainty), 32);
  EXPECT_NEAR(gauge.standard_uncertainty * gauge.standard_uncertainty, 1002.0, 2.5);
}

TEST(GumEndGauge, SixteenEffectiveDegreesOfFreedomRemain) {
  const Combined gauge = combine(end_gauge());
  // GUM, H.1.6 prints 16.7, from 32 nm instead of 31.7 nm on the way; exact arithmetic gives 16.6.
  EXPECT_NEAR(gauge.effective_degrees_of_freedom, 16.7, 0.1);
  EXPECT_EQ(std::floor(gauge.effective_degrees_of_freedom), 16.0);
}

TEST(GumEndGauge, TheTFactorIsTakenAtTheDegreesOfFreedomRoundedDown) {
  // GUM, table G.2, row 16; the next row would give 2.90 and 2.11, so rounding to nearest would show.
  EXPECT_NEAR(combine(end_gauge(), 0.99).coverage_factor, 2.92, 0.005);
  EXPECT_NEAR(combine(end_gauge(), 0.95).coverage_factor, 2.12, 0.005);
}

TEST(GumEndGauge, ExpandedUncertaintyAt99PercentIs93Nanometres) {
  const Combined gauge = combine(end_gauge(), 0.99);
  // GUM, H.1.6: U_99 = 2.92 x 32 nm = 93 nm, with u_c already rounded up to 32 nm. Unrounded it is at most 0.5 nm
  // x 2.92 from that, and the printed 93 is reached from the same rounded u_c.
  EXPECT_EQ(std::lround(gauge.coverage_factor * std::round(gauge.standard_uncertainty)), 93);
  EXPECT_NEAR(gauge.expanded_uncertainty, 93.0, 1.0);
  EXPECT_NEAR(gauge.expanded_uncertainty, 2.92 * 31.7, 0.3);  // 0.005 of the factor, 0.05 nm of u_c.
}

TEST(GumEndGauge, SecondOrderTermsRaiseTheUncertaintyTo34Nanometres) {
  auto inputs = end_gauge();
  // GUM, H.1.7: l_S u(delta alpha) u(theta) = 11.7 nm and l_S u(alpha_S) u(delta theta) = 1.7 nm.
  const double delta_alpha = kStandardLength_nm * (1e-6 / std::sqrt(3.0)) * 0.41;
  const double delta_theta = kStandardLength_nm * (2e-6 / std::sqrt(3.0)) * (0.05 / std::sqrt(3.0));
  EXPECT_NEAR(delta_alpha, 11.7, 0.2);  // The Guide multiplies the rounded 0.58e-6 and 0.41.
  EXPECT_NEAR(delta_theta, 1.7, 0.05);
  inputs.push_back({called("delta alpha and theta together"), delta_alpha});
  inputs.push_back({called("alpha and delta theta together"), delta_theta});
  EXPECT_EQ(std::lround(combine(inputs).standard_uncertainty), 34);  // GUM, H.1.7.
}

TEST(GumCoverage, WithoutLimitedDegreesOfFreedomTheFactorIsTheNormalOne) {
  const std::array only{Contribution{called("known"), 2.0, 3.0}};
  const Combined combined = combine(only);
  EXPECT_EQ(combined.standard_uncertainty, 6.0);
  EXPECT_NEAR(combined.coverage_factor, 1.959964, 5e-7);  // GUM, table G.1: 1.960; seven digits from the normal law.
  EXPECT_NEAR(combine(only, 0.99).coverage_factor, 2.575829, 5e-7);  // GUM, table G.1: 2.576.
}

// ---------------------------------------------------------------------------------------------------------------------
// H.2: simultaneous resistance and reactance. Inputs from five simultaneous sets of readings, so they are correlated.
// ---------------------------------------------------------------------------------------------------------------------

struct Impedance {
  Eigen::Vector3d mean;        // V in volt, I in ampere, phi in radian.
  Eigen::Matrix3d covariance;  // Of the means.
};

Eigen::Matrix<double, 5, 3> impedance_table() {
  Eigen::Matrix<double, 5, 3> readings;  // GUM, table H.2.
  readings << 5.007, 19.663e-3, 1.0456,  //
      4.994, 19.639e-3, 1.0438,          //
      5.005, 19.640e-3, 1.0468,          //
      4.990, 19.685e-3, 1.0428,          //
      4.999, 19.678e-3, 1.0433;
  return readings;
}

Impedance impedance_readings() {
  const Eigen::Matrix<double, 5, 3> readings = impedance_table();
  Impedance impedance;
  impedance.mean = readings.colwise().mean().transpose();
  const Eigen::Matrix<double, 5, 3> off = readings.rowwise() - impedance.mean.transpose();
  impedance.covariance = off.transpose() * off / (5.0 * 4.0);  // GUM, 5.2.3, eq. (17).
  return impedance;
}

// R = (V/I) cos phi, X = (V/I) sin phi, Z = V/I (GUM, eq. (H.7)) and their derivatives in closed form.
double ratio_of(const Impedance& i) { return i.mean(0) / i.mean(1); }
Eigen::Vector3d resistance_slopes(const Impedance& i) {
  const double z = ratio_of(i), c = std::cos(i.mean(2)), s = std::sin(i.mean(2));
  return {c / i.mean(1), -z * c / i.mean(1), -z * s};
}
Eigen::Vector3d reactance_slopes(const Impedance& i) {
  const double z = ratio_of(i), c = std::cos(i.mean(2)), s = std::sin(i.mean(2));
  return {s / i.mean(1), -z * s / i.mean(1), z * c};
}
Eigen::Vector3d impedance_slopes(const Impedance& i) { return {1.0 / i.mean(1), -ratio_of(i) / i.mean(1), 0.0}; }

TEST(GumImpedance, TheReadingsGiveThePrintedCorrelationsAndResults) {
  const Impedance i = impedance_readings();
  const auto correlation = [&](int a, int b) {
    return i.covariance(a, b) / std::sqrt(i.covariance(a, a) * i.covariance(b, b));
  };
  EXPECT_NEAR(correlation(0, 1), -0.36, 0.005);  // GUM, table H.2.
  EXPECT_NEAR(correlation(0, 2), 0.86, 0.005);
  EXPECT_NEAR(correlation(1, 2), -0.65, 0.005);
  EXPECT_NEAR(ratio_of(i) * std::cos(i.mean(2)), 127.732, 5e-4);  // GUM, table H.3.
  EXPECT_NEAR(ratio_of(i) * std::sin(i.mean(2)), 219.847, 5e-4);
  EXPECT_NEAR(ratio_of(i), 254.260, 5e-4);
}

TEST(GumImpedance, CorrelatedInputsGiveThePrintedUncertainties) {
  // GUM, table H.3 is worked from the rounded standard uncertainties of table H.2 and the correlations of its readings;
  // so is this. From unrounded uncertainties u(X) is 0.2956.
  Impedance i = impedance_readings();
  const Eigen::Vector3d exact = i.covariance.diagonal().cwiseSqrt();
  const Eigen::Vector3d printed(0.0032, 0.0095e-3, 0.00075);  // GUM, table H.2: V, I, phi.
  EXPECT_LT(((exact - printed).cwiseQuotient(printed)).cwiseAbs().maxCoeff(), 5e-3);
  const Eigen::Vector3d rounding = printed.cwiseQuotient(exact);
  i.covariance = (rounding.asDiagonal() * i.covariance * rounding.asDiagonal()).eval();
  EXPECT_NEAR(combined_standard_uncertainty(resistance_slopes(i), i.covariance), 0.071, 5e-4);  // GUM, table H.3.
  EXPECT_NEAR(combined_standard_uncertainty(reactance_slopes(i), i.covariance), 0.295, 5e-4);
  EXPECT_NEAR(combined_standard_uncertainty(impedance_slopes(i), i.covariance), 0.236, 5e-4);
}

TEST(GumImpedance, TheSameAsFromEachSetOfReadingsByItself) {
  // GUM, H.2.4, approach 2: R, X and Z of each set, then the standard deviation of their means. It differs from the law
  // of propagation by second-order terms alone, relative spread 1e-3 of the inputs.
  const Impedance i = impedance_readings();
  const Eigen::Matrix<double, 5, 3> readings = impedance_table();
  const Eigen::ArrayXd z = readings.col(0).array() / readings.col(1).array();
  const auto spread = [](const Eigen::ArrayXd& values) {
    return std::sqrt((values - values.mean()).square().sum() / 20.0);
  };
  const double u_r = spread(z * readings.col(2).array().cos()), u_x = spread(z * readings.col(2).array().sin());
  EXPECT_NEAR(combined_standard_uncertainty(resistance_slopes(i), i.covariance), u_r, 5e-3 * u_r);
  EXPECT_NEAR(combined_standard_uncertainty(reactance_slopes(i), i.covariance), u_x, 5e-3 * u_x);
  EXPECT_NEAR(combined_standard_uncertainty(impedance_slopes(i), i.covariance), spread(z), 5e-3 * spread(z));
}

TEST(GumImpedance, CorrelationsLeftOutMisstateBothUncertainties) {
  const Impedance i = impedance_readings();
  const Eigen::MatrixXd uncorrelated = i.covariance.diagonal().asDiagonal();
  // Computed from GUM, table H.2 with r = 0: u(R) is 2.8 times too large, u(X) a third too small.
  EXPECT_NEAR(combined_standard_uncertainty(resistance_slopes(i), uncorrelated), 0.195, 5e-4);
  EXPECT_NEAR(combined_standard_uncertainty(reactance_slopes(i), uncorrelated), 0.201, 5e-4);
}

TEST(GumImpedance, WithoutCorrelationsBothFormulasAgree) {
  const Impedance i = impedance_readings();
  const Eigen::Vector3d slopes = resistance_slopes(i);
  std::vector<Contribution> inputs;
  for (Eigen::Index k = 0; k < 3; ++k) inputs.push_back({called("input"), std::sqrt(i.covariance(k, k)), slopes(k)});
  const Eigen::MatrixXd uncorrelated = i.covariance.diagonal().asDiagonal();
  const double expected = combined_standard_uncertainty(slopes, uncorrelated);
  EXPECT_NEAR(combine(inputs).standard_uncertainty, expected, 1e-14 * expected);  // Rounding of a few operations.
}

// ---------------------------------------------------------------------------------------------------------------------
// The reports' budget tables use the same law.
// ---------------------------------------------------------------------------------------------------------------------

TEST(GumBudgetTable, LinesAndTotalAreRootsOfSumsOfSquares) {
  // Sides 3-4-5 and 2-3-6-7, so that every result is a whole number of micrometres.
  ZoneMean mean;
  mean.mean_mm = 0.5;
  mean.u_local_mm = 2e-3;
  mean.effects_mm = {3e-3, 6e-3, -4e-3, std::sqrt(20.0) * 1e-3};
  const std::vector<CommonEffect> common{{EffectSource::seating, called("offset"), {}},
                                         {EffectSource::rig_scale, called("scale"), {}},
                                         {EffectSource::seating, called("roll"), {}},
                                         {EffectSource::frame, called("yaw"), {}}};
  const BudgetTable table = budget_of(called("quantity"), mean, common);

  const auto line = [&](const Message& name) {
    const auto found = std::ranges::find(table.lines, name, &Contribution::name);
    return found == table.lines.end() ? -1.0 : found->in_output_unit();
  };
  constexpr double rounding_um = 1e-12;
  ASSERT_EQ(table.lines.size(), 4U);
  EXPECT_EQ(table.quantity, called("quantity"));
  EXPECT_NEAR(table.lines.front().in_output_unit(), 2.0, rounding_um);
  EXPECT_NEAR(line(message_of(EffectSource::seating)), 5.0, rounding_um);  // Two effects of one source.
  EXPECT_NEAR(line(message_of(EffectSource::rig_scale)), 6.0, rounding_um);
  EXPECT_NEAR(line(message_of(EffectSource::frame)), std::sqrt(20.0), rounding_um);
  // GUM, eq. (10): sqrt(4 + 25 + 36 + 20) um.
  EXPECT_NEAR(table.combined.standard_uncertainty, std::sqrt(85.0), rounding_um);
  EXPECT_NEAR(table.combined.expanded_uncertainty, 1.959964 * std::sqrt(85.0), 1e-5);  // GUM, table G.1, infinite nu.
}

}  // namespace
}  // namespace canewise
