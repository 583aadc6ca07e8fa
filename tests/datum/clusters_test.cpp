// What stands apart in a scan, and its box.
#include "scanproc/datum/clusters.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <random>
#include <vector>

#include "scanproc/datum/instrument.h"

namespace canewise {
namespace {

Eigen::Matrix3Xd columns_of(const std::vector<Eigen::Vector3d>& points) {
  Eigen::Matrix3Xd columns(3, static_cast<Eigen::Index>(points.size()));
  for (std::size_t i = 0; i < points.size(); ++i) columns.col(static_cast<Eigen::Index>(i)) = points[i];
  return columns;
}

std::vector<Eigen::Vector3d> row_of(std::size_t count, const Eigen::Vector3d& from) {
  std::vector<Eigen::Vector3d> points;
  for (std::size_t i = 0; i < count; ++i)
    points.emplace_back(from + Eigen::Vector3d(0.2 * static_cast<double>(i), 0, 0));
  return points;
}

TEST(Clusters, JoinWhatIsNearerThanHalfTheGapAndPartWhatIsFartherThanOneAndThreeQuarters) {
  std::mt19937_64 random(4);
  std::uniform_real_distribution<double> place(-50.0, 50.0);
  std::normal_distribution<double> normal;
  constexpr double gap_mm = 1.6;
  for (int k = 0; k < 2000; ++k) {
    const Eigen::Vector3d at(place(random), place(random), place(random));
    const Eigen::Vector3d way = Eigen::Vector3d(normal(random), normal(random), normal(random)).normalized();
    ASSERT_EQ(find_clusters(columns_of({at, at + 0.499 * gap_mm * way}), gap_mm, 1).size(), 1U) << k;
    ASSERT_EQ(find_clusters(columns_of({at, at + 1.751 * gap_mm * way}), gap_mm, 1).size(), 2U) << k;
  }
}

TEST(Clusters, HangTogetherThroughTheirNeighbours) {
  // A chain of 30 mm whose links are 0.2 mm long.
  const auto found = find_clusters(columns_of(row_of(151, {0, 0, 0})), 1.0, 1);
  ASSERT_EQ(found.size(), 1U);
  EXPECT_EQ(found[0].points.size(), 151U);
}

TEST(Clusters, ComeLargestFirstAndSmallOnesAreLeftOut) {
  std::vector<Eigen::Vector3d> points;
  for (const auto& row : {row_of(5, {0, 0, 0}), row_of(3, {0, 20, 0}), row_of(9, {0, 0, 20}), row_of(4, {40, 0, 0})})
    points.insert(points.end(), row.begin(), row.end());
  const auto found = find_clusters(columns_of(points), 1.0, 4);
  ASSERT_EQ(found.size(), 3U);
  EXPECT_EQ(found[0].points, (std::vector<Eigen::Index>{8, 9, 10, 11, 12, 13, 14, 15, 16}));
  EXPECT_EQ(found[1].points, (std::vector<Eigen::Index>{0, 1, 2, 3, 4}));
  EXPECT_EQ(found[2].points, (std::vector<Eigen::Index>{17, 18, 19, 20}));
  EXPECT_TRUE(find_clusters(Eigen::Matrix3Xd(3, 0), 1.0, 1).empty());
}

TEST(Clusters, HaveABoxAlongTheirOwnAxesThatFewOutermostPointsDoNotWiden) {
  const Eigen::Quaterniond turn = Eigen::Quaterniond(0.7, -0.2, 0.5, 0.4).normalized();
  const Eigen::Vector3d middle(120.0, -40.0, 7.0);
  std::vector<Eigen::Vector3d> points;
  for (int i = -20; i <= 20; ++i) {
    for (int j = -10; j <= 10; ++j) {
      for (int k = -2; k <= 2; ++k) points.emplace_back(middle + turn * Eigen::Vector3d(0.5 * j, 0.5 * k, 0.5 * i));
    }
  }
  // 4305 points, of which one in 400 is trimmed at each end: three more on either end count for nothing.
  for (const double z : {10.4, 10.8, 11.2}) {
    points.emplace_back(middle + turn * Eigen::Vector3d(0, 0, z));
    points.emplace_back(middle + turn * Eigen::Vector3d(0, 0, -z));
  }
  const auto found = find_clusters(columns_of(points), 1.5, 100);
  ASSERT_EQ(found.size(), 1U);
  const Cluster& box = found[0];
  EXPECT_LT((box.middle - middle).norm(), 1e-9);
  EXPECT_LT((box.extent_mm - Eigen::Vector3d(20.0, 10.0, 2.0)).norm(), 1e-9);
  // Longest axis first: z, x and y of the box as it was built, but for their signs.
  EXPECT_NEAR(std::abs(box.axes.col(0).dot(turn * Eigen::Vector3d::UnitZ())), 1.0, 1e-12);
  EXPECT_NEAR(std::abs(box.axes.col(1).dot(turn * Eigen::Vector3d::UnitX())), 1.0, 1e-12);
  EXPECT_NEAR(std::abs(box.axes.col(2).dot(turn * Eigen::Vector3d::UnitY())), 1.0, 1e-12);
}

Cluster box(double length_mm, double width_mm, double height_mm) {
  Cluster cluster;
  cluster.extent_mm << length_mm, width_mm, height_mm;
  return cluster;
}

TEST(Clusters, OfAnyInstrumentsReedAreReedSized) {
  for (const Instrument& instrument : kInstruments) {
    for (const double length : {instrument.length_mm.low, instrument.length_mm.high}) {
      for (const double width : {instrument.tip_width_mm.low, instrument.tip_width_mm.high})
        EXPECT_TRUE(is_reed_sized(box(length, width, instrument.stock_height_mm.high))) << instrument.name;
    }
  }
}

TEST(Clusters, OfOtherThingsAreNot) {
  EXPECT_TRUE(is_reed_sized(box(68, 13, 3)));
  // A half, a ruler, a ball's or a block's breadth, a card, a box: each of a reed's size but for one dimension.
  EXPECT_FALSE(is_reed_sized(box(34, 13, 3)));
  EXPECT_FALSE(is_reed_sized(box(150, 13, 3)));
  EXPECT_FALSE(is_reed_sized(box(68, 8, 3)));
  EXPECT_FALSE(is_reed_sized(box(68, 40, 3)));
  EXPECT_FALSE(is_reed_sized(box(68, 13, 12)));
}

}  // namespace
}  // namespace canewise
