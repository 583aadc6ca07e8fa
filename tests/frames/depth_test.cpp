// Depth cameras: the camera model, images, frames fused to one depth a pixel, and folders of them.
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <png.h>
#include <sys/stat.h>

#include <Eigen/Geometry>
#include <cstdlib>
#include <filesystem>
#include <numbers>
#include <random>

#include "fixtures/write_surface.h"
#include "scanproc/frames/depth_folder.h"
#include "scanproc/frames/depth_fusion.h"
#include "scanproc/images/grey_image.h"
#include "scanproc/rig/depth_camera.h"
#include "scanproc/scan/read_scan.h"
#include "tests/bytes/file_bytes.h"
#include "tests/support/in_english.h"

namespace canewise {
namespace {

namespace fs = std::filesystem;
using testing::AllOf;
using testing::HasSubstr;

/// A real camera with a strong lens: the left one of the calibration images that OpenCV publishes with its result
/// (left_intrinsics.yml, handbook D2).
DepthCamera published_camera() {
  DepthCamera camera;
  camera.width = 640;
  camera.height = 480;
  camera.fx = camera.fy = 535.91573396;
  camera.cx = 342.28315473;
  camera.cy = 235.57082910;
  camera.k1 = -0.26637261;
  camera.k2 = -0.03858890;
  camera.p1 = 0.00178319;
  camera.p2 = -0.00028122;
  camera.k3 = 0.23839153;
  return camera;
}

// ---------------------------------------------------------------------------------------------------------------------
// Model.
// ---------------------------------------------------------------------------------------------------------------------

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

// ---------------------------------------------------------------------------------------------------------------------
// Camera files.
// ---------------------------------------------------------------------------------------------------------------------

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

// ---------------------------------------------------------------------------------------------------------------------
// Images.
// ---------------------------------------------------------------------------------------------------------------------

DepthImage some_image(std::size_t columns = 37, std::size_t rows = 21) {
  DepthImage image;
  image.columns = columns;
  image.rows = rows;
  for (std::size_t i = 0; i < columns * rows; ++i)
    image.values.push_back(static_cast<std::uint16_t>(i * 7919 % 65536));  // Both bytes, each their own.
  image.values[0] = 65535;
  image.values[1] = 0;
  image.values[2] = 0x1234;
  return image;
}

DepthImage image_of(const std::string& bytes, std::size_t columns = 37, std::size_t rows = 21) {
  return test::with_file(bytes, [&](const ScanFile& file) { return read_depth_image(file, columns, rows); });
}
std::string image_refusal(const std::string& bytes, std::size_t columns = 37, std::size_t rows = 21) {
  return test::refusal(bytes, [&](const ScanFile& file) { return read_depth_image(file, columns, rows); });
}

/// A PNG of any kind, its samples all nought.
std::string png_of(int bits, int colour, int interlace = PNG_INTERLACE_NONE) {
  std::string bytes;
  png_structp png = png_create_write_struct(PNG_LIBPNG_VER_STRING, nullptr, nullptr, nullptr);
  png_infop info = png_create_info_struct(png);
  png_set_write_fn(
      png, &bytes,
      [](png_structp p, png_bytep data, std::size_t size) {
        static_cast<std::string*>(png_get_io_ptr(p))->append(reinterpret_cast<char*>(data), size);
      },
      nullptr);
  png_set_IHDR(png, info, 37, 21, bits, colour, interlace, PNG_COMPRESSION_TYPE_DEFAULT, PNG_FILTER_TYPE_DEFAULT);
  if (colour == PNG_COLOR_TYPE_PALETTE) {
    const png_color black{0, 0, 0};
    png_set_PLTE(png, info, &black, 1);
  }
  png_write_info(png, info);
  const int passes = png_set_interlace_handling(png);
  const std::vector<png_byte> row(37 * 8, 0);
  for (int i = 0; i < 21 * passes; ++i) png_write_row(png, row.data());
  png_write_end(png, info);
  png_destroy_write_struct(&png, &info);
  return bytes;
}

TEST(DepthImages, PngAndTiffOfSixteenBitsGiveTheirValues) {
  const DepthImage truth = some_image();
  for (const auto& bytes : {fixtures::png_16_bit(truth), fixtures::tiff_16_bit(truth)}) {
    const DepthImage image = image_of(bytes);
    EXPECT_EQ(image.columns, 37U);
    EXPECT_EQ(image.rows, 21U);
    EXPECT_EQ(image.values, truth.values);
  }
}

TEST(DepthImages, PicturesOfDepthAreNoDepths) {
  EXPECT_EQ(image_of(png_of(16, PNG_COLOR_TYPE_GRAY)).values, std::vector<std::uint16_t>(37 * 21, 0));
  EXPECT_THAT(image_refusal(png_of(8, PNG_COLOR_TYPE_GRAY)), HasSubstr("16 bits"));
  EXPECT_THAT(image_refusal(png_of(1, PNG_COLOR_TYPE_GRAY)), HasSubstr("16 bits"));
  EXPECT_THAT(image_refusal(png_of(8, PNG_COLOR_TYPE_RGB)), HasSubstr("no plain grey"));
  EXPECT_THAT(image_refusal(png_of(16, PNG_COLOR_TYPE_RGB)), HasSubstr("no plain grey"));
  EXPECT_THAT(image_refusal(png_of(16, PNG_COLOR_TYPE_GRAY_ALPHA)), HasSubstr("no plain grey"));
  EXPECT_THAT(image_refusal(png_of(8, PNG_COLOR_TYPE_PALETTE)), HasSubstr("no plain grey"));
  EXPECT_THAT(image_refusal(png_of(16, PNG_COLOR_TYPE_GRAY, PNG_INTERLACE_ADAM7)), HasSubstr("no plain grey"));
  HeightMap heights;
  heights.columns = 37;
  heights.rows = 21;
  heights.z_mm.assign(37 * 21, 1.0);
  EXPECT_THAT(image_refusal(fixtures::tiff_floats(heights, 1.0, 0.1)), HasSubstr("16-bit whole numbers"));
  EXPECT_THAT(image_refusal("P5\n37 21\n65535\n"), HasSubstr("neither PNG nor TIFF"));
}

TEST(DepthImages, TheSizeMustBeTheCamerasOwn) {
  for (const auto& bytes : {fixtures::png_16_bit(some_image()), fixtures::tiff_16_bit(some_image())}) {
    EXPECT_THAT(image_refusal(bytes, 38, 21), AllOf(HasSubstr("is 37 by 21 pixels"), HasSubstr("says 38 by 21")));
    EXPECT_THAT(image_refusal(bytes, 37, 20), HasSubstr("says 37 by 20"));
    EXPECT_THAT(image_refusal(bytes, 21, 37), HasSubstr("says 21 by 37"));
  }
}

TEST(DepthImages, DamagedOnesAreRefused) {
  const std::string png = fixtures::png_16_bit(some_image()), tiff = fixtures::tiff_16_bit(some_image());
  for (const std::size_t left : {std::size_t{8}, std::size_t{20}, std::size_t{60}, png.size() / 2})
    EXPECT_THAT(image_refusal(png.substr(0, left)), HasSubstr("damaged PNG")) << left;
  std::string flipped = png;
  flipped[png.size() / 2] = static_cast<char>(flipped[png.size() / 2] ^ 1);
  EXPECT_THAT(image_refusal(flipped), HasSubstr("damaged PNG"));
  for (const std::size_t left : {std::size_t{8}, tiff.size() / 2})
    EXPECT_THAT(image_refusal(tiff.substr(0, left)), HasSubstr("damaged")) << left;
}

TEST(DepthImages, ASizeThatTheFileCannotHoldIsRefusedBeforeAnythingIsAllocated) {
  const std::string png = fixtures::png_16_bit(some_image());
  EXPECT_LT(test::peak_growth([&] { EXPECT_THAT(image_refusal(png, 20000, 20000), HasSubstr("far too small")); }),
            test::kLittleMemory);
}

TEST(DepthImages, AsAScanAPictureAsksForItsFolder) {
  EXPECT_THAT(test::refusal(fixtures::png_16_bit(some_image()), [](const ScanFile& file) { return read_scan(file); }),
              HasSubstr("folder"));
}

// ---------------------------------------------------------------------------------------------------------------------
// Fusion.
// ---------------------------------------------------------------------------------------------------------------------

constexpr std::size_t kSide = 120;  // Pixels a side.

/// Depth of a still scene in steps: a gentle tilt, so that every place between two steps occurs alike.
double true_depth(std::size_t pixel) {
  return 3000.0 + 0.0371 * static_cast<double>(pixel % kSide) + 0.0433 * static_cast<double>(pixel / kSide);
}

/// Frames of that scene with normal noise of `noise` steps; each frame's noise is `memory` times the last one's plus
/// something new.
std::vector<DepthImage> noisy_frames(std::size_t count, double noise, double memory = 0.0, std::uint64_t seed = 1) {
  std::mt19937_64 random(seed);
  std::normal_distribution<double> normal;
  std::vector<DepthImage> frames(count);
  std::vector<double> error(kSide * kSide);
  for (double& e : error) e = normal(random);
  for (auto& frame : frames) {
    frame.columns = frame.rows = kSide;
    for (std::size_t i = 0; i < error.size(); ++i) {
      frame.values.push_back(static_cast<std::uint16_t>(std::lround(true_depth(i) + noise * error[i])));
      error[i] = memory * error[i] + std::sqrt(1.0 - memory * memory) * normal(random);
    }
  }
  return frames;
}

struct Errors {
  double mean = 0, rms = 0, greatest = 0, u_rms = 0;
};
Errors errors_of(const FusedDepth& fused) {
  Errors e;
  double n = 0;
  for (std::size_t i = 0; i < fused.depth.size(); ++i) {
    const double d = static_cast<double>(fused.depth[i]) - true_depth(i);
    if (std::isnan(d)) continue;
    e.mean += d;
    e.rms += d * d;
    e.greatest = std::max(e.greatest, std::abs(d));
    e.u_rms += std::pow(static_cast<double>(fused.u_depth[i]), 2);
    n += 1;
  }
  e.mean /= n;
  e.rms = std::sqrt(e.rms / n);
  e.u_rms = std::sqrt(e.u_rms / n);
  return e;
}

TEST(FuseDepth, NormalNoiseAveragesOutAndTheUncertaintySaysSo) {
  for (const double noise : {1.0, 3.0, 12.0}) {
    SCOPED_TRACE(noise);
    constexpr double frames = 30;
    const FusedDepth fused = fuse_depth(noisy_frames(30, noise));
    EXPECT_EQ(fused.dropped_flying, 0U);
    const Errors e = errors_of(fused);
    const double scatter = std::sqrt(noise * noise + 1.0 / 12.0);  // Of one frame, with its rounding.
    EXPECT_LT(e.greatest, 5.0 * scatter / std::sqrt(frames));
    EXPECT_LT(std::abs(e.mean), 5.0 * scatter / std::sqrt(frames) / static_cast<double>(kSide));
    EXPECT_NEAR(fused.frame_sd, scatter, 0.05 * scatter);
    EXPECT_NEAR(e.u_rms, e.rms, 0.15 * e.rms);
    EXPECT_LT(fused.frame_correlation, 0.03);
  }
}

/// Rounding without noise: a uniform law of one step, the root of 1/12, of which the first wave of the ripple alone,
/// 1/(pi sqrt 2), is the greatest part [Widrow2008].
void expect_a_whole_step_in_doubt(double step_u) {
  EXPECT_LE(step_u, 1.0 / std::sqrt(12.0));
  EXPECT_GE(step_u, 1.0 / (std::numbers::pi * std::numbers::sqrt2));
}

TEST(FuseDepth, OneFrameHasNoScatterToShow) {
  const std::vector<DepthImage> frames = noisy_frames(1, 2.0);
  const FusedDepth fused = fuse_depth(frames);
  for (std::size_t i = 0; i < fused.depth.size(); ++i) {
    ASSERT_EQ(fused.depth[i], static_cast<float>(frames[0].values[i]));
    ASSERT_TRUE(std::isnan(fused.u_depth[i]));
  }
  expect_a_whole_step_in_doubt(fused.step_u);
}

TEST(FuseDepth, AFrameThatJumpedDoesNotMoveTheResult) {
  std::vector<DepthImage> frames = noisy_frames(30, 2.0);
  const Errors before = errors_of(fuse_depth(frames));
  for (auto& value : frames[11].values) value = static_cast<std::uint16_t>(value + 50);
  const Errors after = errors_of(fuse_depth(frames));
  // In a plain mean it would weigh 50/30 = 1.7 steps.
  EXPECT_NEAR(after.mean, before.mean, 0.02);
  EXPECT_LT(after.greatest, 5.0 * 2.02 / std::sqrt(29.0));
  EXPECT_LT(after.rms, 1.05 * before.rms);
}

TEST(FuseDepth, NoiseOfHalfAStepBlursTheSteps) {
  for (const double noise : {0.5, 0.8, 3.0}) {
    const FusedDepth fused = fuse_depth(noisy_frames(30, noise));
    EXPECT_LT(fused.step_u, 0.01) << noise;
    EXPECT_GT(fused.step_u, 0.0) << noise;
  }
  // Without noise all frames are alike, and as good as one.
  expect_a_whole_step_in_doubt(fuse_depth(noisy_frames(30, 0.0)).step_u);
}

TEST(FuseDepth, FramesThatRememberTheLastAreWorthFewer) {
  constexpr double memory = 0.7;
  for (const std::size_t count : {30U, 60U}) {
    const FusedDepth fused = fuse_depth(noisy_frames(count, 5.0, memory));
    EXPECT_NEAR(fused.frame_correlation, memory, 0.1);
    const Errors e = errors_of(fused);
    EXPECT_NEAR(e.u_rms, e.rms, 0.25 * e.rms);
    // Taken for independent, they would claim less than half of that.
    EXPECT_LT(5.0 / std::sqrt(static_cast<double>(count)), 0.5 * e.rms);
  }
}

DepthImage constant(std::size_t columns, std::size_t rows, std::uint16_t value) {
  DepthImage image;
  image.columns = columns;
  image.rows = rows;
  image.values.assign(columns * rows, value);
  return image;
}

TEST(FuseDepth, NoughtIsNoDepthAndAPixelNeedsHalfOfTheFrames) {
  std::vector<DepthImage> frames(10, constant(4, 1, 1000));
  for (std::size_t f = 0; f < 10; ++f) {
    frames[f].values[0] = 0;
    if (f < 6) frames[f].values[1] = 0;  // Seen in 4.
    if (f < 5) frames[f].values[2] = 0;  // Seen in 5: half.
  }
  const FusedDepth fused = fuse_depth(frames);
  EXPECT_TRUE(std::isnan(fused.depth[0]));
  EXPECT_TRUE(std::isnan(fused.depth[1]));
  EXPECT_EQ(fused.depth[2], 1000.0F);
  EXPECT_EQ(fused.depth[3], 1000.0F);
  EXPECT_EQ(fused.dropped_flying, 0U);
}

TEST(FuseDepth, PixelsThatHangAtAnEdgeAreDropped) {
  // Left of column 10 the near surface, right of it the far one; column 10 hangs between them, at another depth in each
  // row.
  std::vector<DepthImage> frames(8, constant(20, 12, 1000));
  for (auto& frame : frames) {
    for (std::size_t row = 0; row < 12; ++row) {
      for (std::size_t column = 10; column < 20; ++column) frame.values[row * 20 + column] = 2000;
      frame.values[row * 20 + 10] = static_cast<std::uint16_t>(1300 + 37 * row);
    }
  }
  // And one pixel that sees now this, now that.
  for (std::size_t f = 0; f < 8; ++f) frames[f].values[5 * 20 + 3] = f % 2 == 0 ? 1000 : 1400;
  const FusedDepth fused = fuse_depth(frames);
  EXPECT_EQ(fused.dropped_flying, 13U);
  for (std::size_t i = 0; i < fused.depth.size(); ++i) {
    const std::size_t column = i % 20;
    if (column == 10 || i == 5 * 20 + 3) {
      EXPECT_TRUE(std::isnan(fused.depth[i])) << "pixel " << i;
      EXPECT_TRUE(std::isnan(fused.u_depth[i])) << "pixel " << i;
    } else {
      EXPECT_EQ(fused.depth[i], column < 10 ? 1000.0F : 2000.0F) << "pixel " << i;
    }
  }
}

TEST(FuseDepth, ASharpStepLosesNoPixel) {
  std::vector<DepthImage> frames(8, constant(20, 12, 1000));
  for (auto& frame : frames) {
    for (std::size_t i = 0; i < frame.values.size(); ++i) frame.values[i] = i % 20 < 10 ? 1000 : 2000;
  }
  EXPECT_EQ(fuse_depth(frames).dropped_flying, 0U);
}

TEST(FuseDepth, NoFrameIsAMistakeOfTheProgram) { EXPECT_THROW((void)fuse_depth({}), std::invalid_argument); }

// ---------------------------------------------------------------------------------------------------------------------
// Folders.
// ---------------------------------------------------------------------------------------------------------------------

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
