// Sample consensus finds planes and balls among other things, and always the same ones.
#include "scanproc/datum/consensus.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <numbers>
#include <random>
#include <stdexcept>

namespace canewise {
namespace {

using Points = std::vector<Eigen::Vector3d>;

struct Draw {
  std::mt19937_64 random{11};
  std::normal_distribution<double> normal;
  std::uniform_real_distribution<double> uniform{0.0, 1.0};
};

/// A rectangle far from the origin, with noise across it.
void add_rectangle(Points& points, const Eigen::Vector3d& corner, const Eigen::Vector3d& a, const Eigen::Vector3d& b,
                   Draw& draw) {
  const Eigen::Vector3d normal = a.cross(b).normalized();
  for (int i = 0; i < 6000; ++i)
    points.emplace_back(corner + draw.uniform(draw.random) * a + draw.uniform(draw.random) * b +
                        0.01 * draw.normal(draw.random) * normal);
}

/// The upper part of a ball on a round stem of 1 mm radius.
void add_ball_on_a_stem(Points& points, const Eigen::Vector3d& centre, double radius_mm, Draw& draw) {
  for (int i = 0; i < 5000; ++i) {
    const double turn = 2.0 * std::numbers::pi * draw.uniform(draw.random), z = 2.0 * draw.uniform(draw.random) - 1.0;
    const Eigen::Vector3d out(std::sqrt(1 - z * z) * std::cos(turn), std::sqrt(1 - z * z) * std::sin(turn), z);
    if (z > -0.7) points.emplace_back(centre + (radius_mm + 0.01 * draw.normal(draw.random)) * out);
    const double down = radius_mm + 12.0 * draw.uniform(draw.random);
    points.emplace_back(centre + Eigen::Vector3d(std::cos(turn), std::sin(turn), -down));
  }
}

const Eigen::Vector3d kFar(180.0, -90.0, 240.0);

TEST(Consensus, FindsThreeFacesAndTheStripOfAFourth) {
  Draw draw;
  Points points;
  const Eigen::Quaterniond turn = Eigen::Quaterniond(0.8, 0.3, -0.4, 0.2).normalized();
  const Eigen::Vector3d x = turn * Eigen::Vector3d::UnitX(), y = turn * Eigen::Vector3d::UnitY(),
                        z = turn * Eigen::Vector3d::UnitZ();
  add_rectangle(points, kFar, 10 * x, 12 * y, draw);
  add_rectangle(points, kFar, 10 * x, 14 * z, draw);
  add_rectangle(points, kFar, 12 * y, 14 * z, draw);
  add_rectangle(points, kFar + 10 * x, 12 * y, 3 * z, draw);
  const auto planes = consensus_planes(points);
  ASSERT_GE(planes.size(), 4U);
  // Normal and a point of each face.
  const std::vector<std::pair<Eigen::Vector3d, Eigen::Vector3d>> faces{
      {z, kFar}, {y, kFar}, {x, kFar}, {x, kFar + 10 * x}};
  for (const auto& [normal, at] : faces) {
    int found = 0;
    for (const auto& plane : planes)
      found += std::abs(plane.normal.dot(normal)) > 0.999 && std::abs(plane.height(at)) < 0.15;
    EXPECT_EQ(found, 1);
  }
}

TEST(Consensus, FindsABallOnItsStem) {
  Draw draw;
  Points points;
  add_ball_on_a_stem(points, kFar, 4.0, draw);
  const auto ball = consensus_ball(points);
  ASSERT_TRUE(ball);
  EXPECT_LT((ball->centre_mm - kFar).norm(), 0.2);
  EXPECT_NEAR(ball->radius_mm, 4.0, 0.2);
  BallConsensus other_size;
  other_size.least_radius_mm = 5.5;
  other_size.largest_radius_mm = 6.5;
  const auto none = consensus_ball(points, other_size);
  EXPECT_TRUE(!none || std::abs(none->radius_mm - 4.0) > 1.0);
}

TEST(Consensus, GivesTheSameEachTime) {
  Draw draw;
  Points points;
  add_ball_on_a_stem(points, kFar, 3.0, draw);
  add_rectangle(points, kFar + Eigen::Vector3d(20, 0, 0), {9, 1, 0}, {0, 2, 8}, draw);
  const auto a = consensus_planes(points), b = consensus_planes(points);
  ASSERT_EQ(a.size(), b.size());
  for (std::size_t i = 0; i < a.size(); ++i) {
    EXPECT_EQ(a[i].normal, b[i].normal);
    EXPECT_EQ(a[i].distance, b[i].distance);
  }
  EXPECT_EQ(consensus_ball(points)->centre_mm, consensus_ball(points)->centre_mm);
}

TEST(Consensus, FindsNothingInNothing) {
  EXPECT_TRUE(consensus_planes({}).empty());
  EXPECT_TRUE(consensus_planes(Points(200, kFar)).empty());
  EXPECT_FALSE(consensus_ball({}));
  EXPECT_FALSE(consensus_ball(Points(200, kFar)));
}

TEST(Consensus, OptionsOutOfBoundsAreRefused) {
  const auto planes = [](auto change) {
    PlaneConsensus options;
    change(options);
    (void)consensus_planes({}, options);
  };
  EXPECT_THROW(planes([](auto& o) { o.cell_mm = 0.0; }), std::invalid_argument);
  EXPECT_THROW(planes([](auto& o) { o.tolerance_mm = std::nan(""); }), std::invalid_argument);
  EXPECT_THROW(planes([](auto& o) { o.fewest = 2; }), std::invalid_argument);
  const auto ball = [](auto change) {
    BallConsensus options;
    change(options);
    (void)consensus_ball({}, options);
  };
  EXPECT_THROW(ball([](auto& o) { o.cell_mm = -1.0; }), std::invalid_argument);
  EXPECT_THROW(ball([](auto& o) { o.tolerance_mm = 0.0; }), std::invalid_argument);
  EXPECT_THROW(ball([](auto& o) { o.fewest = 3; }), std::invalid_argument);
  EXPECT_THROW(ball([](auto& o) { o.largest_radius_mm = 0.5; }), std::invalid_argument);
}

}  // namespace
}  // namespace canewise
