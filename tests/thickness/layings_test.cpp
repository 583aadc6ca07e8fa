// A reed that is laid down several times shows how it seats: what a rigid body can do on a plate, height, pitch and
// roll, is read from the maps' difference.
#include "scanproc/thickness/layings.h"

#include <gtest/gtest.h>

#include <cmath>

#include "scanproc/core/error.h"
#include "tests/support/scans.h"

namespace canewise {
namespace {

test::Measurement laid(const fixtures::Lie& lie, double yaw_deg, std::uint64_t seed) {
  fixtures::SceneOptions scene = test::plain_scene(seed);
  scene.nuisance.lie = lie;
  scene.raster_yaw_deg += yaw_deg;
  return test::measured(
      fixtures::scan_reed(fixtures::Reed({}, test::rough_cane(7)), fixtures::laser_line(), scene, seed));
}

TEST(Layings, ShowHowTheReedTiltsBetweenThem) {
  fixtures::Lie first, second;
  first.table_wave_um = second.table_wave_um = 3.0;  // The reed's own form is in both and says nothing.
  second.roll_um = 5.0, second.pitch_um = -7.0, second.offset_um = 4.0;
  const auto a = laid(first, 0.0, 1), b = laid(second, 180.0, 2);
  const MapTilt tilt = tilt_between(b.map, a.map, a.aligned.outline);
  EXPECT_NEAR(tilt.roll_um, 5.0, 0.5);
  EXPECT_NEAR(tilt.pitch_um, -7.0, 2.0) << "the two planes of the plate are in it, carried on to the tip";
  EXPECT_NEAR(tilt.height_um, 4.0, 0.7);
  const Layings layings = compare_layings({a.map, b.map}, a.aligned.outline);
  EXPECT_EQ(layings.count, 2U);
  EXPECT_NEAR(layings.roll_range_um, 5.0, 0.5);
}

TEST(Layings, ATurnOrShiftOfTheFrameIsNoTilt) {
  const auto a = laid({}, 0.0, 3), b = laid({}, 90.0, 4);
  const MapTilt tilt = tilt_between(b.map, a.map, a.aligned.outline);
  EXPECT_NEAR(tilt.roll_um, 0.0, 0.5);
  EXPECT_NEAR(tilt.pitch_um, 0.0, 1.0);
}

Layings two_that_roll_by(double roll_um) {
  Layings layings;
  layings.count = 2;
  layings.others = {MapTilt{0.0, 0.0, roll_um, 0.0}};
  layings.roll_range_um = std::abs(roll_um);
  return layings;
}

TEST(Layings, ThatAgreeNarrowTheSeatingOnlyIfSomebodyLaidTheReedAnew) {
  Priors priors;
  priors.seating_roll_um = 1.0;
  // Four degrees of the prior, one of the pair: variance 4/5; the mean of two has half of it.
  EXPECT_NEAR(seating_of(two_that_roll_by(0.0), priors, true).seating_roll_um, std::sqrt(0.8 / 2.0), 1e-12);
  EXPECT_EQ(seating_of(two_that_roll_by(0.0), priors, false).seating_roll_um, 1.0);
  EXPECT_EQ(seating_of({}, priors, true).seating_roll_um, 1.0);
}

TEST(Layings, ThatDisagreeWidenItEitherWay) {
  Priors priors;
  priors.seating_roll_um = 1.0;
  // Half of 8 um on each side of their mean: squares of 32.
  EXPECT_NEAR(seating_of(two_that_roll_by(8.0), priors, true).seating_roll_um, std::sqrt(36.0 / 5.0 / 2.0), 1e-12);
  EXPECT_NEAR(seating_of(two_that_roll_by(8.0), priors, false).seating_roll_um, std::sqrt(36.0 / 5.0), 1e-12);
}

TEST(Layings, MapsOfUnlikeCellsAreRefused) {
  const auto a = laid({}, 0.0, 5);
  ThicknessMap coarse = a.map;
  coarse.grid.cell_mm = 0.5;
  EXPECT_THROW((void)tilt_between(a.map, coarse, a.aligned.outline), UsageError);
}

}  // namespace
}  // namespace canewise
