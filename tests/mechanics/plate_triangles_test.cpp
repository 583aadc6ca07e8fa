// A plate's triangles: whose numbers they take, and what cane is like at a place of one.
#include "scanproc/mechanics/plate_triangles.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <vector>

namespace canewise {
namespace {

/// The unit square by two triangles over its diagonal from 0 to 2.
PlateMesh square() {
  PlateMesh mesh;
  mesh.nodes_mm.resize(2, 4);
  mesh.nodes_mm << 0.0, 3.0, 3.0, 0.0,  //
      0.0, 0.0, 2.0, 2.0;
  mesh.triangles = {{0, 1, 2}, {0, 2, 3}};
  mesh.sides = {{0, 1}, {1, 2}, {0, 2}, {2, 3}, {0, 3}};
  mesh.mid_sides = {{1, 2, 0}, {3, 4, 2}};
  return mesh;
}

PlateModel model() {
  PlateModel model;
  model.mesh = square();
  model.thickness_mm = Eigen::VectorXd::Constant(9, 0.5);
  model.cane.gradient_per_mm = 0.1;
  return model;
}
const std::array<Eigen::Index, 6> kFirst{0, 1, 2, 5, 6, 4};
LocalCane at_corner(const PlateModel& model, int corner) {
  return cane_at(model, kFirst, Eigen::Matrix<double, 6, 1>::Unit(corner));
}

TEST(PlateTriangles, ThicknessPointsAreTheCornersAndThenTheMiddlesOppositeThem) {
  EXPECT_EQ(points_of(square(), 0), kFirst);
  EXPECT_EQ(points_of(square(), 1), (std::array<Eigen::Index, 6>{0, 2, 3, 7, 8, 6}));
  const Eigen::Matrix2Xd places = square().thickness_points_mm();
  for (std::size_t t = 0; t < 2; ++t) {
    const auto points = points_of(square(), t);
    for (std::size_t k = 0; k < 3; ++k) {
      const Eigen::Vector2d middle = 0.5 * (places.col(points.at((k + 1) % 3)) + places.col(points.at((k + 2) % 3)));
      EXPECT_EQ(Eigen::Vector2d(places.col(points.at(3 + k))), middle) << t << " " << k;
    }
  }
}

TEST(PlateTriangles, AnElementStandsOnItsTrianglesCorners) {
  const PlateElement element = element_of(square(), 1);
  EXPECT_NEAR(element.area_mm2(), 3.0, 1e-12);
  // w = x^2/2 + 2 x y, given by its freedoms, is bent by 1 along, not at all across, and twisted by 4.
  Eigen::Matrix<double, 9, 1> bent;
  bent << 0.0, 0.0, 0.0, 16.5, 7.0, 6.0, 0.0, 4.0, 0.0;
  EXPECT_LT((element.curvature(Eigen::Vector3d(0.2, 0.3, 0.5)) * bent - Eigen::Vector3d(1.0, 0.0, 4.0)).norm(), 1e-12);
}

TEST(PlateTriangles, EachNodeHasThreeFreedoms) {
  const std::vector<Eigen::Index> expected{0, 1, 2, 6, 7, 8, 9, 10, 11};
  const Eigen::VectorXd values = Eigen::VectorXd::LinSpaced(12, 100.0, 111.0);
  const auto gathered = gather(square(), 1, values);
  for (int k = 0; k < 9; ++k) {
    EXPECT_EQ(freedom(square(), 1, k), expected[static_cast<std::size_t>(k)]) << k;
    EXPECT_EQ(gathered(k), 100.0 + static_cast<double>(expected[static_cast<std::size_t>(k)])) << k;
  }
}

TEST(LocalCane, ThicknessIsQuadraticBetweenThePoints) {
  PlateModel with = model();
  const Eigen::Matrix2Xd places = with.mesh.thickness_points_mm();
  const auto thickness = [](double x, double y) { return 0.4 + 0.1 * x - 0.03 * x * y + 0.02 * y * y; };
  for (Eigen::Index k = 0; k < 9; ++k) with.thickness_mm(k) = thickness(places(0, k), places(1, k));
  // At areas 0.2, 0.3, 0.5 of (0, 0), (3, 0), (3, 2): x = 2.4, y = 1.
  const LocalCane cane = cane_at(with, kFirst, quadratic_shapes({0.2, 0.3, 0.5}));
  EXPECT_NEAR(cane.thickness_mm, 0.4 + 0.24 - 0.072 + 0.02, 1e-14);
  EXPECT_EQ(cane.factor, 1.0) << "no bark, no sides";
  EXPECT_EQ(cane.gradient_per_mm, 0.0);
  EXPECT_EQ(cane.side, 0.0);
}

// The sheet's middle lies 3.2 - 0.25 under the bark, 0.45 deeper than where the factor is 1.
TEST(LocalCane, IsStifferTowardsTheBark) {
  PlateModel with = model();
  with.bark_mm = Eigen::VectorXd::Constant(9, 3.2);
  const LocalCane cane = at_corner(with, 0);
  EXPECT_NEAR(cane.under_bark_mm, 0.45, 1e-14);
  EXPECT_NEAR(cane.factor, std::exp(-0.045), 1e-14);
  EXPECT_EQ(cane.gradient_per_mm, 0.1);
}

TEST(LocalCane, TheRightIsAsMuchStifferThanTheLeftAsSaid) {
  PlateModel with = model();
  with.side = Eigen::VectorXd::Zero(9);
  with.side(0) = -1.0, with.side(1) = 1.0;
  with.left_right = 0.2;
  EXPECT_NEAR(at_corner(with, 0).factor, 0.9, 1e-14);
  EXPECT_NEAR(at_corner(with, 1).factor, 1.1, 1e-14);
  EXPECT_NEAR(at_corner(with, 2).factor, 1.0, 1e-14) << "the middle";
  // Logarithms of 1 + s/2 for a little more and less.
  constexpr double step = 1e-5;
  with.left_right = 0.2 + step;
  const double more = std::log(at_corner(with, 0).factor);
  with.left_right = 0.2 - step;
  const double less = std::log(at_corner(with, 0).factor);
  with.left_right = 0.2;
  EXPECT_NEAR(at_corner(with, 0).side, (more - less) / (2.0 * step), 1e-8);
}

TEST(LocalCane, BendingStiffnessGoesByTheCubeAndTheCaneThatThicknessAdds) {
  PlateModel with = model();
  EXPECT_NEAR(at_corner(with, 0).cube(), 0.125 / 12.0, 1e-16);
  EXPECT_NEAR(at_corner(with, 0).cube_by_thickness(), 0.0625, 1e-15) << "h^2/4";
  with.bark_mm = Eigen::VectorXd::Constant(9, 3.0);
  constexpr double step = 1e-5;
  const auto cube = [&](double thickness_mm) {
    with.thickness_mm.setConstant(thickness_mm);
    return at_corner(with, 0).cube();
  };
  const double slope = (cube(0.5 + step) - cube(0.5 - step)) / (2.0 * step);
  with.thickness_mm.setConstant(0.5);
  EXPECT_NEAR(at_corner(with, 0).cube_by_thickness(), slope, 1e-9) << "the sheet's middle comes nearer to the bark";
}

TEST(ForTriangles, EachIsVisitedOnceByAPartOfItsOwn) {
  for (const std::size_t count : {std::size_t{0}, std::size_t{3}, std::size_t{400}, std::size_t{5001}}) {
    PlateMesh mesh;
    mesh.triangles.resize(count);
    std::vector<std::vector<std::size_t>> seen(kParallelParts);
    for_triangles(mesh, [&](std::size_t part, std::size_t t) { seen.at(part).push_back(t); });
    std::vector<std::size_t> all;
    for (const auto& part : seen) all.insert(all.end(), part.begin(), part.end());
    ASSERT_EQ(all.size(), count);
    for (std::size_t t = 0; t < count; ++t) EXPECT_EQ(all[t], t);
  }
}

}  // namespace
}  // namespace canewise
