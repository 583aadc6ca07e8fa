// Places to a thousandth of a pixel, scatter and directions: tests/handbook/laser_line_test.cpp. Reflections, gaps,
// specks and clipping: tests/frames/line_frames_test.cpp.
#include "scanproc/images/line_centres.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <stdexcept>

namespace canewise {
namespace {

constexpr std::size_t kColumns = 300, kRows = 200;

/// A stripe through (0, row) with a Gaussian profile of `sigma_px` across it, on a dark ground with noise.
GreyPicture stripe(double row, double slope, double sigma_px, double peak = 180.0) {
  GreyPicture picture{kColumns, kRows, 255, {}};
  std::mt19937 random(5);
  std::normal_distribution<double> noise(0.0, 1.5);
  for (std::size_t v = 0; v < kRows; ++v) {
    for (std::size_t u = 0; u < kColumns; ++u) {
      const double across = (static_cast<double>(v) - row - slope * static_cast<double>(u)) / std::hypot(1.0, slope);
      const double light = 10.0 + noise(random) + peak * std::exp(-0.5 * across * across / (sigma_px * sigma_px));
      picture.values.push_back(static_cast<std::uint16_t>(std::clamp(std::lround(light), 0L, 255L)));
    }
  }
  return picture;
}
GreyPicture turned(const GreyPicture& picture) {
  GreyPicture other{picture.rows, picture.columns, picture.full_scale, {}};
  for (std::size_t c = 0; c < picture.columns; ++c)
    for (std::size_t r = 0; r < picture.rows; ++r) other.values.push_back(picture.at(c, r));
  return other;
}

/// Eighty rows of a hundred pixels, 20 and 22 by turns; the upper ten rows have one value.
GreyPicture ground(std::uint16_t upper, std::uint16_t full_scale) {
  GreyPicture picture{100, 80, full_scale, {}};
  for (std::size_t i = 0; i < 8000; ++i)
    picture.values.push_back(i < 1000 ? upper : static_cast<std::uint16_t>(20 + 2 * (i % 2)));
  return picture;
}

TEST(LineCentres, OneCentreAColumnComesInTheOrderOfColumns) {
  const FoundLine found = find_line(stripe(90.3, 0.05, 2.0), {});
  ASSERT_GT(found.centres.size(), kColumns - 30U);  // The detector's reach at both ends.
  for (std::size_t i = 0; i < found.centres.size(); ++i) {
    const LineCentre& c = found.centres[i];
    EXPECT_NEAR(c.row, 90.3 + 0.05 * c.column, 0.06) << "five standard deviations of the noise";
    if (i > 0) {
      EXPECT_GE(c.column, found.centres[i - 1].column + 1.0);
    }
    EXPECT_FALSE(c.clipped);
  }
}

TEST(LineCentres, BrightnessIsThatOfTheSmoothedRidgeOverTheGround) {
  // A stripe as wide as the detector's Gaussian keeps one part in the root of two of its peak; the kernels are cut and
  // the peak is rounded: 2 %.
  const FoundLine found = find_line(stripe(90.3, 0.0, 2.0, 180.0), {});
  ASSERT_FALSE(found.centres.empty());
  for (const LineCentre& c : found.centres)
    ASSERT_NEAR(c.brightness, 180.0 / std::sqrt(2.0), 0.02 * 180.0 / std::sqrt(2.0));
}

TEST(LineCentres, TheGroundAndItsNoiseAreThoseOfMostPixels) {
  const FoundLine found = find_line(ground(20, 255), {});
  EXPECT_EQ(found.background, 20.0) << "a little more than half have it";
  // Neighbours differ by 2: the scatter of one is 1.4826 times that over the root of two.
  EXPECT_NEAR(found.noise, 1.4826 * 2.0 / std::sqrt(2.0), 1e-9);
  const FoundLine even = find_line(GreyPicture{100, 80, 255, std::vector<std::uint16_t>(8000, 7)}, {});
  EXPECT_GT(even.noise, 1.0 / std::sqrt(12.0)) << "whole counts hide that much at least";
  EXPECT_LT(even.noise, 0.5);
}

TEST(LineCentres, PixelsAtFullScaleAreCountedAndSomeCamerasClipALittleBelow) {
  EXPECT_NEAR(find_line(ground(255, 255), {}).clipped_share, 0.125, 1e-12) << "ten rows of eighty";
  EXPECT_NEAR(find_line(ground(252, 255), {}).clipped_share, 0.125, 1e-12);
  EXPECT_EQ(find_line(ground(248, 255), {}).clipped_share, 0.0);
  EXPECT_EQ(find_line(ground(255, 4095), {}).clipped_share, 0.0) << "of twelve bits that is dark";
}

TEST(LineCentres, ALineFromTopToBottomIsSeenAsOne) {
  const LineLook look = look_at_line({turned(stripe(90.3, 0.1, 1.4))});
  EXPECT_FALSE(look.crosses_columns);
  EXPECT_NEAR(look.sigma_px, 1.4, 0.1);
}

TEST(LineCentres, TheWidthIsThatAcrossASlantingLine) {
  // Down the column the profile is 1.12 times as wide.
  const LineLook look = look_at_line({stripe(20.0, 0.5, 2.2)});
  EXPECT_TRUE(look.crosses_columns);
  EXPECT_NEAR(look.sigma_px, 2.2, 0.11);
}

TEST(LineCentres, WithoutALineThereIsNoWidth) {
  EXPECT_EQ(look_at_line({stripe(90.0, 0.0, 2.0, 0.0)}).sigma_px, 0.0);
  EXPECT_THROW((void)look_at_line({}), std::invalid_argument);
}

}  // namespace
}  // namespace canewise
