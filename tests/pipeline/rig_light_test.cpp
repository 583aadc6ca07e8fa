// What a rig knows of how deep its light enters cane is put to use by `measure` itself.
#include <gtest/gtest.h>

#include <cmath>

#include "scanproc/core/statistics.h"
#include "tests/support/results.h"

namespace canewise {
namespace {

/// As a cross-check against touch may find: 5 um too little at 1.2 mm of thickness, and 3 um more with each millimetre.
LightDepth found_by_touch() {
  LightDepth light;
  light.offset_um = 5.0;
  light.per_mm_um = 3.0;
  light.middle_mm = 1.2;
  light.covariance_um2.diagonal() << 0.25, 0.09, 0.0;
  return light;
}
double light_mm(double thickness_mm) { return 1e-3 * (5.0 + 3.0 * (thickness_mm - 1.2)); }

Result measured_with(const Rig& rig) {
  const test::TempFolder folder;
  MeasureInputs inputs;
  inputs.rig = rig;
  inputs.scans = {folder.file(
      "reed.ply", fixtures::ply_binary(fixtures::scan_reed(fixtures::Reed({}, test::rough_cane(1)),
                                                           fixtures::profilometer(), test::plain_scene(1), 1)
                                           .cloud))};
  return measure(inputs);
}
Rig rig(bool with_light) {
  Rig rig;
  rig.name = "attic laser";
  if (with_light) rig.light = found_by_touch();
  return rig;
}
const Result& plain() {
  static const Result result = measured_with(rig(false));
  return result;
}
const Result& corrected() {
  static const Result result = measured_with(rig(true));
  return result;
}

TEST(RigLight, MeasureAddsWhatTheRigsLightDoesNotSeeAndKnowsItAsWellAsTheCheckDid) {
  const Field &before = plain().map.thickness_mm, &after = corrected().map.thickness_mm;
  ASSERT_EQ(before.rows(), after.rows());
  ASSERT_EQ(before.cols(), after.cols());
  int cells = 0;
  for (Eigen::Index i = 0; i < before.size(); ++i) {
    ASSERT_EQ(std::isnan(before.data()[i]), std::isnan(after.data()[i]));
    if (std::isnan(before.data()[i])) continue;
    const double h = before.data()[i];
    // Results keep a hundredth of a micrometre.
    ASSERT_NEAR(static_cast<double>(after.data()[i]) - h, light_mm(h), 2e-5) << "at " << h << " mm";
    // The check's own uncertainty stands in the place of the prior's 3 um.
    const double u_before_um = 1e3 * static_cast<double>(plain().map.u_mm.data()[i]),
                 u_after_um = 1e3 * static_cast<double>(corrected().map.u_mm.data()[i]);
    ASSERT_NEAR(square(u_before_um) - square(u_after_um), 9.0 - 0.25 - 0.09 * square(h - 1.2),
                0.02 * u_before_um + 0.05);
    ++cells;
  }
  EXPECT_GT(cells, 8000);
}

TEST(RigLight, WhatIsJudgedIsTheCorrectedThickness) {
  const CutFeatures &before = plain().assessment.cut, &after = corrected().assessment.cut;
  EXPECT_NEAR(after.tip_thickness_mm.value - before.tip_thickness_mm.value, light_mm(before.tip_thickness_mm.value),
              1e-4);
  EXPECT_NEAR(after.stock_height_mm.value - before.stock_height_mm.value, light_mm(before.stock_height_mm.value), 5e-4);
  EXPECT_GT(after.stock_height_mm.value, before.stock_height_mm.value + 0.008);  // 10.4 um at 3 mm.
}

}  // namespace
}  // namespace canewise
