// Balls among the parts of a scan: where they are, how large, and how well that is known.
#include "scanproc/datum/spheres.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <numbers>
#include <optional>
#include <random>
#include <utility>
#include <vector>

namespace canewise {
namespace {

constexpr double kNoise_mm = 0.005;

/// A ball of which a scanner that looks along -`from` sees a cap of so many degrees to each side, on a square raster.
struct SeenBall {
  Eigen::Vector3d centre = Eigen::Vector3d::Zero();
  double radius = 4.0;
  double cap_deg = 64.0;
  Eigen::Vector3d from = Eigen::Vector3d::UnitZ();
  double raster = 0.15;
};

struct Scan {
  std::vector<Eigen::Vector3d> points;
  std::mt19937_64 random{31};

  void add(const SeenBall& ball) {
    std::normal_distribution<double> normal(0.0, kNoise_mm);
    const Eigen::Quaterniond turn = Eigen::Quaterniond::FromTwoVectors(Eigen::Vector3d::UnitZ(), ball.from);
    const double rim = ball.radius * std::sin(ball.cap_deg * std::numbers::pi / 180.0);
    for (double x = -rim; x < rim; x += ball.raster) {
      for (double y = -rim; y < rim; y += ball.raster) {
        if (x * x + y * y > rim * rim) continue;
        const Eigen::Vector3d out(x, y, std::sqrt(ball.radius * ball.radius - x * x - y * y));
        points.emplace_back(ball.centre + turn * ((1.0 + normal(random) / ball.radius) * out));
      }
    }
  }
  [[nodiscard]] std::vector<Sphere> spheres(std::optional<double> diameter_mm = {}) const {
    Eigen::Matrix3Xd columns(3, static_cast<Eigen::Index>(points.size()));
    for (std::size_t i = 0; i < points.size(); ++i) columns.col(static_cast<Eigen::Index>(i)) = points[i];
    return find_spheres(columns, find_clusters(columns, 1.0, 60), diameter_mm);
  }
};

const Eigen::Vector3d kFar(130.0, -75.0, 210.0);

TEST(Spheres, AreFoundWithCentreRadiusAndScatter) {
  Scan scan;
  scan.add({.centre = kFar, .radius = 4.0});
  const auto found = scan.spheres();
  ASSERT_EQ(found.size(), 1U);
  // 1800 points of 5 um fix the centre to 0.8 um, the radius to 0.6 um (least squares over the cap).
  EXPECT_LT((found[0].centre_mm - kFar).norm(), 0.0035);
  EXPECT_NEAR(found[0].radius_mm, 4.0, 0.0025);
  EXPECT_NEAR(found[0].residual_mm, kNoise_mm, 0.0005);
  EXPECT_NEAR(static_cast<double>(found[0].points), static_cast<double>(scan.points.size()), 5.0);
}

TEST(Spheres, CovarianceIsThatOfLeastSquaresWithAFreeRadius) {
  // Independent noise of sigma along the radius: sigma^2 (J' J)^-1 with rows J = (-u, -1), u from the centre outwards
  // [Shakarji1998]. Seen from aside, so that an axis taken for another would show: the centre is sure across the line
  // of sight, three times less along it.
  const Eigen::Vector3d from = Eigen::Vector3d(2.0, -1.0, 1.0).normalized();
  double along = 0.0, across = 0.0;
  constexpr int balls = 4;
  for (int k = 0; k < balls; ++k) {
    Scan scan;
    scan.random.seed(static_cast<std::uint64_t>(k) + 1);
    scan.add({.centre = kFar, .radius = 4.0, .from = from});
    Eigen::Matrix4d normal = Eigen::Matrix4d::Zero();
    for (const auto& p : scan.points) {
      Eigen::Vector4d row;
      row << -(p - kFar).normalized(), -1.0;
      normal += row * row.transpose();
    }
    const Eigen::Matrix3d expected = kNoise_mm * kNoise_mm * Eigen::Matrix3d(normal.inverse().topLeftCorner<3, 3>());
    const auto found = scan.spheres();
    ASSERT_EQ(found.size(), 1U);
    const Eigen::Vector3d side = from.unitOrthogonal(), other = from.cross(side);
    along += from.dot(found[0].covariance * from) / from.dot(expected * from) / balls;
    across += (side.dot(found[0].covariance * side) + other.dot(found[0].covariance * other)) /
              (side.dot(expected * side) + other.dot(expected * other)) / balls;
    EXPECT_GT(from.dot(expected * from), 6.0 * side.dot(expected * side)) << "the case tells the axes apart";
  }
  // From the scatter of a hundred blocks: 15 % a ball and direction, 8 % for the mean of four.
  EXPECT_NEAR(along, 1.0, 0.3);
  EXPECT_NEAR(across, 1.0, 0.3);
}

TEST(Spheres, ComeLargestCapFirstAndAKnownDiameterKeepsOthersOut) {
  Scan scan;
  const Eigen::Vector3d small = kFar + Eigen::Vector3d(30, 0, 0);
  scan.add({.centre = small, .radius = 4.0});
  scan.add({.centre = kFar, .radius = 5.0});
  const auto both = scan.spheres();
  ASSERT_EQ(both.size(), 2U);
  EXPECT_NEAR(both[0].radius_mm, 5.0, 0.003);
  EXPECT_NEAR(both[1].radius_mm, 4.0, 0.003);
  EXPECT_GT(both[0].points, both[1].points);
  // A diameter, not a radius.
  const auto one = scan.spheres(8.0);
  ASSERT_EQ(one.size(), 1U);
  EXPECT_LT((one[0].centre_mm - small).norm(), 0.01);
  EXPECT_TRUE(scan.spheres(4.0).empty());
}

TEST(Spheres, ACapOfLessThan35DegreesToEachSideDoesNotCount) {
  for (const auto& [cap_deg, counts] : {std::pair{32.0, false}, std::pair{40.0, true}}) {
    Scan scan;
    scan.add({.centre = kFar, .radius = 6.0, .cap_deg = cap_deg, .from = Eigen::Vector3d(0.6, 0.0, 0.8)});
    EXPECT_EQ(scan.spheres().size(), counts ? 1U : 0U) << cap_deg;
  }
}

TEST(Spheres, OtherThingsAreNone) {
  Scan flat;
  std::normal_distribution<double> normal(0.0, kNoise_mm);
  for (double x = 0.0; x < 12.0; x += 0.15) {
    for (double y = 0.0; y < 12.0; y += 0.15)
      flat.points.emplace_back(kFar + Eigen::Vector3d(x, y, normal(flat.random)));
  }
  EXPECT_TRUE(flat.spheres().empty());
  // Of more than 40 mm diameter.
  Scan large;
  large.add({.centre = kFar, .radius = 22.0, .cap_deg = 45.0, .raster = 0.3});
  EXPECT_TRUE(large.spheres().empty());
  EXPECT_TRUE(find_spheres(Eigen::Matrix3Xd(3, 0), {}, {}).empty());
}

TEST(Spheres, AreLookedForInTheGivenPartsAlone) {
  Scan scan;
  scan.add({.centre = kFar, .radius = 4.0});
  Eigen::Matrix3Xd columns(3, static_cast<Eigen::Index>(scan.points.size()));
  for (std::size_t i = 0; i < scan.points.size(); ++i) columns.col(static_cast<Eigen::Index>(i)) = scan.points[i];
  EXPECT_TRUE(find_spheres(columns, {}, {}).empty());
}

}  // namespace
}  // namespace canewise
