// Beside PlateMeshes and TriangleFinding in plate_properties_test.cpp: how a mesh is counted and how fine it is.
#include "scanproc/mechanics/plate_mesh.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <set>

namespace canewise {
namespace {

/// A strip of 20 by 10 mm with a line of support 14 mm from its start.
PlateOutline strip() {
  return {{{0.0, -5.0}, {14.0, -5.0}, {20.0, -5.0}, {20.0, 5.0}, {14.0, 5.0}, {0.0, 5.0}},
          {{Eigen::Vector2d(14.0, -5.0), Eigen::Vector2d(14.0, 5.0)}}};
}

TEST(PlateMeshSpec, ThicknessIsAskedForAtCornersFirstAndThenAtTheMiddlesOfTheSides) {
  const PlateMesh mesh = mesh_plate(strip(), 2.0);
  const Eigen::Matrix2Xd points = mesh.thickness_points_mm();
  ASSERT_EQ(points.cols(), mesh.nodes() + static_cast<Eigen::Index>(mesh.sides.size()));
  EXPECT_EQ(points.leftCols(mesh.nodes()), mesh.nodes_mm);
  for (std::size_t k = 0; k < mesh.sides.size(); ++k) {
    const Eigen::Vector2d a = mesh.nodes_mm.col(mesh.sides[k][0]), b = mesh.nodes_mm.col(mesh.sides[k][1]);
    EXPECT_LT((points.col(mesh.nodes() + static_cast<Eigen::Index>(k)) - 0.5 * (a + b)).norm(), 1e-12);
  }
}

// Euler's count of a piece without holes: corners - sides + triangles = 1.
TEST(PlateMeshSpec, NoSideAndNoCornerIsCountedTwice) {
  const PlateMesh mesh = mesh_plate(strip(), 1.0);
  EXPECT_EQ(
      mesh.nodes() - static_cast<Eigen::Index>(mesh.sides.size()) + static_cast<Eigen::Index>(mesh.triangles.size()),
      1);
  EXPECT_EQ(std::set(mesh.sides.begin(), mesh.sides.end()).size(), mesh.sides.size());
  for (const auto& side : mesh.sides) EXPECT_LT(side[0], side[1]);
}

// An equal triangle of side s covers sqrt(3)/4 s^2; at the rim they are a little larger.
TEST(PlateMeshSpec, ItsTrianglesAreOfTheSpacingAskedFor) {
  for (const double spacing_mm : {0.5, 1.0}) {
    const double equal = 200.0 / (std::sqrt(3.0) / 4.0 * spacing_mm * spacing_mm);
    const auto count = static_cast<double>(mesh_plate(strip(), spacing_mm).triangles.size());
    EXPECT_GT(count, 0.8 * equal) << spacing_mm;
    EXPECT_LT(count, 1.15 * equal) << spacing_mm;
  }
}

TEST(PlateMeshSpec, EveryCornerOfTheOutlineIsANodeAndTheLineOfSupportIsCovered) {
  const PlateMesh mesh = mesh_plate(strip(), 1.3);
  for (const Eigen::Vector2d& corner : strip().polygon_mm)
    EXPECT_LT((mesh.nodes_mm.colwise() - corner).colwise().norm().minCoeff(), 1e-12) << corner.transpose();
  std::vector<double> on_line;
  for (Eigen::Index n = 0; n < mesh.nodes(); ++n)
    if (std::abs(mesh.nodes_mm(0, n) - 14.0) < 1e-9) on_line.push_back(mesh.nodes_mm(1, n));
  std::sort(on_line.begin(), on_line.end());
  ASSERT_GE(on_line.size(), 9U);  // Ten millimetres in pieces of at most 1.3.
  EXPECT_EQ(on_line.front(), -5.0);
  EXPECT_EQ(on_line.back(), 5.0);
  for (std::size_t k = 1; k < on_line.size(); ++k) EXPECT_LT(on_line[k] - on_line[k - 1], 1.3 + 1e-9);
}

TEST(PlateMeshSpec, LinesThatCrossAreRefused) {
  PlateOutline crossed = strip();
  crossed.lines_mm = {{Eigen::Vector2d(0.0, -5.0), Eigen::Vector2d(14.0, 5.0)},
                      {Eigen::Vector2d(0.0, 5.0), Eigen::Vector2d(20.0, -5.0)}};
  EXPECT_ANY_THROW((void)mesh_plate(crossed, 1.0));
}

TEST(PlateMeshSpec, APlaceOnANodeIsFoundThereAndOneOutsideIsNowhere) {
  const PlateMesh mesh = mesh_plate(strip(), 1.0);
  const TriangleFinder finder(mesh);
  for (Eigen::Index n = 0; n < mesh.nodes(); n += 7) {
    const auto place = finder.find(mesh.nodes_mm.col(n));
    ASSERT_GE(place.triangle, 0) << mesh.nodes_mm.col(n).transpose();
    Eigen::Index corner = 0;
    EXPECT_NEAR(place.area.maxCoeff(&corner), 1.0, 1e-9);
    EXPECT_EQ(mesh.triangles.at(static_cast<std::size_t>(place.triangle)).at(static_cast<std::size_t>(corner)), n);
  }
  for (const Eigen::Vector2d& outside : std::vector<Eigen::Vector2d>{{-0.1, 0.0}, {20.1, 0.0}, {7.0, 5.1}, {7.0, -5.1}})
    EXPECT_EQ(finder.find(outside).triangle, -1) << outside.transpose();
}

}  // namespace
}  // namespace canewise
