// The laser's line in a picture, when the picture is not as one would wish; and folders of such pictures.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>

#include "fixtures/rig_session.h"
#include "fixtures/write_cloud.h"
#include "scanproc/core/error.h"
#include "scanproc/frames/laser_folder.h"
#include "scanproc/images/line_centres.h"
#include "scanproc/scan/read_scan.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

using ::testing::HasSubstr;
using ::testing::ThrowsMessage;

constexpr std::size_t kColumns = 300, kRows = 200;

/// A dark picture with stripes: row(column), peak, and the columns from..to that show it.
struct Stripe {
  double row, slope, peak;
  std::size_t from = 0, to = kColumns;
};
GreyPicture picture_of(const std::vector<Stripe>& stripes, double sigma_px = 2.0) {
  GreyPicture picture;
  picture.columns = kColumns, picture.rows = kRows;
  std::mt19937 random(1);
  std::normal_distribution<double> noise(0.0, 1.5);
  for (std::size_t v = 0; v < kRows; ++v) {
    for (std::size_t u = 0; u < kColumns; ++u) {
      double light = 8.0 + noise(random);
      for (const Stripe& s : stripes) {
        const double off = (static_cast<double>(v) - s.row - s.slope * static_cast<double>(u)) / sigma_px;
        if (u >= s.from && u < s.to) light += s.peak * std::exp(-0.5 * off * off);
      }
      picture.values.push_back(static_cast<std::uint16_t>(std::clamp(std::lround(light), 0L, 255L)));
    }
  }
  return picture;
}

double worst_off(const FoundLine& line, double row, double slope) {
  double worst = 0.0;
  for (const LineCentre& c : line.centres) worst = std::max(worst, std::abs(c.row - row - slope * c.column));
  return worst;
}

TEST(LineFrames, AClippedLineIsFoundInItsMiddleAndIsLessSure) {
  const FoundLine clear = find_line(picture_of({{90.3, 0.05, 200.0}}), {});
  const FoundLine clipped = find_line(picture_of({{90.3, 0.05, 1200.0}}), {});
  EXPECT_GT(clear.centres.size(), 270U);
  EXPECT_GT(clipped.centres.size(), 270U);
  EXPECT_LT(worst_off(clear, 90.3, 0.05), 0.06);  // Five standard deviations of the noise.
  EXPECT_LT(worst_off(clipped, 90.3, 0.05), 0.06);
  for (const auto& c : clipped.centres) {
    EXPECT_TRUE(c.clipped);
    // Seven rows are clipped: a quarter of 7 / root 12.
    EXPECT_NEAR(c.u_px, 0.25 * 7.0 / std::sqrt(12.0), 0.12);
  }
  for (const auto& c : clear.centres) EXPECT_LT(c.u_px, 0.02);
}

TEST(LineFrames, AFaintReflectionDoesNotWin) {
  const FoundLine line = find_line(picture_of({{60.0, 0.0, 180.0}, {140.0, 0.02, 60.0}}), {});
  EXPECT_GT(line.centres.size(), 270U);
  EXPECT_LT(worst_off(line, 60.0, 0.0), 0.06);
  EXPECT_EQ(line.ambiguous, 0U);
}

TEST(LineFrames, TwoLinesAlikeAreLeftOutWhereBothShow) {
  const FoundLine line = find_line(picture_of({{60.0, 0.0, 180.0}, {140.0, 0.0, 170.0, 100, 200}}), {});
  EXPECT_NEAR(static_cast<double>(line.ambiguous), 100.0, 12.0);
  for (const auto& c : line.centres) {
    EXPECT_NEAR(c.row, 60.0, 0.06);
    EXPECT_TRUE(c.column < 106.0 || c.column > 194.0) << c.column;
  }
}

TEST(LineFrames, AGapStaysAGapAndItsEndsAreNotPulled) {
  // A steep line that is broken: near the ends the detector sees one side only.
  const FoundLine line = find_line(picture_of({{40.0, 0.4, 180.0, 0, 120}, {40.0, 0.4, 180.0, 170, 300}}), {});
  for (const auto& c : line.centres) EXPECT_TRUE(c.column < 120.0 || c.column >= 170.0) << c.column;
  EXPECT_GT(line.centres.size(), 205U);
  EXPECT_LT(worst_off(line, 40.0, 0.4), 0.15);
}

TEST(LineFrames, SpecksAreNoLine) {
  GreyPicture picture = picture_of({});
  for (std::size_t i = 0; i < 40; ++i) picture.values[(20 + 4 * i) * kColumns + 7 * i + 5] = 250;
  const FoundLine line = find_line(picture, {});
  EXPECT_TRUE(line.centres.empty());
}

TEST(LineFrames, ADarkPictureHasNoLine) { EXPECT_TRUE(find_line(picture_of({}), {}).centres.empty()); }

TEST(LineFrames, WidthAndDirectionAreSeen) {
  const LineLook level = look_at_line({picture_of({{90.3, 0.1, 150.0}}, 2.6)});
  EXPECT_TRUE(level.crosses_columns);
  EXPECT_NEAR(level.sigma_px, 2.6, 0.15);
}

