// The ways in which one reed may lie, swell and be seen otherwise a second time, each by its prior in both scans. The
// reed here is a wedge of 13 by 68 mm: 0.1 mm at the tip, rising by 0.05 along and by 0.01 to the right.
#include "scanproc/compare/laying_shapes.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "tests/support/plain_result.h"

namespace canewise {
namespace {

using Index = Eigen::Index;
const Grid kGrid{0.5, 136, 26};
constexpr Index kRow = 51, kColumn = 19;       // Away from every symmetry.
constexpr double kX_mm = 25.75, kY_mm = 3.25;  // Its place: y is half of the half width.
constexpr double kThickness_mm = 0.1 + 0.05 * kX_mm + 0.01 * kY_mm;
constexpr std::size_t kAlways = 3;  // Swelling, and light on slopes along and across.

/// A scan of which everything is known.
Result wedge() {
  Result result = test::plain_result();
  result.state = MoistureState::dry;
  for (const PriorKey& key : kPriorKeys) result.rig.priors.*key.member = 0.0;
  result.map.grid = kGrid;
  result.map.thickness_mm.resize(kGrid.rows, kGrid.columns);
  for (Index r = 0; r < kGrid.rows; ++r)
    for (Index c = 0; c < kGrid.columns; ++c)
      result.map.thickness_mm(r, c) = static_cast<float>(0.1 + 0.05 * kGrid.x_mm(r) + 0.01 * kGrid.y_mm(c));
  return result;
}
const Field kNoPlan = Field::Zero(kGrid.rows, kGrid.columns);

/// The one shape more that a prior of 3 um in the scan before and 4 um in the scan after makes.
Field shape_of(double Priors::*prior, DatumMode before_mode = DatumMode::plate) {
  Result before = wedge(), after = wedge();
  before.datum = before_mode;
  before.rig.priors.*prior = 3.0;
  after.rig.priors.*prior = 4.0;
  const LayingShapes shapes = laying_shapes(before, after, kNoPlan);
  EXPECT_EQ(shapes.fields.size(), kAlways + 1);
  return shapes.fields.at(1);
}
double at_tip_corner(const Field& field) { return field(0, 25); }  // 0.25 mm from the tip, 6.25 mm to the right.

TEST(LayingShapes, WhatIsKnownMakesNoShape) {
  const LayingShapes shapes = laying_shapes(wedge(), wedge(), kNoPlan);
  ASSERT_EQ(shapes.fields.size(), kAlways);
  for (const Field& field : shapes.fields) {
    EXPECT_EQ(field.rows(), kGrid.rows);
    EXPECT_EQ(field.cols(), kGrid.columns);
  }
  // 5 um on a slope of one.
  EXPECT_NEAR(shapes.fields[1](kRow, kColumn), 0.005 * 0.05, 1e-9);
  EXPECT_NEAR(shapes.fields[2](kRow, kColumn), 0.005 * 0.01, 1e-9);
}

TEST(LayingShapes, SwellingIsAGainInProportionToTheThicknessByTheStatesOfMoisture) {
  const auto with = [](MoistureState one, MoistureState other) {
    Result before = wedge(), after = wedge();
    before.state = one, after.state = other;
    before.map.thickness_mm(0, 0) = std::numeric_limits<float>::quiet_NaN();
    return laying_shapes(before, after, kNoPlan);
  };
  const LayingShapes dry = with(MoistureState::dry, MoistureState::dry);
  EXPECT_EQ(dry.swelling_spread, 0.003);
  EXPECT_NEAR(dry.fields[0](kRow, kColumn), -0.003 * kThickness_mm, 1e-8);
  EXPECT_EQ(dry.fields[0](0, 0), 0.0F) << "not measured";
  EXPECT_EQ(with(MoistureState::wet, MoistureState::wet).swelling_spread, 0.003);
  EXPECT_EQ(with(MoistureState::unknown, MoistureState::unknown).swelling_spread, 0.01);
  const LayingShapes wet = with(MoistureState::dry, MoistureState::wet);
  EXPECT_EQ(wet.swelling_spread, 0.05);
  EXPECT_NEAR(wet.fields[0](kRow, kColumn), -0.05 * kThickness_mm, 1e-7);
}

TEST(LayingShapes, SeatingIsAnOffsetARollAndAPitchOfBothScansTogether) {
  const Field offset = shape_of(&Priors::seating_offset_um);
  EXPECT_NEAR(offset.minCoeff(), 0.005, 1e-9) << "3 and 4 um";
  EXPECT_NEAR(offset.maxCoeff(), 0.005, 1e-9);
  EXPECT_NEAR(shape_of(&Priors::seating_roll_um)(kRow, kColumn), 0.0025, 1e-9);
  EXPECT_NEAR(shape_of(&Priors::seating_roll_um)(kRow, 6), -0.0025, 1e-9) << "the mirrored column";
  // From the whole of it at the tip to none at three quarters of the length, 51 mm.
  const Field pitch = shape_of(&Priors::seating_pitch_um);
  EXPECT_NEAR(pitch(0, kColumn), 0.005 * (1.0 - 0.25 / 51.0), 1e-9);
  EXPECT_NEAR(pitch(kRow, kColumn), 0.005 * (1.0 - 25.75 / 51.0), 1e-9);
  EXPECT_NEAR(pitch(135, kColumn), 0.005 * (1.0 - 67.75 / 51.0), 1e-9);
}

// The form itself is the same both times: a third of what is not known may have changed.
TEST(LayingShapes, OfTheTablesFormAThirdCounts) {
  const double along = (2.0 * kX_mm - 68.0) / 68.0, third = 0.005 / 3.0;
  EXPECT_NEAR(shape_of(&Priors::table_bow_um)(kRow, kColumn), third * (1.0 - along * along), 1e-9);
  EXPECT_NEAR(shape_of(&Priors::table_cup_um)(kRow, kColumn), third * 0.75, 1e-9);
  EXPECT_NEAR(shape_of(&Priors::table_twist_um)(kRow, kColumn), third * along * 0.5, 1e-9);
}

// On the centreline the wedge is 0.5 mm thick at 8 mm: the curl has faded out in the row at 8.25 mm.
TEST(LayingShapes, TheTipsCurlFadesOutWhereTheReedIsHalfAMillimetreThick) {
  const Field lift = shape_of(&Priors::tip_lift_um), side = shape_of(&Priors::tip_curl_side_um);
  const double at_tip = (1.0 - 0.25 / 8.25) * (1.0 - 0.25 / 8.25);
  EXPECT_NEAR(at_tip_corner(lift), 0.005 * at_tip, 1e-9);
  EXPECT_NEAR(at_tip_corner(side), 0.005 * at_tip * 6.25 / 6.5, 1e-9);
  EXPECT_NEAR(lift(8, 3), 0.005 * std::pow(1.0 - 4.25 / 8.25, 2), 1e-9);
  EXPECT_GT(lift(15, 3), 0.0F);
  EXPECT_EQ(lift(16, 3), 0.0F);
  EXPECT_EQ(lift(kRow, 3), 0.0F);
}

TEST(LayingShapes, FromBothSidesNeitherTheTableNorTheTipIsTakenForCane) {
  for (double Priors::*prior : {&Priors::seating_offset_um, &Priors::tip_lift_um}) {
    const double one = shape_of(prior, DatumMode::two_sided)(1, 13), both = shape_of(prior)(1, 13);
    EXPECT_NEAR(one / both, 0.8, 1e-6) << "the 4 um of the scan after alone";
  }
  // What bends on its carrier does so every time anew: no third of it.
  const double along = (2.0 * kX_mm - 68.0) / 68.0;
  EXPECT_NEAR(shape_of(&Priors::pose_bending_um, DatumMode::two_sided)(kRow, kColumn), 0.003 * (1.0 - along * along),
              1e-9);
  Result bent = wedge();
  bent.rig.priors.pose_bending_um = 2.0;
  EXPECT_EQ(laying_shapes(bent, bent, kNoPlan).fields.size(), kAlways) << "on a plate";
}

TEST(LayingShapes, ThePlanesAndTheFramesOwnDoubtCount) {
  Result before = wedge(), after = wedge();
  before.frame.plate_plane.diagonal() << 9e-6, 0.0, 0.0;
  after.frame.plate_plane.diagonal() << 16e-6, 0.0, 0.0;
  before.frame.yaw_rad = 0.006, after.frame.yaw_rad = 0.008;
  before.frame.pivot_x_mm = 45.0;
  before.outline.u_length_mm = 0.012;
  after.frame.y_mm = 0.012;
  const LayingShapes shapes = laying_shapes(before, after, kNoPlan);
  ASSERT_EQ(shapes.fields.size(), kAlways + 2);
  EXPECT_NEAR(shapes.fields[1](kRow, kColumn), 0.005, 1e-9);
  EXPECT_NEAR(shapes.fields[2](kRow, kColumn), 0.013 * 0.05, 1e-8) << "5 and 12 um";
  EXPECT_NEAR(shapes.fields[3](kRow, kColumn), 0.013 * 0.01, 1e-8);
  EXPECT_NEAR(shapes.fields[4](kRow, kColumn), 0.01 * 0.01 * (kX_mm - 45.0), 1e-7);
}

TEST(LayingShapes, ThePlanesTiltIsARollAboutTheCentrelineAndAPitchAboutThreeQuartersOfTheLength) {
  Result before = wedge(), after = wedge();
  before.frame.plate_plane.diagonal() << 0.0, 9e-10, 36e-10;
  after.frame.plate_plane.diagonal() << 0.0, 16e-10, 64e-10;
  const LayingShapes shapes = laying_shapes(before, after, kNoPlan);
  ASSERT_EQ(shapes.fields.size(), kAlways + 2);
  EXPECT_NEAR(shapes.fields[1](kRow, kColumn), 1e-4 * kY_mm, 1e-9);
  EXPECT_NEAR(shapes.fields[2](kRow, kColumn), 5e-5 * (51.0 - kX_mm), 1e-9);
}

TEST(LayingShapes, LightEntersAFreshCutOtherwise) {
  Result before = wedge(), after = wedge();
  before.rig.priors.penetration_um = 3.0, after.rig.priors.penetration_um = 4.0;
  Field planned = kNoPlan;
  planned(kRow, kColumn) = 0.01F;
  const LayingShapes shapes = laying_shapes(before, after, planned);
  ASSERT_EQ(shapes.fields.size(), kAlways + 1);
  EXPECT_NEAR(shapes.fields.back()(kRow, kColumn), 0.005 / 3.0, 1e-9);
  EXPECT_EQ((shapes.fields.back() != 0.0F).count(), 1);
}

TEST(LayingShapes, TwoRigsDifferInScaleAndInHowDeepTheirLightEnters) {
  Result before = wedge(), after = wedge();
  for (Result* result : {&before, &after}) result->rig.priors.scale_rel = 5e-4;
  EXPECT_EQ(laying_shapes(before, after, kNoPlan).fields.size(), kAlways) << "one rig has one scale";
  after.rig.name = "another rig";
  before.rig.priors.penetration_um = 3.0, after.rig.priors.penetration_um = 4.0;
  const LayingShapes shapes = laying_shapes(before, after, kNoPlan);
  ASSERT_EQ(shapes.fields.size(), kAlways + 3) << "an offset, the fresh cut and the scale";
  EXPECT_NEAR(shapes.fields[1](kRow, kColumn), 0.005, 1e-9);
  EXPECT_NEAR(shapes.fields.back()(kRow, kColumn), 5e-4 * std::sqrt(2.0) * kThickness_mm, 1e-8);
}

}  // namespace
}  // namespace canewise
