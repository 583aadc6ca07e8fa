// Half-cell bins lie under the grid's cells, two by two.
#include "scanproc/thickness/bins.h"

#include <gtest/gtest.h>

namespace canewise {
namespace {

const Grid kGrid{0.3, 5, 4};

TEST(Bins, AreFourUnderEachCell) {
  const Bins bins(kGrid);
  EXPECT_EQ(bins.rows, 10);
  EXPECT_EQ(bins.columns, 8);
  EXPECT_EQ(bins.moments.size(), 80U);
  EXPECT_TRUE(bins.points.empty()) << "only where points have weights";
  EXPECT_NEAR(bins.size_mm(), 0.15, 1e-15);
}

TEST(Bins, BeginAtTheTipAndLieEvenlyAboutTheCentreline) {
  const Bins bins(kGrid);
  EXPECT_NEAR(bins.x_mm(0), 0.075, 1e-15);
  EXPECT_NEAR(bins.x_mm(9), 1.425, 1e-12);
  EXPECT_NEAR(bins.y_mm(0), -0.525, 1e-12);
  EXPECT_NEAR(bins.y_mm(7), 0.525, 1e-12);
}

TEST(Bins, OfACellLieAboutItsCentre) {
  const Bins bins(kGrid);
  for (Eigen::Index r = 0; r < kGrid.rows; ++r)
    EXPECT_NEAR(0.5 * (bins.x_mm(2 * r) + bins.x_mm(2 * r + 1)), kGrid.x_mm(r), 1e-12) << r;
  for (Eigen::Index c = 0; c < kGrid.columns; ++c)
    EXPECT_NEAR(0.5 * (bins.y_mm(2 * c) + bins.y_mm(2 * c + 1)), kGrid.y_mm(c), 1e-12) << c;
}

TEST(Bins, AreStoredRowByRow) {
  Bins bins(kGrid);
  bins.moments[3 * 8 + 5].add(0.0, 0.0, 1.0);
  EXPECT_EQ(bins.at(3, 5).n, 1.0);
  EXPECT_EQ(bins.at(5, 3).n, 0.0);
}

}  // namespace
}  // namespace canewise
