// Scans of the virtual rig, damaged frames and frames of another size: tests/frames/line_frames_test.cpp.
#include "scanproc/frames/laser_folder.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "fixtures/virtual_rig.h"
#include "tests/support/refusals.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

constexpr std::size_t kColumns = 120, kRows = 100;

/// A level line of the laser at a row, or the dark.
GreyPicture line_at(double row, double peak = 180.0) {
  GreyPicture picture{kColumns, kRows, 255, {}};
  for (std::size_t v = 0; v < kRows; ++v) {
    const double across = (static_cast<double>(v) - row) / 2.0;
    const double light = std::min(255.0, 10.0 + peak * std::exp(-0.5 * across * across));
    picture.values.insert(picture.values.end(), kColumns, static_cast<std::uint16_t>(std::lround(light)));
  }
  return picture;
}
GreyPicture dark() { return line_at(50.0, 0.0); }

/// A camera that looks at a sheet of light 100 mm away, square to its axis: a pixel is 0.1 mm there. The stage moves by
/// 0.6 mm along x and 0.8 mm along y for a nominal millimetre.
Rig simple_rig() {
  Rig rig;
  rig.camera.emplace();
  Camera& camera = rig.camera->camera;
  camera.width = kColumns, camera.height = kRows;
  camera.fx = camera.fy = 1000.0, camera.cx = 60.0, camera.cy = 50.0;
  rig.laser_plane.emplace();
  rig.laser_plane->q = {0.0, 0.0, 0.01};
  rig.stage.emplace();
  rig.stage->motion = {0.6, 0.8, 0.0};
  rig.stage->travel_per_frame_mm = 0.5;
  return rig;
}

/// A folder of frames 0.png, 1.png and so on.
class Frames {
 public:
  explicit Frames(const std::vector<GreyPicture>& pictures, const std::string& scan_toml = "") {
    for (std::size_t i = 0; i < pictures.size(); ++i)
      (void)folder_.file(std::to_string(i) + ".png", fixtures::png_8_bit(pictures[i]));
    if (!scan_toml.empty()) (void)folder_.file("scan.toml", scan_toml);
  }
  [[nodiscard]] const std::filesystem::path& path() const { return folder_.path(); }
  [[nodiscard]] Cloud read(const Rig& rig = simple_rig(), const Progress& progress = {}) const {
    return read_laser_folder(path(), rig, progress);
  }

 private:
  test::TempFolder folder_;
};

/// Mean place of the k-th of `parts` stretches of the cloud, which are as long.
Eigen::Vector3d middle_of(const Cloud& cloud, Eigen::Index k, Eigen::Index parts) {
  const Eigen::Index n = cloud.points_mm.cols() / parts;
  EXPECT_EQ(n * parts, cloud.points_mm.cols());
  return cloud.points_mm.middleCols(k * n, n).rowwise().mean();
}

TEST(LaserFolderSpec, AFramesCentresArePointsOnTheSheet) {
  const FrameProfile profile = profile_of(line_at(60.3), simple_rig());
  const FoundLine line = find_line(line_at(60.3), {2.0, true, 0.0});
  ASSERT_GT(profile.points_mm.size(), 90U);
  ASSERT_EQ(profile.points_mm.size(), line.centres.size());
  for (std::size_t i = 0; i < profile.points_mm.size(); ++i) {
    const Eigen::Vector3d expected(0.1 * (line.centres[i].column - 60.0), 0.1 * 10.3, 100.0);
    EXPECT_LT((profile.points_mm[i] - expected).norm(), 2e-3);  // A fiftieth of a pixel.
    EXPECT_NEAR(profile.u_mm[i], 0.1 * line.centres[i].u_px, 1e-7) << "across the line, in millimetres";
  }
  EXPECT_EQ(profile.clipped + profile.ambiguous + profile.stray + profile.without_depth, 0U);
}

TEST(LaserFolderSpec, WhatIsLeftOutIsCountedByItsReason) {
  EXPECT_GT(profile_of(line_at(60.3, 900.0), simple_rig()).clipped, 90U);
  Rig behind = simple_rig();
  behind.laser_plane->q = -behind.laser_plane->q;
  const FrameProfile none = profile_of(line_at(60.3), behind);
  EXPECT_GT(none.without_depth, 90U) << "the sheet lies behind the camera";
  EXPECT_TRUE(none.points_mm.empty());
}

TEST(LaserFolderSpec, EachFrameIsBroughtBackByTheWayOfTheStage) {
  // What lies still on the stage is seen farther along it from frame to frame. Here the line stays where it is, so that
  // the surface beneath it runs the other way.
  const Cloud cloud = Frames({line_at(60.3), line_at(60.3), line_at(60.3)}).read();
  const Eigen::Vector3d first = middle_of(cloud, 0, 3);
  EXPECT_NEAR(first.y(), 1.03, 2e-3);
  EXPECT_LT((middle_of(cloud, 1, 3) - first - Eigen::Vector3d(-0.3, -0.4, 0.0)).norm(), 1e-9);
  EXPECT_LT((middle_of(cloud, 2, 3) - first - Eigen::Vector3d(-0.6, -0.8, 0.0)).norm(), 1e-9);
  EXPECT_EQ(cloud.u_mm.size(), cloud.points_mm.cols());
  EXPECT_TRUE(cloud.unit_known);
}

