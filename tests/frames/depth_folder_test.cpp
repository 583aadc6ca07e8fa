// Planes, frames of both kinds, digests and hostile folders: tests/frames/depth_test.cpp.
#include "scanproc/frames/depth_folder.h"

#include <gtest/gtest.h>

#include <string>

#include "fixtures/write_surface.h"
#include "tests/support/refusals.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

DepthCamera camera() {
  DepthCamera camera;
  camera.width = 8, camera.height = 4;
  camera.fx = 10.0, camera.fy = 20.0, camera.cx = 3.0, camera.cy = 1.5;
  camera.depth_unit_mm = 0.25;
  return camera;
}

/// Two frames at 3000 steps, 750 mm.
class Still {
 public:
  explicit Still(const std::string& more = "") {
    (void)folder_.file("camera.toml", fixtures::camera_toml(camera()) + more);
    const DepthImage image{8, 4, std::vector<std::uint16_t>(32, 3000)};
    for (const char* name : {"a.png", "b.png"}) (void)folder_.file(name, fixtures::png_16_bit(image));
  }
  [[nodiscard]] const std::filesystem::path& path() const { return folder_.path(); }

 private:
  test::TempFolder folder_;
};

/// What a calibration found: 100 um too much on the left half, 300 um on the right one.
Rig rig_with_correction() {
  Rig rig;
  rig.depth = DepthCorrection{};
  rig.depth->width = 8, rig.depth->height = 4, rig.depth->columns = 2, rig.depth->rows = 1;
  rig.depth->depths_mm = {500.0, 1000.0};
  rig.depth->errors_um = {100.0, 300.0, 100.0, 300.0};
  rig.depth->u_um = 7.0;
  return rig;
}

TEST(DepthFolderSpec, IsTheFolderOfACameraFile) {
  EXPECT_TRUE(is_depth_folder(Still().path()));
  const test::TempFolder folder;
  (void)folder.file("a.png", "");
  EXPECT_FALSE(is_depth_folder(folder.path()));
  (void)folder.file("camera.json", "{}");
  EXPECT_TRUE(is_depth_folder(folder.path()));
  EXPECT_FALSE(is_depth_folder(folder.path() / "nowhere"));
}

TEST(DepthFolderSpec, APixelIsAPointInTheCamerasAxes) {
  const Cloud cloud = read_depth_folder(Still().path());
  ASSERT_EQ(cloud.points_mm.cols(), 32);
  // The last pixel: column 7, row 3.
  EXPECT_LT((cloud.points_mm.col(31) - Eigen::Vector3d(750.0 * 4.0 / 10.0, 750.0 * 1.5 / 20.0, 750.0)).norm(), 1e-9);
  EXPECT_TRUE(cloud.unit_known);
}

TEST(DepthFolderSpec, ARigsCorrectionIsTakenOffEveryDepth) {
  const Rig rig = rig_with_correction();
  const Cloud cloud = read_depth_folder(Still().path(), &rig);
  ASSERT_EQ(cloud.points_mm.cols(), 32);
  // Columns 0 and 7 lie outside of their tiles' middles, where the errors stay as they are.
  EXPECT_LT((cloud.points_mm.col(0) - 749.9 * Eigen::Vector3d(-0.3, -0.075, 1.0)).norm(), 1e-9);
  EXPECT_LT((cloud.points_mm.col(7) - 749.7 * Eigen::Vector3d(0.4, -0.075, 1.0)).norm(), 1e-9);
}

TEST(DepthFolderSpec, ACalibrationSaysHowSureItsCorrectionIs) {
  const Rig rig = rig_with_correction(), other;
  EXPECT_NEAR(read_depth_folder(Still().path(), &rig).assumed_slow_mm, 0.007, 1e-12);
  const double assumed = read_depth_folder(Still().path()).assumed_slow_mm;
  EXPECT_GT(assumed, 0.007) << "a camera that nobody calibrated is less sure";
  EXPECT_EQ(read_depth_folder(Still().path(), &other).assumed_slow_mm, assumed) << "and so is a rig without one";
}

TEST(DepthFolderSpec, ACorrectionForOtherPicturesIsRefusedWithBothSizes) {
  for (const bool wide : {true, false}) {
    Rig rig = rig_with_correction();
    (wide ? rig.depth->width : rig.depth->height) += 1;
    const Still folder;
    const test::Refusal refusal = test::refusal_of([&] { return read_depth_folder(folder.path(), &rig); });
    EXPECT_EQ(refusal.id, "depth_folder.other_size");
    EXPECT_EQ(refusal.text("folder"), folder.path().string());
    EXPECT_EQ(refusal.number("width"), 8.0);
    EXPECT_EQ(refusal.number("height"), 4.0);
    EXPECT_EQ(refusal.number("calibrated_width"), wide ? 9.0 : 8.0);
    EXPECT_EQ(refusal.number("calibrated_height"), wide ? 4.0 : 5.0);
  }
}

TEST(DepthFolderSpec, ForCalibrationTheFramesAreFusedInStoredSteps) {
  const DepthFolder found = fuse_depth_folder(Still().path());
  EXPECT_EQ(found.frames, 2U);
  EXPECT_EQ(found.camera.depth_unit_mm, 0.25);
  EXPECT_EQ(found.fused.columns, 8U);
  EXPECT_EQ(found.fused.rows, 4U);
  for (const float depth : found.fused.depth) EXPECT_EQ(depth, 3000.0F);
}

TEST(DepthFolderSpec, AtMostAThousandFramesAreFused) {
  const auto refused = [](int frames) {
    std::string list = "frames = [";
    for (int i = 0; i < frames; ++i) list += i == 0 ? "\"none.png\"" : ", \"none.png\"";
    const Still folder(list + "]\n");
    return test::refusal_of([&] { return fuse_depth_folder(folder.path()); });
  };
  EXPECT_EQ(refused(1000).id, "scan_file.none") << "so many are looked for";
  const test::Refusal refusal = refused(1001);
  EXPECT_EQ(refusal.id, "frames.too_many");
  EXPECT_EQ(refusal.number("most"), 1000.0);
}

}  // namespace
}  // namespace canewise
