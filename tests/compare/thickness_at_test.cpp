#include "scanproc/compare/thickness_at.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

namespace canewise {
namespace {

/// Rows at 0.25, 0.75 and 1.25 mm; columns at -0.75, -0.25, 0.25 and 0.75 mm.
ThicknessMap small() {
  ThicknessMap map;
  map.grid = {0.5, 3, 4};
  map.thickness_mm.resize(3, 4);
  map.thickness_mm << 1.0F, 2.0F, 3.0F, 5.0F,  //
      2.0F, 4.0F, 8.0F, 6.0F,                  //
      3.0F, 5.0F, 7.0F, std::numeric_limits<float>::quiet_NaN();
  return map;
}

TEST(ThicknessAt, ACellsCentreIsTheCell) {
  const ThicknessMap map = small();
  for (Eigen::Index r = 0; r < 3; ++r) {
    for (Eigen::Index c = 0; c < 4; ++c) {
      if (!map.measured(r, c)) continue;
      EXPECT_NEAR(thickness_at(map, map.grid.x_mm(r), map.grid.y_mm(c)), map.thickness_mm(r, c), 1e-6) << r << c;
    }
  }
}

TEST(ThicknessAt, BetweenFourCentresIsBilinear) {
  EXPECT_NEAR(thickness_at(small(), 0.5, -0.5), (1.0 + 2.0 + 2.0 + 4.0) / 4.0, 1e-12);
  EXPECT_NEAR(thickness_at(small(), 0.25, 0.0), 2.5, 1e-12);
  EXPECT_NEAR(thickness_at(small(), 0.375, 0.25), 3.0 + 0.25 * 5.0, 1e-12);
  // A quarter of the way along and three quarters across, between 2, 3 and 4, 8.
  EXPECT_NEAR(thickness_at(small(), 0.375, 0.125), 0.75 * (0.25 * 2.0 + 0.75 * 3.0) + 0.25 * (0.25 * 4.0 + 0.75 * 8.0),
              1e-12);
}

TEST(ThicknessAt, ACornerThatWasNotMeasuredCountsOnlyWhereItHasWeight) {
  EXPECT_TRUE(std::isnan(thickness_at(small(), 1.0, 0.5)));
  EXPECT_TRUE(std::isnan(thickness_at(small(), 1.25, 0.75)));
  EXPECT_NEAR(thickness_at(small(), 1.0, 0.25), 7.5, 1e-6) << "on the column beside it";
  EXPECT_NEAR(thickness_at(small(), 0.75, 0.5), 7.0, 1e-6) << "on the row before it";
  EXPECT_NEAR(thickness_at(small(), 0.75 + 1e-9, 0.5), 7.0, 1e-6) << "but for rounding";
}

TEST(ThicknessAt, BeyondTheOutermostCentresIsNothing) {
  EXPECT_TRUE(std::isnan(thickness_at(small(), 0.24, 0.0)));
  EXPECT_TRUE(std::isnan(thickness_at(small(), 1.26, 0.0)));
  EXPECT_TRUE(std::isnan(thickness_at(small(), 0.5, -0.76)));
  EXPECT_TRUE(std::isnan(thickness_at(small(), 0.5, 0.76)));
  EXPECT_TRUE(std::isnan(thickness_at(small(), std::nan(""), 0.0)));
}

}  // namespace
}  // namespace canewise
