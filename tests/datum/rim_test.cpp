// The reed's edge and the edge of a shadow are two things: light and camera may stand on either side, on both, and far
// or near; plate may be in view or not. The widths that come out must hold their uncertainty all the same.
#include "scanproc/datum/rim.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "scanproc/core/budget.h"
#include "tests/support/drawn_reeds.h"

namespace canewise {
namespace {

struct Light {
  const char* name;
  std::vector<fixtures::SightLine> sight_lines;
  double yaw_deg;  ///< Of the lines to the square across the reed.
  bool shadows_left, shadows_right;
};

class Shadows : public testing::TestWithParam<Light> {};

TEST_P(Shadows, DoNotMoveTheSides) {
  fixtures::ScannerModel scanner = fixtures::laser_line();
  scanner.camera_angle_deg = 0.0;
  scanner.sight_lines = GetParam().sight_lines;
  constexpr int scans = 6;
  int inside = 0;
  double sum = 0.0;
  for (std::uint64_t seed = 0; seed < scans; ++seed) {
    auto scene = test::drawn_scene(seed);
    scene.raster_yaw_deg = GetParam().yaw_deg + static_cast<double>(seed);
    const auto m =
        test::measured(fixtures::scan_reed(fixtures::Reed({}, test::rough_cane(seed)), scanner, scene, seed));
    EXPECT_EQ(m.aligned.outline.shadowed_left, GetParam().shadows_left) << seed;
    EXPECT_EQ(m.aligned.outline.shadowed_right, GetParam().shadows_right) << seed;
    const Measured& width = m.assessment.cut.butt_width_mm;
    const double error = width.value - 11.6;
    EXPECT_LT(width.u, 0.14) << "lines lie 0.2 mm apart, and each side is known to a part of that";
    inside += std::abs(error) < kCoverage95 * width.u;
    sum += error;
  }
  EXPECT_GE(inside, scans - 1);
  EXPECT_LT(std::abs(sum / scans), 0.05) << "a quarter of the lines' distance, both sides together";
}
// Lines along the reed for what looks from the side; a point is seen only if light and camera both reach it.
INSTANTIATE_TEST_SUITE_P(
    Lights, Shadows,
    testing::Values(Light{"from one side", {{32.0, 90.0}}, 87.0, true, false},
                    Light{"from both sides", {{25.0, 90.0}, {25.0, -90.0}}, 87.0, true, true},
                    Light{"a little, from both sides", {{9.0, 90.0}, {9.0, -90.0}}, 87.0, true, true},
                    Light{"along the line, lines across", {{32.0, 0.0}}, -2.0, true, false}),
    [](const auto& light) {
      std::string name = light.param.name;
      std::erase_if(name, [](char c) { return c == ' ' || c == ','; });
      return name;
    });

TEST(Sides, ARasterThatRunsAlongOneOfThemLeavesItUnsure) {
  // The side tapers by 0.6 degrees: with lines turned by as much each of them ends as far from the side as the next.
  const fixtures::ReedShape shape;
  const double taper_deg =
      std::atan(0.5 * (shape.tip_width_mm - shape.butt_width_mm) / shape.length_mm) * 180.0 / std::numbers::pi;
  fixtures::ScannerModel scanner = fixtures::profilometer();
  scanner.along_mm = scanner.between_mm = 0.12;
  constexpr int scans = 10;
  int inside = 0;
  double most = 0.0;
  for (std::uint64_t seed = 0; seed < scans; ++seed) {
    auto scene = test::plain_scene(seed);
    scene.raster_yaw_deg = seed % 2 == 0 ? taper_deg : 90.0 + taper_deg;
    const auto m =
        test::measured(fixtures::scan_reed(fixtures::Reed(shape, test::rough_cane(seed)), scanner, scene, seed));
    const Measured& width = m.assessment.cut.tip_width_mm;
    EXPECT_GT(width.u, 0.2 * scanner.along_mm) << "where the side falls between two samples nobody knows";
    inside += std::abs(width.value - shape.tip_width_mm) < kCoverage95 * width.u;
    most = std::max(most, std::abs(width.value - shape.tip_width_mm));
  }
  EXPECT_GE(inside, scans - 1);
  EXPECT_GT(most, 0.015) << "else this raster would be as good as any";
}

TEST(LittlePlate, AMillimetreAndAHalfOnEachSideIsEnough) {
  for (std::uint64_t seed = 0; seed < 4; ++seed) {
    auto scene = test::drawn_scene(seed);
    scene.plate_margins_mm = {1.5, 1.5, 1.5, 1.5};
    const auto m = test::measured(
        fixtures::scan_reed(fixtures::Reed({}, test::rough_cane(seed)), fixtures::laser_line(), scene, seed));
    EXPECT_NEAR(m.assessment.cut.length_mm.value, 68.0, 3.0 * m.assessment.cut.length_mm.u) << seed;
    EXPECT_NEAR(m.assessment.cut.butt_width_mm.value, 11.6, 3.0 * m.assessment.cut.butt_width_mm.u) << seed;
  }
}

}  // namespace
}  // namespace canewise