TEST(LaserFolderSpec, TheScansOwnFileTellsItsWayAndItsFrames) {
  const Cloud cloud = Frames({line_at(40.0), line_at(50.0), line_at(60.0)},
                             "travel_per_frame_mm = -2.0\nframes = [\"2.png\", \"0.png\"]\n")
                          .read();
  EXPECT_EQ(cloud.format, "2 laser-line frames");
  EXPECT_NEAR(middle_of(cloud, 0, 2).y(), 1.0, 2e-3) << "2.png comes first";
  EXPECT_NEAR(middle_of(cloud, 1, 2).y(), -1.0 + 0.8 * 2.0, 2e-3);
}

TEST(LaserFolderSpec, UpToHalfOfTheFramesMayBeDarkAndTheNoteSaysHowMany) {
  const Cloud half = Frames({dark(), line_at(60.0), dark(), line_at(60.0)}).read();
  ASSERT_EQ(half.notes.size(), 1U);
  EXPECT_EQ(half.notes[0].id, "laser_folder.dark_frames");
  EXPECT_EQ(std::get<Number>(half.notes[0].arguments.at("dark")).value, 2.0);
  EXPECT_EQ(std::get<Number>(half.notes[0].arguments.at("frames")).value, 4.0);
  const Frames most({dark(), dark(), dark(), line_at(60.0)});
  const test::Refusal refusal = test::refusal_of([&] { return most.read(); });
  EXPECT_EQ(refusal.id, "laser_folder.no_line");
  EXPECT_EQ(refusal.number("dark"), 3.0);
  EXPECT_EQ(refusal.text("folder"), most.path().string());
}

TEST(LaserFolderSpec, ABrightLineIsNoted) {
  const Cloud cloud = Frames({line_at(60.0, 900.0), line_at(60.0)}).read();
  ASSERT_EQ(cloud.notes.size(), 1U);
  EXPECT_EQ(cloud.notes[0].id, "laser_folder.clipped");
  EXPECT_NEAR(std::get<Number>(cloud.notes[0].arguments.at("share")).value, 50.0, 3.0) << "per cent of the points";
}

TEST(LaserFolderSpec, WithoutAWayBetweenFramesItIsRefused) {
  Rig rig = simple_rig();
  rig.stage->travel_per_frame_mm = 0.0;
  const Frames frames({line_at(60.0), line_at(60.0)});
  const test::Refusal refusal = test::refusal_of([&] { return frames.read(rig); });
  EXPECT_EQ(refusal.id, "laser_folder.no_way");
  EXPECT_EQ(refusal.text("folder"), frames.path().string());
}

TEST(LaserFolderSpec, ListedFramesStayInTheirFolderAndAreNoMoreThanTwentyThousand) {
  for (const char* name : {"../a.png", "sub/a.png", ""}) {
    const Frames frames({line_at(60.0)}, "frames = [\"" + std::string(name) + "\"]\n");
    const test::Refusal refusal = test::refusal_of([&] { return frames.read(); });
    EXPECT_EQ(refusal.id, "laser_folder.frames_elsewhere") << name;
    EXPECT_EQ(refusal.file, (frames.path() / "scan.toml").string());
  }
  const auto refused = [](int count) {
    std::string list = "frames = [";
    for (int i = 0; i < count; ++i) list += i == 0 ? "\"x.png\"" : ",\"x.png\"";
    const Frames frames({}, list + "]\n");
    return test::refusal_of([&] { return frames.read(); });
  };
  EXPECT_EQ(refused(20000).id, "scan_file.none") << "so many are looked for";
  EXPECT_EQ(refused(20001).id, "frames.too_many");
  EXPECT_EQ(refused(20001).number("most"), 20000.0);
}

TEST(LaserFolderSpec, ProgressIsToldFrameByFrame) {
  std::vector<double> told;
  (void)Frames(std::vector<GreyPicture>(6, line_at(60.0))).read(simple_rig(), [&](const Message& stage, double share) {
    EXPECT_EQ(stage.id, "stage.laser_line");
    EXPECT_EQ(std::get<Number>(stage.arguments.at("frames")).value, 6.0);
    told.push_back(share);
  });
  ASSERT_FALSE(told.empty());
  for (std::size_t i = 0; i < told.size(); ++i) {
    EXPECT_GT(told[i], i == 0 ? 0.0 : told[i - 1]);
    EXPECT_LT(told[i], 1.0) << "reading is the beginning of a measurement";
  }
}

TEST(LaserFolderSpec, ItsDigestHangsOnTheScansFileAndOnEveryFrameInItsOrder) {
  const GreyPicture a = line_at(40.0), b = line_at(60.0);
  const std::string plain = laser_folder_sha256(Frames({a, b}).path());
  EXPECT_EQ(plain.size(), 64U);
  EXPECT_EQ(laser_folder_sha256(Frames({a, b}).path()), plain);
  EXPECT_NE(laser_folder_sha256(Frames({b, a}).path()), plain);
  EXPECT_NE(laser_folder_sha256(Frames({a, b, b}).path()), plain);
  EXPECT_NE(laser_folder_sha256(Frames({a, b}, "travel_per_frame_mm = 0.5\n").path()), plain);
}

}  // namespace
}  // namespace canewise
