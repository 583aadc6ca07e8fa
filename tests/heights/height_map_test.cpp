#include "scanproc/heights/height_map.h"

#include <gtest/gtest.h>

#include <cmath>

namespace canewise {
namespace {

HeightMap map_of(std::size_t columns, std::size_t rows) {
  HeightMap map;
  map.columns = columns, map.rows = rows;
  map.step_x_mm = 0.25, map.step_y_mm = 0.5;
  map.origin_x_mm = -3.0, map.origin_y_mm = 7.0;
  for (std::size_t i = 0; i < columns * rows; ++i) map.z_mm.push_back(0.125 * static_cast<double>(i));
  return map;
}

TEST(HeightMap, ANodeLiesWhereItsColumnAndRowSay) {
  HeightMap map = map_of(3, 2);
  map.format = "by hand";
  map.notes = {Message{"mesh.facets"}};
  const Cloud cloud = cloud_from(map);
  ASSERT_EQ(cloud.points_mm.cols(), 6);
  EXPECT_EQ(cloud.points_mm.col(0), Eigen::Vector3d(-3.0, 7.0, 0.0));
  EXPECT_EQ(cloud.points_mm.col(2), Eigen::Vector3d(-2.5, 7.0, 0.25)) << "x runs fastest";
  EXPECT_EQ(cloud.points_mm.col(4), Eigen::Vector3d(-2.75, 7.5, 0.5));
  EXPECT_EQ(cloud.format, "by hand");
  EXPECT_EQ(cloud.notes, map.notes);
  EXPECT_TRUE(cloud.unit_known) << "a height map is in millimetres";
}

TEST(HeightMap, ANodeThatWasNotMeasuredIsNoPointAndNoDamage) {
  HeightMap map = map_of(3, 2);
  map.z_mm[1] = map.z_mm[5] = std::nan("");
  const Cloud cloud = cloud_from(map);
  ASSERT_EQ(cloud.points_mm.cols(), 4);
  EXPECT_EQ(cloud.points_mm.col(1), Eigen::Vector3d(-2.5, 7.0, 0.25)) << "the others keep their places";
  EXPECT_EQ(cloud.points_mm.col(3), Eigen::Vector3d(-2.75, 7.5, 0.5));
  EXPECT_EQ(cloud.dropped_non_finite, 0U);
}

TEST(HeightMap, ALargeMapIsTheSameInEveryPart) {
  // Enough nodes to be worked on in parts, whose ends lie within rows.
  HeightMap map = map_of(151, 201);
  for (std::size_t i = 0; i < map.z_mm.size(); i += 13) map.z_mm[i] = std::nan("");
  const Cloud cloud = cloud_from(map);
  Eigen::Index at = 0;
  for (std::size_t i = 0; i < map.z_mm.size(); ++i) {
    if (i % 13 == 0) continue;
    ASSERT_LT(at, cloud.points_mm.cols());
    ASSERT_EQ(cloud.points_mm.col(at++),
              Eigen::Vector3d(-3.0 + 0.25 * static_cast<double>(i % 151), 7.0 + 0.5 * static_cast<double>(i / 151),
                              0.125 * static_cast<double>(i)));
  }
  EXPECT_EQ(at, cloud.points_mm.cols());
}

}  // namespace
}  // namespace canewise
