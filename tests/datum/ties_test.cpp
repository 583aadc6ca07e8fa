// Spheres that two scans show tie one scan to the other; how well, their covariances say.
#include "scanproc/datum/ties.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <array>
#include <cmath>
#include <numbers>
#include <vector>

namespace canewise {
namespace {

using Vector6d = Eigen::Matrix<double, 6, 1>;

Eigen::Isometry3d motion_of(double turn_rad, const Eigen::Vector3d& axis, const Eigen::Vector3d& shift) {
  return Eigen::Translation3d(shift) * Eigen::AngleAxisd(turn_rad, axis.normalized());
}

/// Shift of a point by a small motion: t + w x p, as a row for each coordinate.
Eigen::Matrix<double, 3, 6> shift_at(const Eigen::Vector3d& p) {
  Eigen::Matrix<double, 3, 6> rows;
  for (int k = 0; k < 3; ++k) {
    rows.col(k) = Eigen::Vector3d::Unit(k);
    rows.col(3 + k) = Eigen::Vector3d::Unit(k).cross(p);
  }
  return rows;
}

TEST(Ties, ATurnSeenFromAnotherOriginIsAShiftToo) {
  // A turn of 1 mrad about z at the old origin, which lies 10 mm along x of the new frame's: the new origin moves by
  // w x (-10 mm) = -10 um along y.
  Vector6d motion = Vector6d::Zero();
  motion(5) = 1e-3;
  const PlaceCovariance there =
      in_frame(motion * motion.transpose(), Eigen::Isometry3d(Eigen::Translation3d(10.0, 0.0, 0.0)));
  PlaceCovariance expected = PlaceCovariance::Zero();
  expected(1, 1) = 1e-4;
  expected(5, 5) = 1e-6;
  expected(1, 5) = expected(5, 1) = -1e-5;
  EXPECT_LT((there - expected).cwiseAbs().maxCoeff(), 1e-16);
}

TEST(Ties, WhateverTheFrameAPointsUncertaintyIsTheSame) {
  // The definition: the covariance of a material point's shift, turned with the axes.
  PlaceCovariance covariance = PlaceCovariance::Zero();
  for (int k = 0; k < 6; ++k) {
    Vector6d v;
    v << 0.01 * std::cos(k), 0.02 * std::sin(2.0 * k), 0.005 * k, 1e-3 * std::cos(3.0 * k), 2e-3, 5e-4 * std::sin(k);
    covariance += v * v.transpose();
  }
  const Eigen::Isometry3d new_from_old = motion_of(0.8, {1, -2, 3}, {40.0, -25.0, 60.0});
  const PlaceCovariance there = in_frame(covariance, new_from_old);
  for (const Eigen::Vector3d& p : {Eigen::Vector3d(0, 0, 0), Eigen::Vector3d(30, -7, 2), Eigen::Vector3d(-5, 50, 9)}) {
    const Eigen::Matrix3d here = shift_at(p) * covariance * shift_at(p).transpose();
    const Eigen::Vector3d q = new_from_old * p;
    const Eigen::Matrix3d turned = new_from_old.linear() * here * new_from_old.linear().transpose();
    EXPECT_LT((shift_at(q) * there * shift_at(q).transpose() - turned).norm(), 1e-9 * turned.norm());
  }
  EXPECT_LT((in_frame(there, new_from_old.inverse()) - covariance).norm(), 1e-9 * covariance.norm());
}

Sphere ball(const Eigen::Vector3d& centre, double radius, const Eigen::Matrix3d& covariance) {
  Sphere sphere;
  sphere.centre_mm = centre;
  sphere.radius_mm = radius;
  sphere.covariance = covariance;
  sphere.points = 1000;
  return sphere;
}

constexpr double kA = 30.0, kB = 15.0;  // Half sides of a rectangle of balls, no two of one size.
const std::array<Eigen::Vector3d, 4> kCorners{Eigen::Vector3d(kA, kB, 0), Eigen::Vector3d(-kA, kB, 0),
                                              Eigen::Vector3d(-kA, -kB, 0), Eigen::Vector3d(kA, -kB, 0)};
const Eigen::Vector3d kMiddle(60.0, 20.0, -8.0);
constexpr std::array kRadii{3.0, 3.5, 4.0, 4.5};

/// What the two scans show: in the second it lies elsewhere, and lengths are `stretch` times as long.
struct TwoViews {
  std::vector<Sphere> first, second;
  Eigen::Isometry3d first_from_second = motion_of(1.9, {0.3, 1.0, -0.5}, {-70.0, 12.0, 33.0});
};
TwoViews views(double u_first, double u_second, double stretch = 1.0) {
  TwoViews both;
  for (std::size_t k = 0; k < 4; ++k) {
    both.first.push_back(ball(kMiddle + kCorners.at(k), kRadii.at(k), u_first * u_first * Eigen::Matrix3d::Identity()));
    both.second.push_back(ball(both.first_from_second.inverse() * (kMiddle + stretch * kCorners.at(k)), kRadii.at(k),
                               u_second * u_second * Eigen::Matrix3d::Identity()));
  }
  std::swap(both.second[0], both.second[3]);  // In whatever order they were found.
  return both;
}

TEST(Ties, FourSpheresGiveTheMotionOfTheSecondScanOntoTheFirst) {
  const TwoViews both = views(0.003, 0.004);
  const auto ways = match_spheres(both.first, both.second);
  ASSERT_FALSE(ways.empty());
  for (const TiedMotion& way : ways) {
    EXPECT_EQ(way.ties, 4U);
    EXPECT_LT((way.first_from_second.matrix() - both.first_from_second.matrix()).norm(), 1e-9);
    EXPECT_LT(way.residual_mm, 1e-9);
    EXPECT_EQ(way.method.id, "joining.spheres");
    EXPECT_EQ(way.method.arguments.at("spheres"), count(4));
  }
}

TEST(Ties, CovarianceIsThatOfBothScansOverTheSpheresLevers) {
  // By hand, about the middle of n = 4 corners (+-a, +-b, 0), centres independent with variance V = 0.003^2 + 0.004^2:
  // shift V / n; turn about x V / (n b^2), about y V / (n a^2), about z V / (n (a^2 + b^2)).
  const auto ways = match_spheres(views(0.003, 0.004).first, views(0.003, 0.004).second);
  ASSERT_FALSE(ways.empty());
  constexpr double v = 25e-6;
  Vector6d expected;
  expected << v / 4, v / 4, v / 4, v / (4 * kB * kB), v / (4 * kA * kA), v / (4 * (kA * kA + kB * kB));
  const PlaceCovariance about_middle =
      in_frame(ways.front().covariance, Eigen::Isometry3d(Eigen::Translation3d(-kMiddle)));
  for (int i = 0; i < 6; ++i) {
    for (int k = 0; k < 6; ++k) {
      const double unit = std::sqrt(expected(i) * expected(k));
      EXPECT_NEAR(about_middle(i, k) / unit, i == k ? 1.0 : 0.0, 1e-6) << i << ' ' << k;
    }
  }
}

TEST(Ties, WhereCentresDisagreeByMoreThanTheirNoiseTheyAreWorthThat) {
  // A second scan 0.1 % too long leaves 1e-3 of each lever: sum of squares 1e-6 * 4 (a^2 + b^2) = 4.5e-3 mm2 over
  // 12 - 6 degrees of freedom, against V = 25e-6 mm2: 30 times the variance.
  const TwoViews agreed = views(0.003, 0.004), stretched = views(0.003, 0.004, 1.001);
  const auto usual = match_spheres(agreed.first, agreed.second),
             worse = match_spheres(stretched.first, stretched.second);
  ASSERT_FALSE(usual.empty());
  ASSERT_FALSE(worse.empty());
  EXPECT_NEAR(worse.front().residual_mm, 1e-3 * std::hypot(kA, kB), 1e-7);
  for (int k = 0; k < 6; ++k)
    EXPECT_NEAR(worse.front().covariance(k, k) / usual.front().covariance(k, k), 30.0, 0.05) << k;
}

TEST(Ties, TheSecondScansUncertaintyIsTurnedIntoTheFirstsAxes) {
  // Unsure along the second scan's own x, which is y of the first.
  TwoViews both;
  both.first_from_second = motion_of(0.5 * std::numbers::pi, {0, 0, 1}, {5.0, -3.0, 2.0});
  Eigen::Matrix3d unsure = 1e-8 * Eigen::Matrix3d::Identity();
  unsure(0, 0) = 4e-4;
  for (std::size_t k = 0; k < 4; ++k) {
    both.first.push_back(ball(kCorners.at(k), kRadii.at(k), 1e-8 * Eigen::Matrix3d::Identity()));
    both.second.push_back(ball(both.first_from_second.inverse() * kCorners.at(k), kRadii.at(k), unsure));
  }
  const auto ways = match_spheres(both.first, both.second);
  ASSERT_FALSE(ways.empty());
  EXPECT_NEAR(ways.front().covariance(1, 1), 1e-4, 1e-6);  // A quarter of 4e-4.
  EXPECT_LT(ways.front().covariance(0, 0), 1e-6);
}

TEST(Ties, AStrayBallAndOneOfAnotherSizeTieNothing) {
  TwoViews both = views(0.003, 0.004);
  both.first.push_back(ball({0, 0, 40}, 5.0, 1e-5 * Eigen::Matrix3d::Identity()));
  both.second.back().radius_mm += 0.2;
  const auto ways = match_spheres(both.first, both.second);
  ASSERT_FALSE(ways.empty());
  for (const TiedMotion& way : ways) {
    EXPECT_EQ(way.ties, 3U);
    EXPECT_LT((way.first_from_second.matrix() - both.first_from_second.matrix()).norm(), 1e-9);
  }
}

TEST(Ties, BallsOfOneSizeInARectangleFitInMoreThanOneWay) {
  // It looks alike after half a turn about any of its three axes.
  TwoViews both = views(0.003, 0.004);
  for (auto* list : {&both.first, &both.second}) {
    for (Sphere& sphere : *list) sphere.radius_mm = 4.0;
  }
  std::vector<Eigen::Matrix3d> turns;
  for (const TiedMotion& way : match_spheres(both.first, both.second)) {
    const Eigen::Matrix3d turn = way.first_from_second.linear();
    EXPECT_NEAR(turn.determinant(), 1.0, 1e-9) << "a mirror image is no motion";
    bool known = false;
    for (const auto& other : turns) known = known || (other - turn).norm() < 1e-6;
    if (!known) turns.push_back(turn);
  }
  EXPECT_EQ(turns.size(), 4U);
}

TEST(Ties, FewerThanThreeOrThreeInARowTieNothing) {
  TwoViews both = views(0.003, 0.004);
  EXPECT_TRUE(match_spheres({both.first[0], both.first[1]}, both.second).empty());
  EXPECT_TRUE(match_spheres({}, {}).empty());
  std::vector<Sphere> row;
  // 5 mm beside the line of 80 mm: a turn about that line stays open.
  for (const auto& [x, y, radius] : {std::array{0.0, 0.0, 3.0}, {30.0, 5.0, 3.5}, {80.0, 0.0, 4.0}})
    row.push_back(ball({x, y, 0.0}, radius, 1e-5 * Eigen::Matrix3d::Identity()));
  EXPECT_TRUE(match_spheres(row, row).empty());
  row[1].centre_mm.y() = 7.0;
  EXPECT_FALSE(match_spheres(row, row).empty());
}

}  // namespace
}  // namespace canewise
