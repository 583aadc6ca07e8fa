#include "scanproc/core/plane_moments.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>

namespace canewise {
namespace {

/// Four corners at x = +-1, y = +-1 on z = 3 + 0.5 x - 0.25 y + 0.1 x y. The last term is orthogonal to every plane
/// over these corners, so that the best plane is the first three and each corner is 0.1 off it.
PlaneMoments twisted_square() {
  PlaneMoments moments;
  for (const double x : {-1.0, 1.0})
    for (const double y : {-1.0, 1.0}) moments.add(x, y, 3.0 + 0.5 * x - 0.25 * y + 0.1 * x * y);
  return moments;
}

TEST(PlaneMoments, FitsThePlaneOfLeastSquares) {
  const LocalPlane plane = twisted_square().fit();
  EXPECT_NEAR(plane.height, 3.0, 1e-8);  // The ridge of 1e-9 of the trace.
  EXPECT_NEAR(plane.slope_x, 0.5, 1e-8);
  EXPECT_NEAR(plane.slope_y, -0.25, 1e-8);
}

TEST(PlaneMoments, HeightIsThatAtTheOriginNotAtTheMiddle) {
  // Points far from the origin, at uneven places, on z = -2 + 0.3 x + 0.7 y.
  PlaneMoments moments;
  for (const auto& [x, y] : {std::array{4.0, 1.0}, {5.0, 3.5}, {7.5, 1.5}, {6.0, -2.0}})
    moments.add(x, y, -2.0 + 0.3 * x + 0.7 * y);
  const LocalPlane plane = moments.fit();
  EXPECT_NEAR(plane.height, -2.0, 1e-7);  // The ridge again, seven millimetres away.
  EXPECT_NEAR(plane.slope_x, 0.3, 1e-8);
  EXPECT_NEAR(plane.slope_y, 0.7, 1e-8);
}

TEST(PlaneMoments, TheResidualSumIsThatOfTheSquaresAboutAnyPlane) {
  const PlaneMoments moments = twisted_square();
  EXPECT_NEAR(moments.residual_sum(moments.fit()), 4.0 * 0.01, 1e-9);
  // About 1 + 2 x - y the residuals are 2 - 1.5 x + 0.75 y + 0.1 x y, whose terms are orthogonal over the corners.
  EXPECT_NEAR(moments.residual_sum({1.0, 2.0, -1.0}), 4.0 * (4.0 + 2.25 + 0.5625 + 0.01), 1e-12);
  // About nothing they are the heights.
  EXPECT_NEAR(moments.residual_sum({}), 4.0 * (9.0 + 0.25 + 0.0625 + 0.01), 1e-12);
}

TEST(PlaneMoments, AWeightCountsAPointThatManyTimes) {
  PlaneMoments weighed, repeated;
  weighed.add(1.0, -2.0, 0.5, 3.0);
  weighed.add(-4.0, 0.5, 2.0, 2.0);
  for (int i = 0; i < 3; ++i) repeated.add(1.0, -2.0, 0.5);
  for (int i = 0; i < 2; ++i) repeated.add(-4.0, 0.5, 2.0);
  for (const auto sum : {&PlaneMoments::n, &PlaneMoments::x, &PlaneMoments::y, &PlaneMoments::z, &PlaneMoments::xx,
                         &PlaneMoments::xy, &PlaneMoments::yy, &PlaneMoments::xz, &PlaneMoments::yz, &PlaneMoments::zz})
    EXPECT_DOUBLE_EQ(weighed.*sum, repeated.*sum);
}

TEST(PlaneMoments, AnotherCellsSumsAreThoseOfItsPointsSeenFromHere) {
  constexpr double dx = 5.0, dy = -3.0;  // Where the other cell's origin lies.
  PlaneMoments there, here, expected;
  here.add(0.5, 0.25, 1.0);
  expected.add(0.5, 0.25, 1.0);
  for (const auto& [x, y, z] : {std::array{1.0, 2.0, 4.0}, {-0.5, 0.75, 2.0}, {3.0, -1.0, -8.0}}) {
    there.add(x, y, z);
    expected.add(x + dx, y + dy, z);
  }
  here.add_shifted(there, dx, dy);
  for (const auto sum : {&PlaneMoments::n, &PlaneMoments::x, &PlaneMoments::y, &PlaneMoments::z, &PlaneMoments::xx,
                         &PlaneMoments::xy, &PlaneMoments::yy, &PlaneMoments::xz, &PlaneMoments::yz, &PlaneMoments::zz})
    EXPECT_DOUBLE_EQ(here.*sum, expected.*sum);
}

TEST(PlaneMoments, PointsInALineLeaveTheSlopeAcrossAtNought) {
  PlaneMoments along_x;
  for (const double x : {1.0, 2.0, 4.0}) along_x.add(x, 5.0, 2.0 * x + 1.0);
  EXPECT_NEAR(along_x.fit().slope_x, 2.0, 1e-6);
  EXPECT_NEAR(along_x.fit().slope_y, 0.0, 1e-4);  // Only the ridge holds it, which is as large as some rounding.
  // Along x = y only the sum of both slopes shows, 2; the smallest slope has 1 and 1. The ridge leaves 1e-7 to
  // rounding.
  PlaneMoments diagonal;
  for (const double t : {1.0, 2.0, 4.0}) diagonal.add(t, t, 2.0 * t);
  EXPECT_NEAR(diagonal.fit().slope_x, 1.0, 1e-5);
  EXPECT_NEAR(diagonal.fit().slope_y, 1.0, 1e-5);
}

TEST(PlaneMoments, ASinglePointGivesALevelPlaneAtItsHeight) {
  PlaneMoments moments;
  moments.add(3.0, -2.0, 7.0);
  const LocalPlane plane = moments.fit();
  EXPECT_NEAR(plane.height, 7.0, 1e-12);
  EXPECT_NEAR(plane.slope_x, 0.0, 1e-12);
  EXPECT_NEAR(plane.slope_y, 0.0, 1e-12);
}

TEST(PlaneMoments, NoPointsHaveNoHeight) {
  EXPECT_TRUE(std::isnan(PlaneMoments().fit().height));
  EXPECT_EQ(PlaneMoments().fit().slope_x, 0.0);
}

}  // namespace
}  // namespace canewise
