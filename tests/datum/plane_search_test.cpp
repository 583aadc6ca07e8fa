// Planes among points: by least squares, by consensus, and which of several is the ground.
#include "scanproc/datum/plane_search.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <array>
#include <cmath>
#include <random>
#include <vector>

namespace canewise {
namespace {

using Cloud3 = std::vector<Eigen::Vector3d>;

struct Draw {
  std::mt19937_64 random{21};
  std::normal_distribution<double> normal;
  std::uniform_real_distribution<double> uniform{0.0, 1.0};
};

/// `count` points on the rectangle corner + [0, 1] a + [0, 1] b, with noise square to it.
void add_rectangle(Cloud3& points, int count, const std::array<Eigen::Vector3d, 3>& corner_a_b, double noise_mm,
                   Draw& draw) {
  const auto& [corner, a, b] = corner_a_b;
  const Eigen::Vector3d normal = a.cross(b).normalized();
  for (int i = 0; i < count; ++i) {
    points.emplace_back(corner + draw.uniform(draw.random) * a + draw.uniform(draw.random) * b +
                        noise_mm * draw.normal(draw.random) * normal);
  }
}

double angle_between(const Eigen::Vector3d& a, const Eigen::Vector3d& b) { return std::asin(a.cross(b).norm()); }

TEST(PlaneSearch, HeightIsTheSignedDistanceAlongTheNormal) {
  const Plane plane{Eigen::Vector3d(0.6, 0.0, 0.8), 5.0};
  EXPECT_NEAR(plane.height({10.0, 7.0, 0.0}), 1.0, 1e-12);
  EXPECT_NEAR(plane.height({0.0, -3.0, 0.0}), -5.0, 1e-12);
}

TEST(PlaneSearch, AFewPointsAreAllTaken) {
  Eigen::Matrix3Xd points(3, 4);
  points << 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12;
  const auto sample = subsample(points, 4);
  ASSERT_EQ(sample.size(), 4U);
  for (Eigen::Index i = 0; i < 4; ++i) EXPECT_EQ(sample[static_cast<std::size_t>(i)], points.col(i));
}

TEST(PlaneSearch, ASampleDoesNotBeatWithTheLinesOfAScan) {
  // Lines of 100 points; one point in 100 is wanted. A plain stride would take the same place of every line.
  constexpr Eigen::Index lines = 2000, on_a_line = 100;
  Eigen::Matrix3Xd points = Eigen::Matrix3Xd::Zero(3, lines * on_a_line);
  for (Eigen::Index i = 0; i < points.cols(); ++i)
    points.col(i) << static_cast<double>(i % on_a_line), static_cast<double>(i / on_a_line), 0.0;
  const auto sample = subsample(points, 2000);
  ASSERT_EQ(sample.size(), 2000U);
  std::array<int, 10> by_place{}, by_line{};
  for (const auto& p : sample) {
    ++by_place.at(static_cast<std::size_t>(p.x() / 10.0));
    ++by_line.at(static_cast<std::size_t>(p.y() / 200.0));
  }
  for (std::size_t k = 0; k < 10; ++k) {
    EXPECT_NEAR(by_place.at(k), 200, 54) << "four standard deviations of a binomial law";
    EXPECT_NEAR(by_line.at(k), 200, 2) << "spread evenly over the scan";
  }
  EXPECT_EQ(sample, subsample(points, 2000));
}

TEST(PlaneSearch, LeastSquaresAreSquareToThePlaneNotAlongAnAxis) {
  // A steep plane: 4 x + y = 8, with z free, and points 0.1 to either side of it in turn.
  Cloud3 points;
  const Eigen::Vector3d normal = Eigen::Vector3d(4, 1, 0).normalized(), along = Eigen::Vector3d(-1, 4, 0).normalized();
  for (int i = -5; i <= 5; ++i) {
    for (int j = -5; j <= 5; ++j) {
      for (const double side : {0.1, -0.1})
        points.emplace_back(Eigen::Vector3d(2, 0, 0) + side * normal + i * along + Eigen::Vector3d(0, 0, j));
    }
  }
  const Plane plane = total_least_squares(points);
  EXPECT_NEAR(std::abs(plane.normal.dot(normal)), 1.0, 1e-12);
  EXPECT_NEAR(std::abs(plane.height({2, 0, 0})), 0.0, 1e-12);
  EXPECT_NEAR(std::abs(plane.height(points.front())), 0.1, 1e-12);
}

/// A tilted floor, far from the origin, and a smaller wall on it.
struct Room {
  Cloud3 points;
  Eigen::Vector3d corner{150.0, -80.0, 40.0}, a{60.0, 0.0, 6.0}, b{0.0, 40.0, -3.0};
  Eigen::Vector3d up = Eigen::Vector3d(a.cross(b)).normalized();
};
Room room(int on_floor, int on_wall, double noise_mm) {
  Room made;
  Draw draw;
  add_rectangle(made.points, on_floor, {made.corner, made.a, made.b}, noise_mm, draw);
  add_rectangle(made.points, on_wall, {made.corner, made.a, 30.0 * made.up}, noise_mm, draw);
  return made;
}

TEST(PlaneSearch, FindsTheLargestWithItsScatterAndHowManyAreItsOwn) {
  const Room r = room(6000, 2500, 0.02);
  const auto found = find_plane(r.points, 0.1);
  ASSERT_TRUE(found);
  // 0.02 mm over the root of 6000, at a lever of some ten millimetres: a tenth of a milliradian is wide.
  EXPECT_LT(angle_between(found->plane.normal, r.up), 1e-4);
  EXPECT_LT(std::abs(found->plane.height(r.corner + 0.5 * (r.a + r.b))), 0.002);
  EXPECT_NEAR(found->sigma_mm, 0.02, 0.0015) << "a median deviation of 6000 scatters by 1.5 %";
  EXPECT_NEAR(found->limit_mm, 0.1, 0.008) << "five standard deviations";
  // All of the floor, and of the wall no more than the foot of it.
  EXPECT_GE(found->inliers, 5990U);
  EXPECT_LE(found->inliers, 6060U);
}

TEST(PlaneSearch, TheGroundIsWhatAllElseStandsOnNotTheLargest) {
  // 3000 points of floor, a shelf of 5000 over it, 25 mm up, and things on the shelf: it has points on both sides.
  Room r = room(3000, 0, 0.02);
  Draw draw;
  add_rectangle(r.points, 5000, {r.corner + 25.0 * r.up, r.a, r.b}, 0.02, draw);
  for (int i = 0; i < 2000; ++i)
    r.points.emplace_back(r.corner + draw.uniform(draw.random) * r.a + draw.uniform(draw.random) * r.b +
                          (26.0 + 10.0 * draw.uniform(draw.random)) * r.up);
  const auto largest = find_plane(r.points, 0.1);
  const auto ground = find_plane(r.points, 0.1, 0.5, PlaneWanted::ground);
  ASSERT_TRUE(largest);
  ASSERT_TRUE(ground);
  EXPECT_NEAR(std::abs(largest->plane.height(r.corner + 0.5 * r.a)), 25.0, 0.05);
  EXPECT_NEAR(std::abs(ground->plane.height(r.corner + 0.5 * r.a)), 0.0, 0.02);
}

TEST(PlaneSearch, RefitsGoFromANearPlaneToItsOwnPointsAndStayOnIt) {
  const Room r = room(6000, 2500, 0.02);
  const auto searched = find_plane(r.points, 0.1);
  ASSERT_TRUE(searched);
  // Tilted by 3 mrad, which is 0.06 mm at twenty millimetres, and 0.05 mm too high.
  Plane near = searched->plane;
  near.normal = (near.normal + 0.003 * near.normal.unitOrthogonal()).normalized();
  near.distance = near.normal.dot(r.corner + 0.5 * (r.a + r.b)) + 0.05;
  const auto refitted = refit_plane(r.points, near, 0.1);
  ASSERT_TRUE(refitted);
  EXPECT_LT(angle_between(refitted->plane.normal, searched->plane.normal), 1e-5);
  EXPECT_LT(std::abs(refitted->plane.height(r.corner + 0.5 * (r.a + r.b))), 0.002);
  EXPECT_NEAR(refitted->sigma_mm, searched->sigma_mm, 1e-4);
  near.distance += 5.0;
  EXPECT_FALSE(refit_plane({r.points.begin(), r.points.begin() + 6000}, near, 0.1)) << "nothing lies up there";
}

TEST(PlaneSearch, PointsFartherThanTheBoundAreNeverTaken) {
  const Room r = room(6000, 0, 0.08);
  const auto open = find_plane(r.points, 0.2), bounded = find_plane(r.points, 0.2, 0.15);
  ASSERT_TRUE(open);
  ASSERT_TRUE(bounded);
  EXPECT_NEAR(open->limit_mm, 0.4, 0.03);
  EXPECT_EQ(bounded->limit_mm, 0.15);
  EXPECT_LT(bounded->inliers, 5700U) << "1.9 standard deviations hold 94 of 100";
}

TEST(PlaneSearch, WherePointsSpanNoPlaneThereIsNone) {
  EXPECT_FALSE(find_plane({}, 0.1));
  EXPECT_FALSE(find_plane({{0, 0, 0}, {1, 0, 0}}, 0.1));
  EXPECT_FALSE(find_plane(Cloud3(500, Eigen::Vector3d(1, 2, 3)), 0.1));
  Cloud3 line;
  for (int i = 0; i < 500; ++i) line.emplace_back(0.1 * i, 0.2 * i, -0.1 * i);
  EXPECT_FALSE(find_plane(line, 0.1));
}

TEST(PlaneSearch, LocalScatterIsASurfacesNoiseWhateverItsForm) {
  // A cylinder of 12 mm radius, as bark is, 7000 points on 20 x 15 mm; and the same without noise.
  for (const double noise_mm : {0.030, 0.0}) {
    Draw draw;
    Cloud3 points;
    for (int i = 0; i < 7000; ++i) {
      const double turn = 1.25 * draw.uniform(draw.random), radius = 12.0 + noise_mm * draw.normal(draw.random);
      points.emplace_back(20.0 * draw.uniform(draw.random), radius * std::sin(turn), radius * std::cos(turn));
    }
    // Fourteen neighbours of 7000 on 300 mm2 reach 0.44 mm: the cylinder's own bend is below 3 um there. The median of
    // the root of chi squared over its 11 degrees of freedom is 0.97.
    EXPECT_NEAR(local_scatter(points), 0.97 * noise_mm, noise_mm > 0.0 ? 0.0035 : 0.004) << noise_mm;
  }
  EXPECT_TRUE(std::isnan(local_scatter(Cloud3(20, Eigen::Vector3d::Zero()))));
}

TEST(PlaneSearch, SettlingShakesOffAStripOfANeighbouringFace) {
  // A strip that rises by 30 degrees from the face's edge, and a guess that lies 0.1 mm and half a degree off.
  Draw draw;
  Cloud3 points;
  add_rectangle(points, 4000, {Eigen::Vector3d(0, 0, 0), Eigen::Vector3d(10, 0, 0), Eigen::Vector3d(0, 8, 0)}, 0.005,
                draw);
  add_rectangle(points, 400, {Eigen::Vector3d(10, 0, 0), Eigen::Vector3d(0.87, 0, 0.5), Eigen::Vector3d(0, 8, 0)},
                0.005, draw);
  const Plane guess{Eigen::Vector3d(0.0087, 0.0, 1.0).normalized(), 0.1};
  const auto found = settle_plane(points, guess, {});
  ASSERT_TRUE(found);
  EXPECT_LT(angle_between(found->plane.normal, Eigen::Vector3d::UnitZ()), 2e-4);
  EXPECT_LT(std::abs(found->plane.height({5, 4, 0})), 0.001);
  EXPECT_NEAR(found->sigma_mm, 0.005, 0.0005);
  EXPECT_NEAR(found->limit_mm, 4.5 * found->sigma_mm, 1e-12);
  EXPECT_GE(found->inliers, 3990U);
  // Of the strip only what lies below 4.5 standard deviations: a twentieth of it.
  EXPECT_LE(found->inliers, 4035U);
}

TEST(PlaneSearch, SettlingNeverReachesBeyondItsBoundAndAsksForEnoughPoints) {
  const Room r = room(500, 0, 0.1);
  const Plane truth{r.up, r.up.dot(r.corner)};
  const auto bounded = settle_plane(r.points, truth, {.first_mm = 0.2, .farthest_mm = 0.12, .fewest = 80});
  ASSERT_TRUE(bounded);
  EXPECT_EQ(bounded->limit_mm, 0.12);
  EXPECT_LT(bounded->inliers, 420U) << "1.2 standard deviations hold 77 of 100";
  EXPECT_TRUE(settle_plane(r.points, truth, {.first_mm = 1.0, .farthest_mm = 1.0, .fewest = 490}));
  EXPECT_FALSE(settle_plane(r.points, truth, {.first_mm = 1.0, .farthest_mm = 1.0, .fewest = 501}));
  EXPECT_FALSE(settle_plane({}, truth, {}));
}

}  // namespace
}  // namespace canewise
