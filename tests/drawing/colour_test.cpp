#include "scanproc/drawing/colour.h"

#include <gtest/gtest.h>

#include <cmath>

namespace canewise {
namespace {

double linear(double c) { return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4); }

/// CIE lightness of an sRGB colour (IEC 61966-2-1, CIE 15): how bright it prints in grey.
double lightness(Colour c) {
  const double y = 0.2126 * linear(c.red) + 0.7152 * linear(c.green) + 0.0722 * linear(c.blue);
  return y > 0.008856 ? 116.0 * std::cbrt(y) - 16.0 : 903.3 * y;
}

TEST(Colour, TheSequentialScaleRisesEvenlyInGrey) {
  double last = lightness(sequential_colour(0.0));
  for (int k = 1; k <= 20; ++k) {
    const double now = lightness(sequential_colour(k / 20.0));
    EXPECT_GT(now - last, 1.5) << k;
    EXPECT_LT(now - last, 6.0) << k;
    last = now;
  }
}

TEST(Colour, TheDivergingScaleIsPaleAtNoughtAndFallsAlikeToBothEnds) {
  EXPECT_GT(lightness(diverging_colour(0.0)), 95.0);
  for (const double t : {0.25, 0.5, 0.75, 1.0}) {
    EXPECT_LT(lightness(diverging_colour(t)), lightness(diverging_colour(t - 0.2)));
    EXPECT_LT(lightness(diverging_colour(-t)), lightness(diverging_colour(-t + 0.2)));
    EXPECT_NEAR(lightness(diverging_colour(t)), lightness(diverging_colour(-t)), 4.0);
  }
}

// Blue against orange: a reader without red or without green cones still sees blue against yellow-brown.
TEST(Colour, TheEndsDifferInTheBlueYellowDirection) {
  const Colour low = diverging_colour(-1.0), high = diverging_colour(1.0);
  EXPECT_GT(low.blue - 0.5 * (low.red + low.green), 0.25);
  EXPECT_LT(high.blue - 0.5 * (high.red + high.green), -0.2);
}

}  // namespace
}  // namespace canewise
