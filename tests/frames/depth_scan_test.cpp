// Folders of depth frames as scans, and what such folders may not do.
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/stat.h>

#include <Eigen/Geometry>
#include <cstdlib>
#include <filesystem>

#include "fixtures/write_surface.h"
#include "scanproc/frames/depth_folder.h"
#include "scanproc/scan/read_scan.h"
#include "tests/bytes/file_bytes.h"
#include "tests/frames/depth_frames.h"
#include "tests/support/in_english.h"

namespace canewise {
namespace {

namespace fs = std::filesystem;
using test::constant;
using test::published_camera;
using testing::AllOf;
using testing::HasSubstr;

/// What a camera sees of the plane normal . p = distance_mm, in whole steps.
DepthImage plane_seen_by(const DepthCamera& camera, const Eigen::Vector3d& normal, double distance_mm) {
  DepthImage image;
  image.columns = camera.width;
  image.rows = camera.height;
  for (std::size_t v = 0; v < camera.height; ++v) {
    for (std::size_t u = 0; u < camera.width; ++u) {
      const Eigen::Vector2d d = *direction_of(camera, static_cast<double>(u), static_cast<double>(v));
      const double z = distance_mm / normal.dot(Eigen::Vector3d(d.x(), d.y(), 1.0));
      image.values.push_back(static_cast<std::uint16_t>(std::lround(z / camera.depth_unit_mm)));
    }
  }
  return image;
}

DepthCamera small_camera() {
  DepthCamera camera = published_camera();
  camera.width = 160;
  camera.height = 120;
  camera.fx = camera.fy = 535.91573396 / 4.0;
  camera.cx = 342.28315473 / 4.0;
  camera.cy = 235.57082910 / 4.0;
  camera.depth_unit_mm = 0.25;
  return camera;
}

TEST(DepthFolder, APlaneAtAKnownTiltComesBackWithinAStep) {
  const DepthCamera camera = small_camera();
  const Eigen::Vector3d normal = Eigen::Vector3d(0.2, -0.3, 1.0).normalized();
  constexpr double distance_mm = 320.0;
  const DepthImage image = plane_seen_by(camera, normal, distance_mm);
  for (const bool as_json : {false, true}) {
    const test::TempFolder folder;
    (void)folder.file(as_json ? "camera.json" : "camera.toml",
                      as_json ? fixtures::camera_json(camera) : fixtures::camera_toml(camera));
    (void)folder.file("0001.png", fixtures::png_16_bit(image));
    ASSERT_TRUE(is_depth_folder(folder.path()));
    const Cloud cloud = read_scan(folder.path());
    ASSERT_EQ(cloud.points_mm.cols(), 160 * 120);
    EXPECT_TRUE(cloud.unit_known);
    EXPECT_DOUBLE_EQ(cloud.height_step_u_mm, 0.25 * fuse_depth({image}).step_u);
    EXPECT_THAT(test::each_in_english(cloud.notes), testing::ElementsAre(HasSubstr("single depth frame")));
    double worst_mm = 0.0, worst_px = 0.0;
    for (Eigen::Index i = 0; i < cloud.points_mm.cols(); ++i) {
      const Eigen::Vector3d p = cloud.points_mm.col(i);
      worst_mm = std::max(worst_mm, std::abs(normal.dot(p) - distance_mm));
      const Eigen::Vector2d pixel(static_cast<double>(i % 160), static_cast<double>(i / 160));
      worst_px = std::max(worst_px, (project(camera, p.head<2>() / p.z()) - pixel).norm());
    }
    // Half a step along z is at most half a step along a ray, times the ray's length over its depth, 1.4 at the corner.
    EXPECT_LT(worst_mm, 0.25);
    EXPECT_GT(worst_mm, 0.1) << "the depths are rounded";
    EXPECT_LT(worst_px, 1e-9);
  }
}

TEST(DepthFolder, FramesOfEitherKindAreFusedInTheOrderOfTheirNames) {
  const DepthCamera camera = small_camera();
  const test::TempFolder folder;
  (void)folder.file("camera.toml", fixtures::camera_toml(camera));
  (void)folder.file("b.png", fixtures::png_16_bit(constant(160, 120, 3001)));
  (void)folder.file("a.tif", fixtures::tiff_16_bit(constant(160, 120, 3000)));
  (void)folder.file("c.TIFF", fixtures::tiff_16_bit(constant(160, 120, 3002)));
  (void)folder.file("remarks.txt", "not a frame");
  const Cloud cloud = read_depth_folder(folder.path());
  EXPECT_EQ(cloud.format, "3 depth frames, fused");
  EXPECT_LT((cloud.points_mm.row(2).array() - 750.25).abs().maxCoeff(), 1e-4);
  EXPECT_THAT(test::each_in_english(cloud.notes), testing::ElementsAre(HasSubstr("3 depth frames fused")));
}

TEST(DepthFolder, ACameraFileMayChooseItsFrames) {
  const DepthCamera camera = small_camera();
  const test::TempFolder folder;
  (void)folder.file("camera.toml", fixtures::camera_toml(camera) + "frames = [\"b.png\"]\n");
  (void)folder.file("a.png", fixtures::png_16_bit(constant(160, 120, 3000)));
  (void)folder.file("b.png", fixtures::png_16_bit(constant(160, 120, 4000)));
  const Cloud cloud = read_depth_folder(folder.path());
  EXPECT_LT((cloud.points_mm.row(2).array() - 1000.0).abs().maxCoeff(), 1e-4);
}

TEST(DepthFolder, ItsDigestHangsOnTheCameraAndEveryFrame) {
  const DepthCamera camera = small_camera();
  const auto digest = [&](const std::string& remark, std::uint16_t first, std::uint16_t second) {
    const test::TempFolder folder;
    (void)folder.file("camera.toml", fixtures::camera_toml(camera) + remark);
    (void)folder.file("a.png", fixtures::png_16_bit(constant(160, 120, first)));
    (void)folder.file("b.png", fixtures::png_16_bit(constant(160, 120, second)));
    return scan_sha256(folder.path());
  };
  const std::string all = digest("", 3000, 3001);
  EXPECT_EQ(all.size(), 64U);
  EXPECT_EQ(digest("", 3000, 3001), all);
  EXPECT_NE(digest("# more\n", 3000, 3001), all);
  EXPECT_NE(digest("", 3000, 3002), all);
  EXPECT_NE(digest("", 3001, 3000), all);
}

// None of these may hang or read without end; the test's own time limit says so.

std::string folder_refusal(const fs::path& folder) {
  try {
    (void)read_scan(folder);
  } catch (const InputError& error) {
    EXPECT_THAT(error.what(), HasSubstr(folder.string()));
    return error.what();
  }
  ADD_FAILURE() << "was read without complaint";
  return {};
}

TEST(DepthFolderHostile, WithoutACameraOrFrames) {
  const test::TempFolder folder;
  EXPECT_THAT(folder_refusal(folder.path()), HasSubstr("without camera.toml or camera.json"));
  (void)folder.file("camera.toml", fixtures::camera_toml(small_camera()));
  EXPECT_THAT(folder_refusal(folder.path()), HasSubstr("no PNG, TIFF or JPEG depth frame"));
  (void)folder.file("a.png", fixtures::png_16_bit(constant(160, 120, 0)));
  EXPECT_THAT(folder_refusal(folder.path()), HasSubstr("no pixel has a depth"));
}

TEST(DepthFolderHostile, ALinkToItself) {
  const test::TempFolder folder;
  fs::create_symlink(folder.path() / "camera.toml", folder.path() / "camera.toml");
  EXPECT_THAT(folder_refusal(folder.path()), HasSubstr("camera.toml"));
  fs::create_directory_symlink(folder.path() / "loop", folder.path() / "loop");
  EXPECT_THROW((void)read_scan(folder.path() / "loop"), InputError);
  const test::TempFolder second;
  (void)second.file("camera.toml", fixtures::camera_toml(small_camera()));
  fs::create_symlink(second.path() / "a.png", second.path() / "a.png");
  EXPECT_THAT(folder_refusal(second.path()), HasSubstr("a.png"));
  EXPECT_THROW((void)scan_sha256(second.path()), InputError);
}

TEST(DepthFolderHostile, APipeInPlaceOfAFile) {
  const test::TempFolder folder;
  ASSERT_EQ(::mkfifo((folder.path() / "camera.toml").c_str(), 0600), 0);
  EXPECT_THAT(folder_refusal(folder.path()), AllOf(HasSubstr("camera.toml"), HasSubstr("regular file")));
  const test::TempFolder second;
  (void)second.file("camera.toml", fixtures::camera_toml(small_camera()));
  ASSERT_EQ(::mkfifo((second.path() / "a.png").c_str(), 0600), 0);
  EXPECT_THAT(folder_refusal(second.path()), AllOf(HasSubstr("a.png"), HasSubstr("regular file")));
  EXPECT_THROW((void)scan_sha256(second.path()), InputError);
}

TEST(DepthFolderHostile, AFolderInPlaceOfAFile) {
  const test::TempFolder folder;
  fs::create_directory(folder.path() / "camera.toml");
  EXPECT_THAT(folder_refusal(folder.path()), AllOf(HasSubstr("camera.toml"), HasSubstr("folder")));
  const test::TempFolder second;
  (void)second.file("camera.toml", fixtures::camera_toml(small_camera()));
  fs::create_directory(second.path() / "a.png");
  EXPECT_THAT(folder_refusal(second.path()), AllOf(HasSubstr("a.png"), HasSubstr("folder")));
}

TEST(DepthFolderHostile, ADeviceWithoutEndInPlaceOfAFile) {
  const test::TempFolder folder;
  (void)folder.file("camera.toml", fixtures::camera_toml(small_camera()));
  fs::create_symlink("/dev/zero", folder.path() / "a.png");
  EXPECT_THAT(folder_refusal(folder.path()), AllOf(HasSubstr("a.png"), HasSubstr("regular file")));
  const test::TempFolder second;
  fs::create_symlink("/dev/zero", second.path() / "camera.json");
  EXPECT_THAT(folder_refusal(second.path()), AllOf(HasSubstr("camera.json"), HasSubstr("regular file")));
}

TEST(DepthFolderHostile, MoreFramesThanMemory) {
  const test::TempFolder folder;
  DepthCamera camera = small_camera();
  camera.width = camera.height = 20000;
  (void)folder.file("camera.toml", fixtures::camera_toml(camera));
  for (const char* name : {"a.png", "b.png"}) (void)folder.file(name, "not looked at");
  EXPECT_THAT(folder_refusal(folder.path()), HasSubstr("holds 2 frames; 1 of this size"));
  camera.width = camera.height = 2;
  (void)folder.file("camera.toml", fixtures::camera_toml(camera));
  for (int i = 0; i < 1000; ++i) (void)folder.file(fmt::format("f{}.png", i), "");
  EXPECT_THAT(folder_refusal(folder.path()), HasSubstr("more than 1000 depth frames"));
}

TEST(DepthFolderHostile, ALargeFileForASmallCameraFile) {
  const test::TempFolder folder;
  (void)folder.file("camera.toml", std::string(2 << 20, '#'));
  EXPECT_THAT(folder_refusal(folder.path()), HasSubstr("too large"));
}

}  // namespace
}  // namespace canewise
