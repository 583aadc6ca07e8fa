// A reed that is laid down several times shows how it seats: what a rigid body can do on a plate, height, pitch and
// roll, is read from the maps' difference.
#include "scanproc/thickness/layings.h"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "scanproc/core/budget.h"
#include "scanproc/core/error.h"
#include "tests/support/scans.h"

namespace canewise {
namespace {

test::Measurement laid(const fixtures::ReedLie& lie, double yaw_deg, std::uint64_t seed) {
  fixtures::SceneOptions scene = test::plain_scene(seed);
  scene.nuisance.lie = lie;
  scene.raster_yaw_deg += yaw_deg;
  return test::measured(
      fixtures::scan_reed(fixtures::Reed({}, test::rough_cane(7)), fixtures::laser_line(), scene, seed));
}

TEST(Layings, ShowHowTheReedTiltsBetweenThem) {
  fixtures::ReedLie first, second;
  first.table_wave_um = second.table_wave_um = 3.0;  // The reed's own form is in both and says nothing.
  second.roll_um = 5.0, second.pitch_um = -7.0, second.offset_um = 4.0;
  const auto a = laid(first, 0.0, 1), b = laid(second, 180.0, 2);
  const MapTilt tilt = tilt_between(b.map, a.map, a.aligned.outline);
  EXPECT_NEAR(tilt.roll_um, 5.0, 0.5);
  EXPECT_NEAR(tilt.pitch_um, -7.0, 2.0) << "the two planes of the plate are in it, carried on to the tip";
  EXPECT_NEAR(tilt.height_um, 4.0, 0.7);
  const Layings layings = compare_layings({{a.map, 3.0, 0.3}, {b.map, 1.0, 0.4}}, a.aligned.outline);
  EXPECT_EQ(layings.count, 2U);
  EXPECT_NEAR(layings.roll_range_um, 5.0, 0.5);
  EXPECT_EQ(layings.highest, 1U);
  EXPECT_EQ(layings.weights, (std::vector{0.75, 0.25}));
  EXPECT_NEAR(layings.u_roll_um, 0.4 * std::sqrt(2.0), 1e-12) << "the less sure of the two, twice";
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
  layings.weights = {0.5, 0.5};
  return layings;
}

// Student's factor for 95 of 100 at five degrees of freedom, 2.5706, over that of the normal law (ISO 3534-1 tables).
constexpr double kStudent5 = 2.5706 / kCoverage95;

TEST(Layings, ThatAgreeNarrowTheSeatingOnlyIfSomebodyLaidTheReedAnew) {
  Priors priors;
  priors.seating_roll_um = 1.0;
  // Four degrees of the prior, one of the pair: variance 4/5; the mean of two has half of it.
  const double agreed = kStudent5 * std::sqrt(0.8 / 2.0);
  EXPECT_NEAR(seating_of(two_that_roll_by(0.0), priors, true).seating_roll_um, agreed, 1e-4);
  EXPECT_LT(agreed, 0.85);
  EXPECT_EQ(seating_of(two_that_roll_by(0.0), priors, false).seating_roll_um, 1.0);
  EXPECT_EQ(seating_of({}, priors, true).seating_roll_um, 1.0);
}

TEST(Layings, OfUnlikeWeightCountByTheirSquares) {
  Priors priors;
  priors.seating_roll_um = 1.0;
  Layings layings = two_that_roll_by(0.0);
  layings.weights = {0.9, 0.1};
  EXPECT_NEAR(seating_of(layings, priors, true).seating_roll_um, kStudent5 * std::sqrt(0.8 * 0.82), 1e-4);
}

TEST(Layings, ThatDisagreeWidenItEitherWayByHalfOfWhatTheyDiffer) {
  Priors priors;
  priors.seating_roll_um = 1.0;
  // One of the two lies wrong by 8 um, their mean by 4: no law of two values may say less.
  for (const bool laid_anew : {true, false})
    EXPECT_NEAR(seating_of(two_that_roll_by(8.0), priors, laid_anew).seating_roll_um, 4.0, 1e-12);
}

TEST(Layings, MapsOfUnlikeCellsAreRefused) {
  const auto a = laid({}, 0.0, 5);
  ThicknessMap coarse = a.map;
  coarse.grid.cell_mm = 0.5;
  EXPECT_THROW((void)tilt_between(a.map, coarse, a.aligned.outline), UsageError);
}

}  // namespace
}  // namespace canewise
