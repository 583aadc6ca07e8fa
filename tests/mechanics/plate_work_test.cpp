// Bending work of a triangle and what a compliance's derivatives are made of, by closed forms of one bent evenly.
#include "scanproc/mechanics/plate_work.h"

#include <gtest/gtest.h>

#include <cmath>

namespace canewise {
namespace {

/// One right-angled triangle of 3 by 2 mm.
PlateModel model(double thickness_mm) {
  PlateModel model;
  model.mesh.nodes_mm.resize(2, 3);
  model.mesh.nodes_mm << 0.0, 3.0, 0.0,  //
      0.0, 0.0, 2.0;
  model.mesh.triangles = {{0, 1, 2}};
  model.mesh.sides = {{0, 1}, {1, 2}, {0, 2}};
  model.mesh.mid_sides = {{1, 2, 0}};
  model.thickness_mm = Eigen::VectorXd::Constant(6, thickness_mm);
  return model;
}

/// Freedoms of w = (a x^2 + b y^2 + c x y)/2, whose curvature is (a, b, c) everywhere.
Eigen::Matrix<double, 9, 1> bent(const Eigen::Vector3d& curvature) {
  const double a = curvature(0), b = curvature(1), c = curvature(2);
  Eigen::Matrix<double, 9, 1> freedoms;
  freedoms << 0.0, 0.0, 0.0, 4.5 * a, 3.0 * a, 1.5 * c, 2.0 * b, c, 2.0 * b;
  return freedoms;
}
const Eigen::Vector3d kCurvature(0.3, -0.2, 0.5);

Eigen::Matrix3d stiffness() {
  Eigen::Matrix3d q;
  q << 1000.0, 50.0, 0.0,  //
      50.0, 400.0, 0.0,    //
      0.0, 0.0, 120.0;
  return q;
}

WorkSums sums_of(const PlateModel& model, const Eigen::Matrix3d& q = stiffness()) {
  WorkSums sums;
  sums.by_thickness = Eigen::VectorXd::Zero(6);
  sums.add(bending_triangle(model, 0), bent(kCurvature), bent(kCurvature), q);
  return sums;
}
// k' Q k: 1000 x 0.09 + 400 x 0.04 - 2 x 50 x 0.06 + 120 x 0.25.
constexpr double kStress = 90.0 + 16.0 - 6.0 + 30.0;
constexpr double kArea_mm2 = 3.0;

TEST(BendingTriangle, ItsPointsShareItsAreaAndKnowItsCane) {
  PlateModel wedge = model(0.0);
  wedge.thickness_mm << 0.2, 0.8, 0.2, 0.5, 0.5, 0.2;  // 0.2 + 0.2 x
  const BendingTriangle triangle = bending_triangle(wedge, 0);
  EXPECT_EQ(triangle.six, (std::array<Eigen::Index, 6>{0, 1, 2, 4, 5, 3}));
  double area = 0.0, squares = 0.0, cubes = 0.0;
  for (const auto& point : triangle.points) {
    EXPECT_NEAR(point.shapes.sum(), 1.0, 1e-14);
    area += point.area_mm2;
    squares += point.area_mm2 * point.cube_by_thickness;
    cubes += point.area_mm2 * point.cube;
  }
  EXPECT_NEAR(area, kArea_mm2, 1e-12);
  // Means over a triangle whose height grows from 0.2 at two corners to 0.8 at one: of its square 0.18, of its cube
  // 0.0896; area coordinates add up to 1.
  EXPECT_NEAR(squares, kArea_mm2 * 0.18 / 4.0, 1e-12);
  EXPECT_NEAR(cubes, kArea_mm2 * 0.0896 / 12.0, 1e-12);
  EXPECT_NEAR(triangle.cubes.sum(), cubes, 1e-15);
}

TEST(WorkSums, OfEvenBendingAreTheClosedForms) {
  const WorkSums sums = sums_of(model(0.6));
  constexpr double cube = 0.216 / 12.0;
  EXPECT_LT((sums.bending - kArea_mm2 * cube * kCurvature * kCurvature.transpose()).norm(), 1e-14);
  // By thickness: minus A h^2/4 k' Q k, all of it on the middles, because corner shapes have no mean.
  const double all = -kArea_mm2 * 0.09 * kStress;
  EXPECT_LT(sums.by_thickness.head<3>().cwiseAbs().maxCoeff(), 1e-11);
  for (int k = 3; k < 6; ++k) EXPECT_NEAR(sums.by_thickness(k), all / 3.0, 1e-10) << k;
  EXPECT_EQ(sums.rest, Eigen::Vector2d::Zero()) << "neither bark nor sides";
}

TEST(WorkSums, OfTwoStatesAreWhatOneDoesOnTheOther) {
  const Eigen::Vector3d other(-0.1, 0.4, 0.2);
  WorkSums sums;
  sums.by_thickness = Eigen::VectorXd::Zero(6);
  sums.add(bending_triangle(model(0.6), 0), bent(kCurvature), bent(other), stiffness());
  // k' Q o: 1000 x 0.3 x -0.1 + 400 x -0.2 x 0.4 + 50 (0.3 x 0.4 + -0.2 x -0.1) + 120 x 0.5 x 0.2.
  constexpr double stress = -30.0 - 32.0 + 7.0 + 12.0;
  EXPECT_NEAR(sums.by_thickness.sum(), -kArea_mm2 * 0.09 * stress, 1e-10);
  EXPECT_LT((sums.bending - kArea_mm2 * 0.018 * kCurvature * other.transpose()).norm(), 1e-14);
}

TEST(WorkSums, GradientAndSidesCountWithTheWorkTheyAct) {
  PlateModel with = model(0.6);
  with.cane.gradient_per_mm = 0.1;
  with.bark_mm = Eigen::VectorXd::Constant(6, 3.3);  // The middle lies 0.5 deeper than where the factor is 1.
  with.side = Eigen::VectorXd::Constant(6, 1.0);
  with.left_right = 0.2;
  const double work = kArea_mm2 * kStress * 0.018 * std::exp(-0.05) * 1.1;
  const WorkSums sums = sums_of(with);
  EXPECT_NEAR(sums.rest(0), 0.5 * work, 1e-12);
  EXPECT_NEAR(sums.rest(1), -work * 0.5 / 1.1, 1e-12);
}

TEST(WorkSums, AddUp) {
  WorkSums twice = sums_of(model(0.6));
  twice.add(twice);
  WorkSums both = sums_of(model(0.6));
  both.add(bending_triangle(model(0.6), 0), bent(kCurvature), bent(kCurvature), stiffness());
  EXPECT_LT((twice.bending - both.bending).norm(), 1e-14);
  EXPECT_LT((twice.by_thickness - both.by_thickness).norm(), 1e-11);
  PlateModel barked = model(0.6);
  barked.bark_mm = Eigen::VectorXd::Constant(6, 3.3);
  WorkSums more = sums_of(barked);
  const Eigen::Vector2d once = more.rest;
  more.add(sums_of(barked));
  EXPECT_NE(once(0), 0.0);
  EXPECT_EQ(more.rest, Eigen::Vector2d(2.0 * once));
}

// Without contraction Q is (E_L, E_T, G_LT): each part's share of the work, with a minus.
TEST(DerivativeFrom, EachModulusTakesItsOwnShareOfTheWork) {
  Cane cane;
  cane.nu_lt = 0.0;
  const WorkSums sums = sums_of(model(0.6));
  const PlateDerivative derivative = derivative_from(sums, cane);
  const double volume = kArea_mm2 * 0.018;
  EXPECT_NEAR(derivative.by_cane(0) / (-volume * cane.e_l_mpa * 0.09), 1.0, 1e-9);
  EXPECT_NEAR(derivative.by_cane(1) / (-volume * cane.e_t_mpa * 0.04), 1.0, 1e-9);
  EXPECT_NEAR(derivative.by_cane(2) / (-volume * cane.g_lt_mpa * 0.25), 1.0, 1e-9);
  EXPECT_EQ(derivative.by_cane(3), 0.0) << "density bends nothing";
  EXPECT_EQ(derivative.by_thickness, sums.by_thickness);
}

// All moduli times a factor: the work times that factor, with contraction too.
TEST(DerivativeFrom, TheModuliTogetherTakeAllOfIt) {
  const Cane cane;
  const Eigen::Matrix3d q = plane_stress_stiffness(cane);
  WorkSums sums = sums_of(model(0.6), q);
  sums.rest << 0.7, -0.3;
  const PlateDerivative derivative = derivative_from(sums, cane);
  const double work = kArea_mm2 * 0.018 * kCurvature.dot(q * kCurvature);
  EXPECT_NEAR(derivative.by_cane.head<3>().sum() / -work, 1.0, 1e-9);
  EXPECT_EQ(derivative.by_cane(4), 0.7);
  EXPECT_EQ(derivative.by_cane(5), -0.3);
}

}  // namespace
}  // namespace canewise
