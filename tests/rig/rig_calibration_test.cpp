#include "scanproc/rig/rig_calibration.h"

#include <gtest/gtest.h>

#include <cmath>

namespace canewise {
namespace {

constexpr double kStep_mm = 2.0;

/// Two rows of three heights. The columns run along the scanner's y, the rows along normal x along = -x.
PlateForm turned_form() {
  PlateForm form;
  form.origin_mm = {10.0, 20.0, 5.0};
  form.along = Eigen::Vector3d::UnitY();
  form.normal = Eigen::Vector3d::UnitZ();
  form.step_mm = kStep_mm;
  form.heights_um.resize(2, 3);
  form.heights_um << 1.0, 2.0, 4.0,  //
      11.0, 13.0, 17.0;
  return form;
}
/// Height in micrometres at a place counted in columns and rows.
double height_um(const PlateForm& form, double column, double row, double above_mm = 0.0) {
  return 1000.0 * form.height_mm({10.0 - kStep_mm * row, 20.0 + kStep_mm * column, 5.0 + above_mm});
}

TEST(RigCalibration, PlateHeightsAreThoseOfTheRastersNodes) {
  const PlateForm form = turned_form();
  EXPECT_NEAR(height_um(form, 0, 0), 1.0, 1e-12);
  EXPECT_NEAR(height_um(form, 2, 0), 4.0, 1e-12);
  EXPECT_NEAR(height_um(form, 1, 1), 13.0, 1e-12);
  EXPECT_NEAR(height_um(form, 1, 1, 3.0), 13.0, 1e-12) << "also over a reed, straight down";
}

TEST(RigCalibration, PlateHeightsBetweenNodesAreBilinear) {
  const PlateForm form = turned_form();
  EXPECT_NEAR(height_um(form, 1.25, 0), 0.75 * 2.0 + 0.25 * 4.0, 1e-12);
  EXPECT_NEAR(height_um(form, 0, 0.7), 0.3 * 1.0 + 0.7 * 11.0, 1e-12);
  EXPECT_NEAR(height_um(form, 0.5, 0.25), 0.75 * 1.5 + 0.25 * 12.0, 1e-12);
}

TEST(RigCalibration, AStepAndAHalfBeyondTheRasterThePlateIsTakenForFlat) {
  const PlateForm form = turned_form();
  EXPECT_NEAR(height_um(form, 3.4, 0), 4.0, 1e-12) << "up to there its rim goes on";
  EXPECT_NEAR(height_um(form, 0, -1.4), 1.0, 1e-12);
  EXPECT_EQ(height_um(form, 3.6, 0), 0.0);
  EXPECT_EQ(height_um(form, -1.6, 0), 0.0);
  EXPECT_EQ(height_um(form, 0, 2.6), 0.0);
  EXPECT_EQ(height_um(form, 0, -1.6), 0.0);
  EXPECT_EQ(PlateForm().height_mm({0, 0, 0}), 0.0) << "and one that was never mapped";
}

TEST(RigCalibration, WhereThePlateWasNotSeenItsNeighboursStandOrNothing) {
  PlateForm form = turned_form();
  form.heights_um(0, 1) = std::nan("");
  EXPECT_NEAR(height_um(form, 0.4, 0), 1.0, 1e-12) << "nearer to a node that was seen";
  EXPECT_EQ(height_um(form, 0.9, 0), 0.0) << "hardly any of it was seen";
}

/// Pictures of 40 by 20 pixels in 2 by 2 tiles, whose middles lie at columns 9.5 and 29.5 and rows 4.5 and 14.5, at 100
/// and 200 mm.
DepthCorrection correction() {
  DepthCorrection c;
  c.width = 40, c.height = 20;
  c.columns = c.rows = 2;
  c.depths_mm = {100.0, 200.0};
  c.errors_um = {10.0,  20.0,  40.0,  80.0,  //
                 110.0, 120.0, 140.0, 180.0};
  return c;
}

TEST(RigCalibration, DepthErrorsAreThoseOfTheTilesMiddles) {
  const DepthCorrection c = correction();
  EXPECT_NEAR(c.error_mm(9.5, 4.5, 100.0), 0.010, 1e-12);
  EXPECT_NEAR(c.error_mm(29.5, 4.5, 100.0), 0.020, 1e-12) << "columns run fastest";
  EXPECT_NEAR(c.error_mm(9.5, 14.5, 100.0), 0.040, 1e-12);
  EXPECT_NEAR(c.error_mm(29.5, 14.5, 200.0), 0.180, 1e-12);
}

TEST(RigCalibration, DepthErrorsBetweenAreLinearInPlaceAndDepth) {
  const DepthCorrection c = correction();
  EXPECT_NEAR(c.error_mm(14.5, 4.5, 100.0), 0.75 * 0.010 + 0.25 * 0.020, 1e-12);
  EXPECT_NEAR(c.error_mm(9.5, 12.5, 100.0), 0.2 * 0.010 + 0.8 * 0.040, 1e-12);
  EXPECT_NEAR(c.error_mm(9.5, 4.5, 130.0), 0.7 * 0.010 + 0.3 * 0.110, 1e-12);
}

TEST(RigCalibration, BeyondTheTilesAndDepthsErrorsStayAsTheyAre) {
  const DepthCorrection c = correction();
  EXPECT_NEAR(c.error_mm(0.0, 0.0, 50.0), 0.010, 1e-12);
  EXPECT_NEAR(c.error_mm(39.0, 19.0, 900.0), 0.180, 1e-12);
  DepthCorrection one = correction();
  one.depths_mm = {100.0};
  EXPECT_NEAR(one.error_mm(29.5, 4.5, 500.0), 0.020, 1e-12);
  EXPECT_EQ(DepthCorrection().error_mm(3.0, 4.0, 100.0), 0.0);
}

TEST(RigCalibration, WhatNobodyFoundCorrectsNothingAndClaimsNothing) {
  EXPECT_EQ(HeightScale().factor, 1.0);
  EXPECT_EQ(HeightScale().up.norm(), 1.0);
  EXPECT_EQ(LightDepth().offset_um, 0.0);
  EXPECT_EQ(CalibratedCamera().covariance, CameraCovariance::Zero());
  EXPECT_TRUE(LaserPlane().crosses_columns);
  EXPECT_EQ(Stage().motion.norm(), 0.0);
  const SmallestDifference smallest;
  for (const double value : {smallest.tip_um, smallest.rails_um, smallest.tip_outside_um, smallest.rails_outside_um})
    EXPECT_TRUE(std::isnan(value));
}

}  // namespace
}  // namespace canewise