/// A scan of a few frames with the truth's rig.
class LaserFolder : public ::testing::Test {
 protected:
  LaserFolder() {
    fixtures::VirtualRig rig = fixtures::small_virtual_rig();
    truth = rig.true_rig();
    fixtures::write_frames(folder.path() / "frames", rig, {}, 0.5, 6, 1);
  }
  Cloud read() { return read_scan(folder.path() / "frames", {.tiff = {}, .rig = &truth}); }
  test::TempFolder folder;
  Rig truth;
};

TEST_F(LaserFolder, PointsCarryTheirUncertaintyAndThePlateIsFlat) {
  const Cloud cloud = read();
  EXPECT_EQ(cloud.format, "6 laser-line frames");
  EXPECT_TRUE(cloud.unit_known);
  ASSERT_EQ(cloud.u_mm.size(), cloud.points_mm.cols());
  EXPECT_GT(cloud.points_mm.cols(), 6 * 500);
  const fixtures::VirtualRig rig = fixtures::small_virtual_rig();
  double squares = 0.0;
  for (Eigen::Index i = 0; i < cloud.points_mm.cols(); ++i)
    squares += std::pow((rig.camera_from_plate.inverse() * Eigen::Vector3d(cloud.points_mm.col(i))).z(), 2);
  // Line noise of 8 um that is remembered over 3.5 columns, averaged by the detector's Gaussian along the line; 2
  // counts of picture noise add little. Six frames of 170 independent stretches know it to 3 %.
  double kept = 0.0;
  for (int i = -20; i <= 20; ++i) {
    for (int j = -20; j <= 20; ++j)
      kept += std::exp(-0.5 * (i * i + j * j) / std::pow(rig.line_sigma_px, 2) - std::abs(i - j) / 3.5);
  }
  kept /= 2.0 * std::numbers::pi * std::pow(rig.line_sigma_px, 2);
  const double expected_um = rig.line_noise_um * std::sqrt(kept);
  EXPECT_NEAR(1e3 * std::sqrt(squares / static_cast<double>(cloud.points_mm.cols())), expected_um, 0.12 * expected_um);
}

TEST_F(LaserFolder, WithoutARigItSaysWhatIsMissing) {
  EXPECT_THAT([&] { (void)read_scan(folder.path() / "frames", {}); },
              ThrowsMessage<InputError>(HasSubstr("need --rig")));
  truth.stage.reset();
  EXPECT_THAT([&] { (void)read(); }, ThrowsMessage<InputError>(HasSubstr("canewise calibrate")));
}

TEST_F(LaserFolder, FramesOfAnotherSizeAreRefused) {
  fixtures::write_file(folder.path() / "frames" / "0003.png", fixtures::png_8_bit(picture_of({{90.0, 0.0, 200.0}})));
  EXPECT_THAT([&] { (void)read(); }, ThrowsMessage<InputError>(::testing::AllOf(
                                         HasSubstr("0003.png"), HasSubstr("300 by 200"), HasSubstr("800 by 600"))));
}

TEST_F(LaserFolder, FramesWithoutALineAreRefused) {
  GreyPicture dark;
  dark.columns = 800, dark.rows = 600;
  dark.values.assign(dark.columns * dark.rows, 6);
  for (int k = 0; k < 4; ++k)
    fixtures::write_file(folder.path() / "frames" / ("000" + std::to_string(k) + ".png"), fixtures::png_8_bit(dark));
  EXPECT_THAT([&] { (void)read(); }, ThrowsMessage<InputError>(HasSubstr("4 of 6 frames show no laser line")));
  dark.values.assign(dark.values.size(), 255);  // Over-exposed from edge to edge.
  for (int k = 0; k < 6; ++k)
    fixtures::write_file(folder.path() / "frames" / ("000" + std::to_string(k) + ".png"), fixtures::png_8_bit(dark));
  EXPECT_THAT([&] { (void)read(); }, ThrowsMessage<InputError>(HasSubstr("show no laser line")));
}

TEST_F(LaserFolder, ADamagedFrameAndAnUnknownWayAreRefused) {
  fixtures::write_file(folder.path() / "frames" / "scan.toml", "travel_per_frame_mm = 0\n");
  EXPECT_THAT([&] { (void)read(); }, ThrowsMessage<InputError>(HasSubstr("how far the stage moves")));
  fixtures::write_file(folder.path() / "frames" / "scan.toml", "travel_per_frame_mm = 0.5\nspeed = 3\n");
  EXPECT_THAT([&] { (void)read(); }, ThrowsMessage<InputError>(HasSubstr("speed")));
  fixtures::write_file(folder.path() / "frames" / "scan.toml", "travel_per_frame_mm = 0.5\n");
  const std::string whole = fixtures::png_8_bit(picture_of({}));
  fixtures::write_file(folder.path() / "frames" / "0002.png", whole.substr(0, whole.size() / 2));
  EXPECT_THAT([&] { (void)read(); },
              ThrowsMessage<InputError>(::testing::AllOf(HasSubstr("0002.png"), HasSubstr("damaged"))));
}

}  // namespace
}  // namespace canewise
