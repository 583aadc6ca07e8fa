// Strips of known thickness: what their scans say of the scale of heights. How a strip is found in a scan:
// tests/calib/surface_steps_test.cpp; the standard's evaluation of a profile: tests/handbook/step_gauge_test.cpp.
#include "calib/step_gauge.h"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "scanproc/core/error.h"

namespace canewise {
namespace {

/// A strip of this thickness, and its scans.
GaugeStep strip(double nominal_um, const std::vector<double>& heights_um, double u_nominal_um = 0.0) {
  GaugeStep step;
  step.nominal_um = nominal_um, step.u_nominal_um = u_nominal_um;
  for (const double height : heights_um) {
    GaugeScan scan;
    scan.height_um = height;
    scan.u_um = 0.1;
    step.scans.push_back(scan);
  }
  return step;
}

TEST(StepGauge, TheScaleIsMeasuredOverTrueHeight) {
  const GaugeCheck check =
      evaluate_gauge({strip(500.0, {505.0, 505.0}, 1.0), strip(2000.0, {2020.0, 2020.0}, 1.0)}, {});
  EXPECT_NEAR(check.scale, 1.01, 1e-12);
  EXPECT_NEAR(check.correction.factor, 1.0 / 1.01, 1e-12);
  EXPECT_TRUE(check.scale_is_off);
  EXPECT_TRUE(check.is_linear);
}

// Two scans of 999 and 1001 um have a standard deviation of sqrt(2) um from one degree of freedom. The mean of two has
// 1 um, and Student's factor at 95 % is 12.706 instead of 1.960 ([GUM], table G.2).
TEST(StepGauge, FewRepeatsMakeTheScaleLessSure) {
  const GaugeCheck check = evaluate_gauge({strip(1000.0, {999.0, 1001.0})}, {});
  EXPECT_NEAR(check.repeatability_um, std::sqrt(2.0), 1e-12);
  EXPECT_NEAR(1000.0 * check.u_scale, 12.706 / 1.960, 0.01);
  const GaugeCheck more = evaluate_gauge({strip(1000.0, {999.0, 1001.0, 999.0, 1001.0})}, {});
  // Standard deviation sqrt(4/3), three degrees of freedom: 3.182.
  EXPECT_NEAR(1000.0 * more.u_scale, std::sqrt(4.0 / 3.0) / 2.0 * 3.182 / 1.960, 0.01);
}

TEST(StepGauge, HowSureTheStripsAreLimitsTheScale) {
  EXPECT_NEAR(1000.0 * evaluate_gauge({strip(1000.0, {1000.0, 1000.0}, 3.0)}, {}).u_scale, 3.0, 1e-9);
  // Without repeats the profiles' own scatter stands in.
  EXPECT_NEAR(1000.0 * evaluate_gauge({strip(1000.0, {1000.0}, 3.0)}, {}).u_scale, std::hypot(3.0, 0.1), 1e-9);
}

TEST(StepGauge, AStripThatDoesNotFitTheOthersIsNamed) {
  const GaugeCheck check = evaluate_gauge(
      {strip(500.0, {500.0, 500.2}, 0.5), strip(1000.0, {1030.0, 1030.2}, 0.5), strip(2000.0, {2000.0, 2000.2}, 0.5)},
      {});
  EXPECT_FALSE(check.is_linear);
  EXPECT_EQ(check.odd_strip, 1U);
  EXPECT_GT(check.linearity_um, 20.0);
}

TEST(StepGauge, WithoutAStripThereIsNothingToSay) {
  EXPECT_THROW((void)evaluate_gauge({}, {}), InputError);
  EXPECT_THROW((void)evaluate_gauge({strip(500.0, {})}, {}), InputError);
}

}  // namespace
}  // namespace canewise
