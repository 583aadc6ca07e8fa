// NIST Statistical Reference Datasets (StRD), https://www.itl.nist.gov/div898/strd: univariate summary statistics and
// linear regression, certified to 15 digits. The mean of a column is the fit of a column of ones, and its standard
// deviation is that fit's residual standard deviation.
#include <gtest/gtest.h>

#include <Eigen/Core>
#include <cmath>
#include <string>
#include <vector>

#include "scanproc/core/linear_fit.h"
#include "scanproc/core/plane_moments.h"

namespace canewise {
namespace {

/// Correct significant digits, StRD's own score: -log10 of the relative error, at most the 15 that are certified.
double digits(double measured, double certified) {
  if (std::isnan(measured)) return 0.0;
  const double error = std::abs(measured - certified) / std::abs(certified);
  return error > 1e-15 ? -std::log10(error) : 15.0;
}

/// Asserts at least `wanted` correct digits and records how many there are.
void expect_digits(const std::string& what, double measured, double certified, double wanted) {
  const double found = digits(measured, certified);
  ::testing::Test::RecordProperty(what, std::to_string(found));
  EXPECT_GE(found, wanted) << what << ": " << measured << ", certified " << certified;
}

Eigen::VectorXd vector_of(const std::vector<double>& values) {
  return Eigen::Map<const Eigen::VectorXd>(values.data(), static_cast<Eigen::Index>(values.size()));
}

LinearFit fit_mean(const Eigen::VectorXd& y) { return fit_linear(Eigen::MatrixXd::Ones(y.size(), 1), y); }

/// StRD NumAcc2 to 4: one middle value, then 500 pairs of a low and a high one.
Eigen::VectorXd alternating(double middle, double low, double high) {
  Eigen::VectorXd y(1001);
  for (Eigen::Index i = 0; i < y.size(); ++i) y(i) = i == 0 ? middle : (i % 2 == 1 ? low : high);
  return y;
}

Eigen::VectorXd mavro() {  // StRD Mavro: transmittance of a filter, 2 + 1e-5 x.
  const Eigen::VectorXd x =
      vector_of({180.0, 170.0, 180.0, 190.0, 180.0, 170.0, 150.0, 140.0, 150.0, 150.0, 170.0, 180.0, 180.0,
                 190.0, 190.0, 210.0, 200.0, 160.0, 140.0, 130.0, 130.0, 150.0, 150.0, 160.0, 150.0, 140.0,
                 130.0, 140.0, 150.0, 140.0, 150.0, 160.0, 150.0, 160.0, 190.0, 200.0, 200.0, 210.0, 220.0,
                 230.0, 240.0, 250.0, 270.0, 260.0, 260.0, 260.0, 270.0, 260.0, 250.0, 240.0});
  return x.unaryExpr([](double v) { return (200000.0 + v) / 100000.0; });
}

Eigen::VectorXd michelso() {  // StRD Michelso: speed of light in air, 299 + 0.01 x, Mm/s.
  const Eigen::VectorXd x = vector_of(
      {85.0,  74.0, 90.0, 107.0, 93.0, 85.0, 95.0, 98.0, 98.0, 88.0, 100.0, 98.0, 93.0, 65.0, 76.0, 81.0, 100.0,
       100.0, 96.0, 96.0, 96.0,  94.0, 96.0, 94.0, 88.0, 80.0, 85.0, 88.0,  90.0, 84.0, 83.0, 79.0, 81.0, 88.0,
       88.0,  83.0, 80.0, 79.0,  76.0, 80.0, 88.0, 88.0, 88.0, 86.0, 72.0,  72.0, 62.0, 86.0, 97.0, 95.0, 88.0,
       91.0,  85.0, 87.0, 84.0,  84.0, 85.0, 84.0, 84.0, 84.0, 89.0, 81.0,  81.0, 82.0, 80.0, 77.0, 76.0, 74.0,
       75.0,  76.0, 91.0, 92.0,  89.0, 86.0, 88.0, 72.0, 84.0, 85.0, 85.0,  78.0, 89.0, 84.0, 78.0, 81.0, 76.0,
       81.0,  79.0, 81.0, 82.0,  85.0, 87.0, 87.0, 81.0, 74.0, 81.0, 94.0,  95.0, 80.0, 81.0, 87.0});
  return x.unaryExpr([](double v) { return (29900.0 + v) / 100.0; });
}

struct Pairs {
  Eigen::VectorXd x, y;
};

Pairs norris() {  // StRD Norris: calibration of ozone monitors.
  return {vector_of({0.2, 337.4, 118.2, 884.6, 10.1,  226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4,
                     0.6, 775.5, 666.9, 338.0, 447.5, 11.6,  556.0, 228.1, 995.8, 887.6, 120.2, 0.3,
                     0.3, 556.8, 339.1, 887.2, 999.0, 779.0, 11.1,  118.3, 229.2, 669.1, 448.9, 0.5}),
          vector_of({0.1, 338.8, 118.1, 888.0, 9.2,   228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3,
                     0.1, 778.1, 668.8, 339.3, 448.9, 10.8,  557.7, 228.3, 998.0, 888.8, 119.6, 0.3,
                     0.6, 557.6, 339.3, 888.0, 998.5, 778.9, 10.2,  117.6, 228.9, 668.4, 449.2, 0.2})};
}

// Certified, StRD Norris.
constexpr double kNorrisB0 = -0.262323073774029, kNorrisB0Sd = 0.232818234301152;
constexpr double kNorrisB1 = 1.00211681802045, kNorrisB1Sd = 0.429796848199937e-03;
constexpr double kNorrisResidualSd = 0.884796396144373;
// Certified, StRD Mavro.
constexpr double kMavroMean = 2.00185600000000, kMavroSd = 0.000429123454003053;

// Digits asserted of the 15 that are certified. A standard deviation loses what the data's mean is greater than it:
// each value is stored to 1e-16 of itself.
constexpr double kCoefficientDigits = 13.0;
constexpr double kSpreadDigits = 12.0;

TEST(NistStrd, NumAcc1) {  // Three integers of eight digits: exact in binary, but their mean is good to 1e-9.
  const LinearFit fit = fit_mean(vector_of({10000001.0, 10000003.0, 10000002.0}));
  expect_digits("mean", fit.coefficients(0), 10000002.0, kCoefficientDigits);
  expect_digits("sd", fit.residual_sd, 1.0, 9.0);
}

TEST(NistStrd, NumAcc2) {
  const LinearFit fit = fit_mean(alternating(1.2, 1.1, 1.3));
  expect_digits("mean", fit.coefficients(0), 1.2, kCoefficientDigits);
  expect_digits("sd", fit.residual_sd, 0.1, kSpreadDigits);
}

TEST(NistStrd, NumAcc3) {  // 1000000.1 is stored to 6e-11: 0.1 is left with 9 digits.
  const LinearFit fit = fit_mean(alternating(1000000.2, 1000000.1, 1000000.3));
  expect_digits("mean", fit.coefficients(0), 1000000.2, kCoefficientDigits);
  expect_digits("sd", fit.residual_sd, 0.1, 9.0);
}

TEST(NistStrd, NumAcc4) {  // 10000000.1 is stored to 1e-9 (half a unit in the last place): 0.1 is left with 8 digits.
  const LinearFit fit = fit_mean(alternating(10000000.2, 10000000.1, 10000000.3));
  expect_digits("mean", fit.coefficients(0), 10000000.2, kCoefficientDigits);
  expect_digits("sd", fit.residual_sd, 0.1, 8.0);
}

TEST(NistStrd, Mavro) {
  const LinearFit fit = fit_mean(mavro());
  expect_digits("mean", fit.coefficients(0), kMavroMean, kCoefficientDigits);
  expect_digits("sd", fit.residual_sd, kMavroSd, kSpreadDigits);
  // The mean's own standard deviation is sd/sqrt(n).
  expect_digits("sd of mean", std::sqrt(fit.covariance(0, 0)), kMavroSd / std::sqrt(50.0), kSpreadDigits);
}

TEST(NistStrd, Michelso) {
  const LinearFit fit = fit_mean(michelso());
  expect_digits("mean", fit.coefficients(0), 299.852400000000, kCoefficientDigits);
  expect_digits("sd", fit.residual_sd, 0.0790105478190518, kSpreadDigits);
}

TEST(NistStrd, NoInt1) {
  const Eigen::VectorXd x = Eigen::VectorXd::LinSpaced(11, 60.0, 70.0),
                        y = Eigen::VectorXd::LinSpaced(11, 130.0, 140.0);
  const LinearFit fit = fit_linear(x, y);
  expect_digits("B1", fit.coefficients(0), 2.07438016528926, kCoefficientDigits);
  expect_digits("sd of B1", std::sqrt(fit.covariance(0, 0)), 0.0165289256198347, kSpreadDigits);
  expect_digits("residual sd", fit.residual_sd, 3.56753034006338, kSpreadDigits);
  EXPECT_EQ(fit.degrees_of_freedom, 10);
}

TEST(NistStrd, NoInt2) {
  const LinearFit fit = fit_linear(vector_of({4.0, 5.0, 6.0}), vector_of({3.0, 4.0, 4.0}));
  expect_digits("B1", fit.coefficients(0), 0.727272727272727, kCoefficientDigits);
  expect_digits("sd of B1", std::sqrt(fit.covariance(0, 0)), 0.0420827318078432, kSpreadDigits);
  expect_digits("residual sd", fit.residual_sd, 0.369274472937998, kSpreadDigits);
  EXPECT_EQ(fit.degrees_of_freedom, 2);
}

TEST(NistStrd, Norris) {
  const Pairs data = norris();
  ASSERT_EQ(data.x.size(), 36);
  Eigen::MatrixXd design(36, 2);
  design << Eigen::VectorXd::Ones(36), data.x;
  const LinearFit fit = fit_linear(design, data.y);
  expect_digits("B0", fit.coefficients(0), kNorrisB0, 12.0);  // The line falls by 430 to reach it: digits are lost.
  expect_digits("B1", fit.coefficients(1), kNorrisB1, kCoefficientDigits);
  expect_digits("sd of B0", std::sqrt(fit.covariance(0, 0)), kNorrisB0Sd, kSpreadDigits);
  expect_digits("sd of B1", std::sqrt(fit.covariance(1, 1)), kNorrisB1Sd, kSpreadDigits);
  expect_digits("residual sd", fit.residual_sd, kNorrisResidualSd, kSpreadDigits);
  EXPECT_EQ(fit.degrees_of_freedom, 34);
}

// ---------------------------------------------------------------------------------------------------------------------
// The sums behind every cell of a thickness map, on the same data: each observation at y = -1 and y = +1, so that the
// slope along y is 0 and the sum of squares doubles. Eight digits: the ridge that keeps a lonely point's slope finite
// is 1e-9 of the trace, so slopes are 1e-9 small. Nearby origins as the class asks.
// ---------------------------------------------------------------------------------------------------------------------

constexpr double kMomentDigits = 8.0;

TEST(NistStrd, NorrisThroughPlaneMoments) {
  const Pairs data = norris();
  constexpr double origin = 419.0;                       // Near the mean of x.
  const double height = kNorrisB0 + kNorrisB1 * origin;  // The certified line there.
  PlaneMoments moments;
  for (Eigen::Index i = 0; i < data.x.size(); ++i) {
    for (const double y : {-1.0, 1.0}) moments.add(data.x(i) - origin, y, data.y(i) - origin);
  }
  const LocalPlane plane = moments.fit();
  expect_digits("height", plane.height + origin, height, kMomentDigits);
  // Above the origin it is half a unit; the origin lies near the mean, where the ridge's share of the slope falls out.
  expect_digits("height above the origin", plane.height, height - origin, kMomentDigits);
  expect_digits("B1", plane.slope_x, kNorrisB1, kMomentDigits);
  EXPECT_NEAR(plane.slope_y, 0.0, 1e-8);
  const double residual_sd = std::sqrt(moments.residual_sum(plane) / 2.0 / 34.0);
  expect_digits("residual sd", residual_sd, kNorrisResidualSd, kMomentDigits);
}

TEST(NistStrd, NorrisThroughPlaneMomentsOfTwoCells) {
  const Pairs data = norris();
  // Two cells with origins of their own, added as the map adds its half cells.
  PlaneMoments low, high;
  for (Eigen::Index i = 0; i < data.x.size(); ++i) {
    const bool is_low = data.x(i) < 430.0;
    const double origin = is_low ? 200.0 : 750.0;
    for (const double y : {-1.0, 1.0}) (is_low ? low : high).add(data.x(i) - origin, y - 0.5, data.y(i) - 430.0);
  }
  low.add_shifted(high, 550.0, 0.0);
  const LocalPlane plane = low.fit();
  expect_digits("height", plane.height + 430.0, kNorrisB0 + kNorrisB1 * 200.0, kMomentDigits);
  expect_digits("B1", plane.slope_x, kNorrisB1, kMomentDigits);
  EXPECT_NEAR(plane.slope_y, 0.0, 1e-8);
  expect_digits("residual sd", std::sqrt(low.residual_sum(plane) / 2.0 / 34.0), kNorrisResidualSd, kMomentDigits);
}

TEST(NistStrd, MavroThroughPlaneMoments) {
  PlaneMoments moments;
  for (const double value : mavro()) {
    for (const double x : {-1.0, 1.0}) {
      for (const double y : {-1.0, 1.0}) moments.add(x, y, value - 2.0);
    }
  }
  const LocalPlane plane = moments.fit();
  expect_digits("mean", plane.height + 2.0, kMavroMean, kCoefficientDigits);
  // What the mean has above 2 is left with the 12 digits that taking 2 away leaves.
  expect_digits("mean above 2", plane.height, kMavroMean - 2.0, 11.0);
  EXPECT_NEAR(plane.slope_x, 0.0, 1e-15);
  EXPECT_NEAR(plane.slope_y, 0.0, 1e-15);
  expect_digits("sd", std::sqrt(moments.residual_sum(plane) / 4.0 / 49.0), kMavroSd, kMomentDigits);
}

}  // namespace
}  // namespace canewise
