#include "scanproc/datum/align.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "scanproc/core/error.h"
#include "tests/support/in_english.h"
#include "tests/support/scans.h"

namespace canewise {
namespace {

using fixtures::Reed;
using fixtures::SceneContent;
using fixtures::SceneOptions;
using testing::HasSubstr;

struct FrameError {
  double x_mm, y_at_pivot_mm, yaw_rad;
};

FrameError frame_error(const Aligned& aligned, const Eigen::Isometry3d& truth) {
  const Eigen::Isometry3d off = aligned.reed_from_scan * truth.inverse();
  const double yaw = std::atan2(off.linear()(1, 0), off.linear()(0, 0));
  return {off.translation().x(), off.translation().y() + yaw * aligned.uncertainty.pivot_x_mm, yaw};
}

class EveryScanner : public testing::TestWithParam<int> {
 protected:
  static fixtures::ScannerModel scanner() {
    return GetParam() == 0   ? fixtures::profilometer()
           : GetParam() == 1 ? fixtures::laser_line()
                             : fixtures::structured_light();
  }
};

// Each parameter's error over its stated uncertainty should scatter with standard deviation 1; with 24 scans that
// estimate itself scatters by 0.14.
TEST_P(EveryScanner, FrameErrorsAgreeWithTheirUncertainties) {
  double x = 0, y = 0, yaw = 0;
  constexpr int scans = 24;
  for (int seed = 0; seed < scans; ++seed) {
    const auto id = static_cast<std::uint64_t>(seed);
    SceneOptions scene = test::drawn_scene(id);
    scene.nuisance.scale_rel = 0.0;  // A wrong scale moves the true apex too.
    auto scan = fixtures::scan_reed(Reed({}, test::rough_cane(id)), scanner(), scene, id);
    const auto truth = scan.reed_from_scan;
    const Aligned aligned = align(std::move(scan.cloud), {});
    const FrameError error = frame_error(aligned, truth);
    x += std::pow(error.x_mm / aligned.uncertainty.x_mm, 2) / scans;
    y += std::pow(error.y_at_pivot_mm / aligned.uncertainty.y_mm, 2) / scans;
    yaw += std::pow(error.yaw_rad / aligned.uncertainty.yaw_rad, 2) / scans;
    EXPECT_LT(std::abs(error.x_mm), 0.06);
    EXPECT_LT(std::abs(error.y_at_pivot_mm), 0.02);
  }
  // A square raster that runs nearly along a side beats with it; the stated beat covers it on average.
  EXPECT_LT(std::sqrt(x), 1.5);
  EXPECT_LT(std::sqrt(y), 1.5);
  EXPECT_LT(std::sqrt(yaw), 1.5);
}
INSTANTIATE_TEST_SUITE_P(All, EveryScanner, testing::Range(0, 3));

std::string refusal(SceneContent content, double margin_mm = 7.0,
                    const fixtures::ScannerModel& scanner = fixtures::laser_line()) {
  SceneOptions scene;
  scene.content = content;
  scene.plate_margin_mm = margin_mm;
  if (margin_mm == 0.0) scene.plate_margins_mm.emplace();  // None at all, whatever the angle of the lines.
  try {
    (void)align(fixtures::scan_reed(Reed({}, test::rough_cane(1)), scanner, scene, 1).cloud, {});
  } catch (const NotMeasurable& error) {
    return error.what();
  }
  ADD_FAILURE() << "was taken for a reed";
  return {};
}

TEST(Refusals, EachSaysWhatIsThere) {
  EXPECT_THAT(refusal(SceneContent::plate_only), HasSubstr("nothing stands on the plate"));
  EXPECT_THAT(refusal(SceneContent::two_reeds), HasSubstr("2 reeds"));
  EXPECT_THAT(refusal(SceneContent::coin), HasSubstr("coin"));
  EXPECT_THAT(refusal(SceneContent::tip_half), HasSubstr("butt is missing"));
  EXPECT_THAT(refusal(SceneContent::butt_half), HasSubstr("tip is missing"));
  EXPECT_THAT(refusal(SceneContent::upside_down), HasSubstr("upside down"));
  EXPECT_THAT(refusal(SceneContent::one_reed, 7.0, fixtures::depth_camera()), HasSubstr("cannot judge a reed"));
}

TEST(Refusals, APlateOutOfViewIsNotGuessed) { EXPECT_FALSE(refusal(SceneContent::one_reed, 0.0).empty()); }

TEST(Refusals, PointsOnALineAreNoScan) {
  Cloud cloud;
  cloud.points_mm.setZero(3, 5000);
  for (Eigen::Index i = 0; i < 5000; ++i) cloud.points_mm(0, i) = 0.01 * static_cast<double>(i);
  EXPECT_THROW((void)align(cloud, {}), NotMeasurable);
  cloud.points_mm.setZero(3, 5000);
  EXPECT_THROW((void)align(cloud, {}), NotMeasurable);
  cloud.points_mm.setZero(3, 3);
  EXPECT_THROW((void)align(cloud, {}), NotMeasurable);
}

TEST(Align, AFewFarStrayPointsDoNotMatter) {
  auto scan = fixtures::scan_reed(Reed({}), fixtures::profilometer(), {}, 3);
  const auto truth = scan.reed_from_scan;
  const Eigen::Index n = scan.cloud.points_mm.cols();
  scan.cloud.points_mm.conservativeResize(Eigen::NoChange, n + 3);
  scan.cloud.points_mm.col(n) << 1e6, 0, 0;
  scan.cloud.points_mm.col(n + 1) << 0, -1e30, 5;
  scan.cloud.points_mm.col(n + 2) << 1e300, 1e300, -1e300;
  const Aligned aligned = align(std::move(scan.cloud), {});
  EXPECT_LT(std::abs(frame_error(aligned, truth).y_at_pivot_mm), 0.01);
}

TEST(Align, CraftedRepeatsAreSortedOutInTime) {
  // Many different points whose low bits agree, and as many equal ones.
  Cloud cloud;
  cloud.points_mm.resize(3, 200000);
  for (Eigen::Index i = 0; i < 200000; ++i)
    cloud.points_mm.col(i) << static_cast<double>(i % 1000) * 4294967296.0, 0.0, static_cast<double>(i % 2);
  EXPECT_THROW((void)align(cloud, {}), NotMeasurable);
}

TEST(Align, AnOvalWedgeIsNoReed) {
  Cloud cloud;
  std::vector<Eigen::Vector3d> points;
  for (double x = -10.0; x < 80.0; x += 0.15) {
    for (double y = -15.0; y < 15.0; y += 0.15) {
      const bool on = std::pow((x - 35.0) / 35.0, 2) + std::pow(y / 7.0, 2) < 1.0;
      points.emplace_back(x, y, on ? 0.1 + 0.04 * x : 0.0);
    }
  }
  cloud.points_mm.resize(3, static_cast<Eigen::Index>(points.size()));
  for (std::size_t i = 0; i < points.size(); ++i) cloud.points_mm.col(static_cast<Eigen::Index>(i)) = points[i];
  EXPECT_THROW((void)align(cloud, {}), NotMeasurable);
}

TEST(Align, TellsTheReedFromClutter) {
  SceneOptions scene;
  scene.content = SceneContent::reed_and_clutter;
  auto scan = fixtures::scan_reed(Reed({}), fixtures::laser_line(), scene, 3);
  const auto truth = scan.reed_from_scan;
  const Aligned aligned = align(std::move(scan.cloud), {});
  EXPECT_LT(std::abs(frame_error(aligned, truth).y_at_pivot_mm), 0.02);
  EXPECT_THAT(test::each_in_english(aligned.notes), testing::Contains(HasSubstr("left out")));
}

TEST(Align, SeesAChipAndAShadow) {
  fixtures::ReedFaults faults;
  faults.chip_radius_mm = 1.2;
  const Aligned chipped = align(fixtures::scan_reed(Reed({}, faults), fixtures::profilometer(), {}, 4).cloud, {});
  EXPECT_TRUE(chipped.outline.chipped);
  const Aligned whole = align(fixtures::scan_reed(Reed({}), fixtures::profilometer(), {}, 4).cloud, {});
  EXPECT_FALSE(whole.outline.chipped);
  EXPECT_FALSE(whole.outline.shadowed_left || whole.outline.shadowed_right);
  const Aligned laser = align(fixtures::scan_reed(Reed({}), fixtures::laser_line(), {}, 4).cloud, {});
  EXPECT_NE(laser.outline.shadowed_left, laser.outline.shadowed_right);
}

TEST(Align, OutlineAgreesWithTheTruth) {
  for (const double corner : {0.8, 2.2}) {
    fixtures::ReedShape shape;
    shape.corner_radius_mm = corner;
    const Reed reed(shape);
    const Aligned a = align(fixtures::scan_reed(reed, fixtures::profilometer(), {}, 5).cloud, {});
    EXPECT_NEAR(a.outline.length_mm, 68.0, 0.06);
    EXPECT_NEAR(2.0 * a.outline.half_width_mm(0.0), 13.0, 0.02);
    EXPECT_NEAR(2.0 * a.outline.half_width_mm(68.0), 11.6, 0.02);
    EXPECT_NEAR(a.outline.tip_arc_radius_mm, 14.0, 4.0 * a.outline.u_tip_arc_radius_mm);
    // The edge must never lie before the true one by more than a tenth of a millimetre, measured across the edge.
    for (double y = -6.2; y <= 6.2; y += 0.1) {
      EXPECT_GT(a.outline.tip_edge_at(y), std::min(reed.tip_edge_mm(y - 0.1), reed.tip_edge_mm(y + 0.1)) - 0.1) << y;
    }
  }
}

TEST(Align, AMirroringRigIsUndone) {
  fixtures::ReedFaults faults;
  faults.heavy_rail_um = 40.0;
  SceneOptions scene;
  scene.mirrored = true;
  Rig rig;
  rig.mirrored = true;
  const auto m = test::measured(fixtures::scan_reed(Reed({}, faults), fixtures::profilometer(), scene, 6), rig);
  EXPECT_GT(test::balance_of(m, AlongBand::middle, AcrossBand::rail).difference.mean_mm, 0.02)
      << "the right rail is heavy";
}

}  // namespace
}  // namespace canewise
