// The model of a depth camera, and the file that describes one.
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <numbers>

#include "fixtures/write_surface.h"
#include "scanproc/core/error.h"
#include "tests/bytes/file_bytes.h"
#include "tests/frames/depth_frames.h"

namespace canewise {
namespace {

using test::published_camera;
using testing::AllOf;
using testing::HasSubstr;

TEST(DepthCameraModel, IsTheFormulaOfBrownAndConrady) {
  // Handbook D1. By hand: x' = 0.3, y' = -0.2, r^2 = 0.13; 1 + k1 r^2 + k2 r^4 + k3 r^6 = 1 - 0.026 + 0.00169 +
  // 0.00010985 = 0.97579985; x'' = 0.292739955 - 0.0012 - 0.0062, y'' = -0.19515997 + 0.0021 + 0.0024.
  DepthCamera camera;
  camera.width = 640;
  camera.height = 480;
  camera.fx = 500;
  camera.fy = 510;
  camera.cx = 320;
  camera.cy = 240;
  camera.k1 = -0.2;
  camera.k2 = 0.1;
  camera.p1 = 0.01;
  camera.p2 = -0.02;
  camera.k3 = 0.05;
  const Eigen::Vector2d place = project(camera, {0.3, -0.2});
  EXPECT_NEAR(place.x(), 462.6699775, 1e-10);
  EXPECT_NEAR(place.y(), 142.7634153, 1e-10);
}

TEST(DepthCameraModel, WithoutDistortionItIsAPinhole) {
  DepthCamera camera;
  camera.fx = 500;
  camera.fy = 400;
  camera.cx = 320;
  camera.cy = 240;
  EXPECT_EQ(project(camera, {0.1, -0.25}), Eigen::Vector2d(370, 140));
  const auto direction = direction_of(camera, 370, 140);
  ASSERT_TRUE(direction);
  EXPECT_LT((*direction - Eigen::Vector2d(0.1, -0.25)).norm(), 1e-15);
}

TEST(DepthCameraModel, DirectionsAndPlacesInvertEachOtherOverTheWholeImage) {
  const DepthCamera camera = published_camera();
  double worst_px = 0.0, worst_direction = 0.0;
  for (int v = 0; v < 480; v += 1) {
    for (int u = 0; u < 640; u += 1) {
      const auto direction = direction_of(camera, u, v);
      ASSERT_TRUE(direction) << u << ", " << v;
      worst_px = std::max(worst_px, (project(camera, *direction) - Eigen::Vector2d(u, v)).norm());
      const Eigen::Vector2d place = project(camera, 0.9 * *direction);
      const auto back = direction_of(camera, place.x(), place.y());
      ASSERT_TRUE(back) << u << ", " << v;
      worst_direction = std::max(worst_direction, (*back - 0.9 * *direction).norm());
    }
  }
  EXPECT_LT(worst_px, 1e-9);
  EXPECT_LT(worst_direction, 1e-12);
  // The lens bends: a corner looks farther out than a pinhole's by a good tenth.
  const Eigen::Vector2d corner = *direction_of(camera, 0, 0);
  EXPECT_GT(corner.norm(), 1.1 * std::hypot(camera.cx / camera.fx, camera.cy / camera.fy));
}

TEST(DepthCameraModel, WhereItFoldsOverItselfThereIsNoDirection) {
  // r (1 - r^2/2) grows up to r^2 = 2/3, where it is 0.5443: no direction reaches beyond, and up to there the nearer of
  // two is meant.
  DepthCamera camera;
  camera.fx = camera.fy = 100;
  camera.k1 = -0.5;
  const double fold_px = 100 * std::sqrt(2.0 / 3.0) * 2.0 / 3.0;
  for (const double beyond : {1.001, 1.1, 2.0, 5.0, 10.0}) {
    EXPECT_FALSE(direction_of(camera, beyond * fold_px, 0));
    EXPECT_FALSE(direction_of(camera, 0, -beyond * fold_px));
    EXPECT_FALSE(direction_of(camera, beyond * fold_px * 0.6, beyond * fold_px * 0.8));
  }
  for (const double before : {0.1, 0.5, 0.9, 0.99}) {
    const auto direction = direction_of(camera, before * fold_px * 0.6, before * fold_px * 0.8);
    ASSERT_TRUE(direction) << before;
    EXPECT_LT(direction->norm(), std::sqrt(2.0 / 3.0));
    EXPECT_NEAR((project(camera, *direction)).norm(), before * fold_px, 1e-9);
  }
}

DepthCamera camera_from(const std::string& text) {
  const test::TempFolder folder;
  return read_depth_camera(folder.file("camera", text));
}

std::string camera_refusal(const std::string& text) {
  try {
    (void)camera_from(text);
  } catch (const InputError& error) {
    EXPECT_THAT(error.what(), HasSubstr("camera: "));
    return error.what();
  }
  ADD_FAILURE() << "was read without complaint";
  return {};
}

TEST(CameraFile, TomlAndJsonAgree) {
  DepthCamera truth = published_camera();
  truth.fy = 533.25;
  truth.depth_unit_mm = 0.125;
  for (const auto& text : {fixtures::camera_toml(truth), fixtures::camera_json(truth)}) {
    const DepthCamera camera = camera_from(text);
    EXPECT_EQ(camera.width, 640U);
    EXPECT_EQ(camera.height, 480U);
    EXPECT_EQ(camera.parameters(), truth.parameters());
    EXPECT_EQ(camera.depth_unit_mm, truth.depth_unit_mm);
    EXPECT_THAT(camera.frames, testing::IsEmpty());
  }
}

const char* const kSmallest = "width = 640\nheight = 480\nfx = 500\nfy = 501\ncx = 320\ncy = 240\n";

TEST(CameraFile, WhatMayLackHasItsDefault) {
  const DepthCamera camera = camera_from(kSmallest);
  EXPECT_EQ(camera.depth_unit_mm, 1.0);
  EXPECT_EQ(camera.k1, 0.0);
  EXPECT_EQ(camera.k3, 0.0);
}

TEST(CameraFile, EachMissingNumberIsNamed) {
  for (const char* key : {"width", "height", "fx", "fy", "cx", "cy"}) {
    std::string text = kSmallest;
    const std::size_t at = text.find(key);
    text.erase(at, text.find('\n', at) + 1 - at);
    EXPECT_THAT(camera_refusal(text), HasSubstr(fmt::format("'{}' is missing", key)));
  }
}

TEST(CameraFile, UnknownKeysAreRefusedWithTheirLineAndTheKnownOnes) {
  EXPECT_THAT(camera_refusal(std::string(kSmallest) + "baseline_mm = 50\n"),
              AllOf(HasSubstr("line 7"), HasSubstr("'baseline_mm' is unknown"), HasSubstr("depth_unit_mm"),
                    HasSubstr("distortion"), HasSubstr("frames")));
  EXPECT_THAT(camera_refusal("{\"width\": 640, \"height\": 480, \"fx\": 500, \"fy\": 500, \"cx\": 320, \"cy\": 240, "
                             "\"skew\": 0}"),
              HasSubstr("'skew' is unknown"));
}

TEST(CameraFile, NumbersThatMeanNothingAreRefusedWithTheirLine) {
  const auto with = [](const std::string& key, const std::string& value) {
    std::string text = kSmallest;
    const std::size_t at = text.find("\n" + key + " =");
    const std::size_t begin = at == std::string::npos ? text.find(key) : at + 1;
    return text.replace(begin, text.find('\n', begin) - begin, key + " = " + value);
  };
  EXPECT_THAT(camera_refusal(with("width", "640.5")), AllOf(HasSubstr("line 1"), HasSubstr("whole number")));
  EXPECT_THAT(camera_refusal(with("width", "0")), AllOf(HasSubstr("line 1"), HasSubstr("'width'")));
  EXPECT_THAT(camera_refusal(with("height", "1e9")), AllOf(HasSubstr("line 2"), HasSubstr("'height'")));
  EXPECT_THAT(camera_refusal(with("fx", "0")), AllOf(HasSubstr("line 3"), HasSubstr("'fx'")));
  EXPECT_THAT(camera_refusal(with("fy", "nan")), AllOf(HasSubstr("line 4"), HasSubstr("'fy'")));
  EXPECT_THAT(camera_refusal(with("cx", "\"wide\"")), AllOf(HasSubstr("line 5"), HasSubstr("'cx'")));
  EXPECT_THAT(camera_refusal(std::string(kSmallest) + "distortion = [0.1, 0.2, 0.3, 0.4]\n"),
              AllOf(HasSubstr("line 7"), HasSubstr("'distortion'"), HasSubstr("5 numbers")));
  EXPECT_THAT(camera_refusal(std::string(kSmallest) + "depth_unit_mm = -1\n"), HasSubstr("'depth_unit_mm'"));
}

TEST(CameraFile, FramesStayInTheirFolder) {
  EXPECT_THAT(camera_from(std::string(kSmallest) + "frames = [\"b.png\", \"a.png\"]\n").frames,
              testing::ElementsAre("b.png", "a.png"));
  for (const char* frame : {"../a.png", "/etc/passwd", "sub/a.png", "..\\\\a.png", ""})
    EXPECT_THAT(camera_refusal(std::string(kSmallest) + "frames = [\"" + frame + "\"]\n"),
                AllOf(HasSubstr("line 7"), HasSubstr("own folder")))
        << frame;
}

}  // namespace
}  // namespace canewise
