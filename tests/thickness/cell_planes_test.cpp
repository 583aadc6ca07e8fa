// Each cell's plane is the one that most of its bins lie on: a few wild bins cannot pull it.
#include "scanproc/thickness/cell_planes.h"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <utility>
#include <vector>

namespace canewise {
namespace {

using Index = Eigen::Index;
using Heights = std::function<double(double x_mm, double y_mm)>;
const Grid kGrid{0.4, 8, 6};
constexpr double kHeight_mm = 1.3, kAlong = 0.05, kAcross = -0.12;

double on_plane(double x_mm, double y_mm) { return kHeight_mm + kAlong * x_mm + kAcross * y_mm; }

/// Four points in every bin, off its middle, on `heights`.
Bins bins_of(const Heights& heights) {
  Bins bins(kGrid);
  for (Index r = 0; r < bins.rows; ++r) {
    for (Index c = 0; c < bins.columns; ++c) {
      for (const auto& [x, y] : {std::pair{0.05, 0.01}, {0.05, -0.03}, {-0.02, 0.01}, {-0.02, -0.03}}) {
        bins.moments[static_cast<std::size_t>(r * bins.columns + c)].add(x, y,
                                                                         heights(bins.x_mm(r) + x, bins.y_mm(c) + y));
      }
    }
  }
  return bins;
}
void raise(Bins& bins, Index row, Index column, double by_mm) {
  PlaneMoments& m = bins.moments[static_cast<std::size_t>(row * bins.columns + column)];
  m.z += by_mm * m.n;
}

TEST(CellPlanes, OfAPlaneAreThatPlaneEverywhere) {
  const CellPlanes cells = cell_planes(bins_of(on_plane));
  ASSERT_EQ(cells.planes.size(), 48U);
  for (Index r = 0; r < kGrid.rows; ++r) {
    for (Index c = 0; c < kGrid.columns; ++c) {
      const RobustPlane& cell = cells.at(r, c);
      ASSERT_TRUE(cell.valid);
      EXPECT_NEAR(cell.plane.height, on_plane(kGrid.x_mm(r), kGrid.y_mm(c)), 1e-8) << r << ' ' << c;
      EXPECT_NEAR(cell.plane.slope_x, kAlong, 1e-7);
      EXPECT_NEAR(cell.plane.slope_y, kAcross, 1e-7);
      EXPECT_EQ(cell.scatter_mm, 1e-4) << "no scan is better than that";
    }
  }
}

using Places = std::vector<std::pair<Index, Index>>;
/// Cell (3, 2), whose footprint is rows 4 to 9 and columns 3 to 6, where these bins lie 0.3 mm too high.
RobustPlane with_wild(const Places& wild) {
  Bins bins = bins_of(on_plane);
  for (const auto& [row, column] : wild) raise(bins, row, column, 0.3);
  return cell_planes(bins).at(3, 2);
}
void expect_not_pulled(const RobustPlane& cell) {
  EXPECT_NEAR(cell.plane.height, on_plane(kGrid.x_mm(3), kGrid.y_mm(2)), 1e-8);
  EXPECT_NEAR(cell.plane.slope_x, kAlong, 1e-7);
  EXPECT_NEAR(cell.plane.slope_y, kAcross, 1e-7);
  EXPECT_EQ(cell.scatter_mm, 1e-4);
}

TEST(CellPlanes, AreNotPulledByAWildBinNorByThreeThatLieApart) {
  expect_not_pulled(with_wild({{4, 3}}));
  expect_not_pulled(with_wild({{9, 6}}));
  expect_not_pulled(with_wild({{4, 3}, {9, 6}}));
  expect_not_pulled(with_wild({{4, 3}, {9, 6}, {6, 5}}));
}

// Least squares alone tilt so far towards them that no bin lies four scatters off.
TEST(CellPlanes, AreNotPulledByTwoWildBinsInACorner) {
  expect_not_pulled(with_wild({{4, 3}, {4, 4}}));
  expect_not_pulled(with_wild({{4, 3}, {5, 3}}));
  expect_not_pulled(with_wild({{9, 5}, {9, 6}}));
}

TEST(CellPlanes, SayHowFarBinsScatter) {
  // Up and down by 10 um like a chessboard: no plane follows, and the median deviation is 10 um.
  Bins bins = bins_of(on_plane);
  for (Index r = 0; r < bins.rows; ++r)
    for (Index c = 0; c < bins.columns; ++c) raise(bins, r, c, (r + c) % 2 == 0 ? 0.010 : -0.010);
  const RobustPlane cell = cell_planes(bins).at(3, 2);
  EXPECT_NEAR(cell.scatter_mm, 0.014826, 0.0003) << "as a normal distribution's standard deviation";
  EXPECT_NEAR(cell.plane.height, on_plane(kGrid.x_mm(3), kGrid.y_mm(2)), 1e-4);
}

TEST(CellPlanes, NeedFourBins) {
  Bins bins(kGrid);
  const Bins all = bins_of(on_plane);
  const auto fill = [&](Index row, Index column) {
    const auto k = static_cast<std::size_t>(row * bins.columns + column);
    bins.moments[k] = all.moments[k];
  };
  EXPECT_FALSE(cell_planes(bins).at(3, 2).valid);
  fill(6, 4), fill(6, 5), fill(7, 4);
  EXPECT_FALSE(cell_planes(bins).at(3, 2).valid);
  fill(7, 5);
  const CellPlanes cells = cell_planes(bins);
  ASSERT_TRUE(cells.at(3, 2).valid);
  EXPECT_NEAR(cells.at(3, 2).plane.height, on_plane(kGrid.x_mm(3), kGrid.y_mm(2)), 1e-8);
  EXPECT_FALSE(cells.at(7, 5).valid) << "another cell, that has none of the four";
}

TEST(CellPlanes, ResidualIsAPointsHeightAboveItsCellsPlane) {
  const CellPlanes cells = cell_planes(bins_of(on_plane));
  // Not at the centre of cell (3, 2), so that both slopes count.
  const double x = kGrid.x_mm(3) + 0.15, y = kGrid.y_mm(2) - 0.18;
  EXPECT_NEAR(cells.residual_mm({x, y, on_plane(x, y) + 0.02}, 3, 2), 0.02, 1e-7);
  EXPECT_NEAR(cells.residual_mm({x, y, on_plane(x, y) - 0.03}, 3, 2), -0.03, 1e-7);
}

}  // namespace
}  // namespace canewise
