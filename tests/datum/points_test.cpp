// Points are moved, thinned and freed of repeats in place; what belongs to a point stays with it.
#include "scanproc/datum/points.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <numbers>

namespace canewise {
namespace {

/// More than the parallel parts share without threads.
constexpr Eigen::Index kMany = 50001;

Eigen::Matrix3Xd numbered(Eigen::Index count) {
  Eigen::Matrix3Xd points(3, count);
  for (Eigen::Index i = 0; i < count; ++i) {
    const auto n = static_cast<double>(i);
    points.col(i) << n, 2.0 * n + 1.0, -3.0 * n;
  }
  return points;
}

Eigen::VectorXf numbers(Eigen::Index count) {
  Eigen::VectorXf u(count);
  for (Eigen::Index i = 0; i < count; ++i) u(i) = static_cast<float>(i);
  return u;
}

TEST(Points, AreTurnedFirstAndThenShifted) {
  Eigen::Matrix3Xd points = numbered(kMany);
  Eigen::Isometry3d pose = Eigen::Isometry3d::Identity();
  pose.linear() = Eigen::AngleAxisd(0.5 * std::numbers::pi, Eigen::Vector3d::UnitZ()).toRotationMatrix();
  pose.translation() << 10.0, 20.0, 30.0;
  transform_in_place(points, pose);
  // A quarter turn about z takes (x, y, z) to (-y, x, z).
  for (Eigen::Index i = 0; i < kMany; ++i) {
    const auto n = static_cast<double>(i);
    ASSERT_LT((points.col(i) - Eigen::Vector3d(9.0 - 2.0 * n, 20.0 + n, 30.0 - 3.0 * n)).norm(), 1e-9) << i;
  }
}

TEST(Points, OfEqualOnesTheFirstStaysWithItsUncertainty) {
  const Eigen::Vector3d a(1, 2, 3), b(1, 2, 4), c(2, 1, 3);
  Eigen::Matrix3Xd points(3, 6);
  points << a, b, a, c, b, a;
  Eigen::VectorXf u = numbers(6);
  EXPECT_EQ(drop_duplicates(points, u), 3U);
  ASSERT_EQ(points.cols(), 3);
  EXPECT_EQ(points.col(0), a);
  EXPECT_EQ(points.col(1), b);
  EXPECT_EQ(points.col(2), c);
  EXPECT_EQ(u, Eigen::Vector3f(0, 1, 3));
}

TEST(Points, ThatDifferInTheLastBitAreTwo) {
  const double next = std::nextafter(0.3, 1.0);
  Eigen::Matrix3Xd points(3, 4);
  points << 0.3, next, 0.3, 0.3,  //
      0.3, 0.3, next, 0.3,        //
      0.3, 0.3, 0.3, next;
  EXPECT_EQ(drop_duplicates(points), 0U);
  EXPECT_EQ(points.cols(), 4);
}

TEST(Points, RepeatsAreFoundHoweverFarApart) {
  // The first 7000 once more at the end, so that pairs lie in different parts of the work.
  constexpr Eigen::Index repeated = 7000;
  Eigen::Matrix3Xd points(3, kMany + repeated);
  points << numbered(kMany), numbered(repeated);
  EXPECT_EQ(drop_duplicates(points), static_cast<std::size_t>(repeated));
  EXPECT_EQ(points, numbered(kMany));
  EXPECT_EQ(drop_duplicates(points), 0U) << "a second time there is nothing left to drop";
}

TEST(Points, AreKeptInTheirOrderWithTheirUncertainty) {
  Eigen::Matrix3Xd points = numbered(kMany);
  Eigen::VectorXf u = numbers(kMany);
  // Every third, and none of the first 100: the two parts keep unlike numbers.
  keep_points(points, u, [](const Eigen::Vector3d& p) { return p.x() >= 100.0 && std::fmod(p.x(), 3.0) == 0.0; });
  constexpr Eigen::Index expected = 16633;  // 102, 105 ... 49998.
  ASSERT_EQ(points.cols(), expected);
  ASSERT_EQ(u.size(), expected);
  for (Eigen::Index i = 0; i < expected; ++i) {
    const double n = 102.0 + 3.0 * static_cast<double>(i);
    ASSERT_EQ(points.col(i), Eigen::Vector3d(n, 2.0 * n + 1.0, -3.0 * n)) << i;
    ASSERT_EQ(static_cast<double>(u(i)), n) << i;
  }
}

TEST(Points, NoneMayBeLeftAndNoneMayBeGiven) {
  Eigen::Matrix3Xd points = numbered(10);
  keep_points(points, [](const Eigen::Vector3d&) { return false; });
  EXPECT_EQ(points.cols(), 0);
  EXPECT_EQ(drop_duplicates(points), 0U);
  transform_in_place(points, Eigen::Isometry3d::Identity());
  keep_points(points, [](const Eigen::Vector3d&) { return true; });
  EXPECT_EQ(points.cols(), 0);
}

TEST(Points, ScansWithoutUncertaintiesStayWithout) {
  Eigen::Matrix3Xd points = numbered(10);
  Eigen::VectorXf none;
  keep_points(points, none, [](const Eigen::Vector3d& p) { return p.x() > 4.0; });
  EXPECT_EQ(points.cols(), 5);
  EXPECT_EQ(none.size(), 0);
}

}  // namespace
}  // namespace canewise
