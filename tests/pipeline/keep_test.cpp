// A result that was just measured is what its file will hold; that both are equal, result_json_test.cpp says.
#include "scanproc/pipeline/keep.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "tests/support/plain_result.h"

namespace canewise {
namespace {

const float kNotSeen = std::numeric_limits<float>::quiet_NaN();
Field field_of(float value) { return Field::Constant(2, 4, value); }

Result measured() {
  Result result = test::plain_result();
  result.map.grid = {0.25, 2, 4};
  result.map.thickness_mm = field_of(1.2345678F);
  result.map.thickness_mm(0, 0) = 1.3F;
  result.map.thickness_mm(1, 3) = kNotSeen;
  result.map.u_mm = field_of(0.0012345678F);
  result.map.table_mm = field_of(-0.0012345678F);
  result.map.u_local_mm = result.map.slope_x = result.map.slope_y = result.map.u_table_mm = field_of(0.5F);
  result.map.table_covariance_sum_mm2 = 1e-6;
  result.map.common = {{EffectSource::seating, Message{}, field_of(0.1F), false}};
  result.map.noise.bin_sd_mm = 0.0123456789;
  result.map.point_noise_mm = 0.0087654321;
  result.map.outlier_share = 0.0312345678;
  return result;
}

TEST(Keep, TheMapsFieldsHaveHundredthsOfAMicrometre) {
  const ThicknessMap map = keep(measured()).map;
  EXPECT_EQ(map.grid.rows, 2);
  EXPECT_EQ(map.grid.columns, 4);
  EXPECT_EQ(map.grid.cell_mm, 0.25);
  EXPECT_EQ(map.thickness_mm(0, 1), 1.23457F);
  EXPECT_TRUE(std::isnan(map.thickness_mm(1, 3)));
  EXPECT_EQ(map.u_mm(0, 0), 0.00123F);
  EXPECT_EQ(map.table_mm(0, 0), -0.00123F);
  EXPECT_EQ(map.noise.bin_sd_mm, 0.0123456789) << "single figures stay as they are";
  EXPECT_EQ(map.point_noise_mm, 0.0087654321);
  EXPECT_EQ(map.outlier_share, 0.0312345678);
}

TEST(Keep, WhatOnlyAMeasurementNeedsGoes) {
  Result result = measured();
  result.assessment.zone_thickness.resize(1);
  result.assessment.zone_thickness[0].thickness.effects_mm = {0.1};
  result.assessment.zone_thickness[0].thickness.mean_mm = 0.123456789;
  for (ZoneBalance& zone : result.assessment.balance.zones) zone.difference.effects_mm = {0.1, 0.2};
  const Result kept = keep(result);
  for (const Field* field : {&kept.map.u_local_mm, &kept.map.slope_x, &kept.map.slope_y, &kept.map.u_table_mm})
    EXPECT_EQ(field->size(), 0);
  EXPECT_TRUE(kept.map.common.empty());
  EXPECT_EQ(kept.map.table_covariance_sum_mm2, 0.0);
  EXPECT_TRUE(kept.assessment.zone_thickness[0].thickness.effects_mm.empty());
  EXPECT_EQ(kept.assessment.zone_thickness[0].thickness.mean_mm, 0.123456789);
  ASSERT_EQ(kept.assessment.balance.zones.size(), 12U);
  for (const ZoneBalance& zone : kept.assessment.balance.zones) EXPECT_TRUE(zone.difference.effects_mm.empty());
}

TEST(Keep, SidesDifferAsTheKeptMapSays) {
  Result result = measured();
  result.assessment.balance.difference_mm = field_of(0.7F);
  result.assessment.balance.u_difference_mm = field_of(0.0012345678F);
  const Balance balance = keep(result).assessment.balance;
  // Right minus left: 1.23457 - 1.3 in the outermost pair, whose partner in the other row was not seen.
  EXPECT_NEAR(balance.difference_mm(0, 0), -0.06543, 2e-7);
  EXPECT_NEAR(balance.difference_mm(0, 3), -0.06543, 2e-7);
  EXPECT_EQ(balance.difference_mm(0, 1), 0.0F);
  EXPECT_TRUE(std::isnan(balance.difference_mm(1, 0)));
  EXPECT_EQ(balance.u_difference_mm(1, 2), 0.00123F);
}

TEST(Keep, TheTargetAndItsDeviationToo) {
  Result result = measured();
  result.relative_thickness_mm = Eigen::ArrayXXd::Constant(1, 1, 0.123456789);
  TargetComparison comparison;
  comparison.deviation_mm = field_of(0.0123456F);
  comparison.target.thickness_mm = Eigen::ArrayXXd::Constant(1, 1, 2.3456789);
  comparison.target.tolerance_mm = Eigen::ArrayXXd::Constant(1, 1, 0.0123456);
  comparison.zones.resize(1);
  comparison.zones[0].deviation.effects_mm = {0.1};
  result.assessment.target = comparison;
  const Result kept = keep(result);
  EXPECT_EQ(kept.relative_thickness_mm(0, 0), 0.12346);
  ASSERT_TRUE(kept.assessment.target);
  EXPECT_EQ(kept.assessment.target->deviation_mm(1, 1), 0.01235F);
  EXPECT_EQ(kept.assessment.target->target.thickness_mm(0, 0), 2.34568);
  EXPECT_EQ(kept.assessment.target->target.tolerance_mm(0, 0), 0.01235);
  EXPECT_TRUE(kept.assessment.target->zones[0].deviation.effects_mm.empty());
}

TEST(Keep, OfBendingWhatAPlayerActsOn) {
  Result result = measured();
  result.mechanics.why_not = {};
  for (Field& field : result.mechanics.sensitivity) field = field_of(0.0012346F);
  result.mechanics.sensitivity.at(index_of(BendingFigure::stiffness_lip))(0, 0) = kNotSeen;
  result.mechanics.modes.resize(1);
  result.mechanics.modes[0].shape = Eigen::ArrayXXd::Constant(1, 1, -0.123456789);
  result.mechanics.bent_mm = Eigen::ArrayXXd::Constant(1, 1, 0.987654321);
  const Mechanics kept = keep(result).mechanics;
  ASSERT_TRUE(kept.known());
  for (const BendingFigure figure :
       {BendingFigure::stiffness_lip, BendingFigure::imbalance_tip, BendingFigure::imbalance_lip}) {
    EXPECT_EQ(kept.sensitivity.at(index_of(figure))(1, 1), 0.001235F);
  }
  EXPECT_TRUE(std::isnan(kept.sensitivity.at(index_of(BendingFigure::stiffness_lip))(0, 0)));
  for (const BendingFigure figure :
       {BendingFigure::stiffness_left, BendingFigure::stiffness_centre, BendingFigure::stiffness_right})
    EXPECT_EQ(kept.sensitivity.at(index_of(figure)).size(), 0);
  EXPECT_EQ(kept.modes.at(0).shape(0, 0), -0.12346);
  EXPECT_EQ(kept.bent_mm(0, 0), 0.98765);
}

TEST(Keep, OfBendingThatIsNotKnownTheReasonAlone) {
  Result result = measured();
  result.mechanics.lip_at_mm = 10.0;
  result.mechanics.sentence = {test::verbatim("Half a sentence.")};
  const Mechanics kept = keep(result).mechanics;
  EXPECT_EQ(kept.why_not, result.mechanics.why_not);
  EXPECT_EQ(kept.lip_at_mm, 0.0);
  EXPECT_TRUE(kept.sentence.empty());
}

TEST(Keep, OfTheRigWhatItIsAndNotItsCalibration) {
  Result result = measured();
  Rig& rig = result.rig;
  rig.name = "bench";
  rig.priors.seating_roll_um = 0.7;
  rig.mirrored = true;
  rig.handedness_found = "2026-01-02T03:04:05Z";
  rig.pads = Pads{0.25, 1.5};
  rig.carrier.u_size_um = 3.0;
  rig.calibrated_at = "2026-02-03T04:05:06Z";
  rig.obtained = {{"scale_rel", "step gauge"}};
  rig.scale_parts = {{"stage", 1e-4}};
  rig.plate_form.emplace();
  rig.light.emplace();
  rig.checks.resize(2);
  const Rig kept = keep(result).rig;
  EXPECT_EQ(kept.name, "bench");
  EXPECT_EQ(kept.priors.seating_roll_um, 0.7);
  EXPECT_TRUE(kept.mirrored);
  EXPECT_EQ(kept.handedness_found, rig.handedness_found);
  ASSERT_TRUE(kept.pads);
  EXPECT_EQ(kept.pads->above_table_mm, 0.25);
  EXPECT_EQ(kept.carrier.u_size_um, 3.0);
  EXPECT_EQ(kept.calibrated_at, rig.calibrated_at);
  EXPECT_EQ(kept.obtained, rig.obtained);
  EXPECT_TRUE(kept.scale_parts.empty());
  EXPECT_FALSE(kept.plate_form);
  EXPECT_FALSE(kept.light);
  EXPECT_TRUE(kept.checks.empty());
}

TEST(Keep, WhatIsKeptStaysAsItIs) {
  const Result once = keep(measured()), twice = keep(once);
  EXPECT_TRUE((once.map.u_mm == twice.map.u_mm).all());
  EXPECT_EQ(once.map.thickness_mm(0, 1), twice.map.thickness_mm(0, 1));
  EXPECT_EQ(once.headline, measured().headline);
  EXPECT_EQ(twice.outline.length_mm, 68.0);
}

}  // namespace
}  // namespace canewise
