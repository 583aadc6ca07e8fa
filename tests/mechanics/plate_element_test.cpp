// Beside the laws in plate_properties_test.cpp: what one element's degrees of freedom mean.
#include "scanproc/mechanics/plate_element.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <Eigen/LU>
#include <cmath>
#include <numbers>

namespace canewise {
namespace {

using Freedoms = Eigen::Matrix<double, 9, 1>;

Eigen::Matrix<double, 2, 3> corners() {
  Eigen::Matrix<double, 2, 3> c;
  c << 1.0, 5.0, 2.0,  //
      2.0, 3.0, 8.0;
  return c;
}
/// No two alike, so that no mix-up goes unseen.
Freedoms any_freedoms() { return (Freedoms() << 0.3, -0.7, 1.1, -1.9, 0.4, -0.2, 0.8, 1.3, 0.6).finished(); }

TEST(PlateElement, ThePointsOfItsRuleLieInsideAndTheirSharesMakeOne) {
  double shares = 0.0;
  for (const TrianglePoint& point : triangle_points()) {
    EXPECT_GT(point.area.minCoeff(), 0.0);
    EXPECT_NEAR(point.area.sum(), 1.0, 1e-14);
    EXPECT_GT(point.share, 0.0);
    shares += point.share;
  }
  EXPECT_NEAR(shares, 1.0, 1e-14);
}

TEST(PlateElement, EachQuadraticShapeIsOneAtItsOwnPointAndNoughtAtTheOthers) {
  for (int k = 0; k < 3; ++k) {
    const Eigen::Vector3d corner = Eigen::Vector3d::Unit(k);
    EXPECT_LT((quadratic_shapes(corner) - Eigen::Matrix<double, 6, 1>::Unit(k)).norm(), 1e-15);
    // The middle of the side opposite the corner.
    const Eigen::Vector3d middle = 0.5 * (Eigen::Vector3d::Ones() - corner);
    EXPECT_LT((quadratic_shapes(middle) - Eigen::Matrix<double, 6, 1>::Unit(3 + k)).norm(), 1e-15);
  }
  EXPECT_NEAR(quadratic_shapes({0.2, 0.3, 0.5}).sum(), 1.0, 1e-15);
}

// Half the cross product: (4 x 6 - 1 x 1)/2.
TEST(PlateElement, ItsAreaIsHalfTheCrossProductOfItsSides) {
  EXPECT_NEAR(PlateElement(corners()).area_mm2(), 11.5, 1e-12);
}

TEST(PlateElement, AtItsCornersTheDeflectionIsTheirFreedom) {
  const PlateElement element(corners());
  for (int k = 0; k < 3; ++k)
    EXPECT_NEAR(element.deflection(Eigen::Vector3d::Unit(k)) * any_freedoms(), any_freedoms()(3 * k), 1e-14);
}

// Hermite's cubic along a side, at 0.3 of it: 0.784, 0.147, 0.216 and -0.063.
TEST(PlateElement, AlongASideTheDeflectionIsTheCubicOfItsEnds) {
  const PlateElement element(corners());
  const Freedoms f = any_freedoms();
  for (Eigen::Index i = 0; i < 3; ++i) {
    const Eigen::Index j = (i + 1) % 3;
    const Eigen::Vector2d side = corners().col(j) - corners().col(i);
    Eigen::Vector3d area = Eigen::Vector3d::Zero();
    area(i) = 0.7;
    area(j) = 0.3;
    const double cubic = 0.784 * f(3 * i) + 0.147 * side.dot(f.segment<2>(3 * i + 1)) + 0.216 * f(3 * j) -
                         0.063 * side.dot(f.segment<2>(3 * j + 1));
    EXPECT_NEAR(element.deflection(area) * f, cubic, 1e-13) << i;
  }
}

TEST(PlateElement, MovedAsAWholeItDoesNotBendAndEverythingElseBendsIt) {
  const PlateElement element(corners());
  Freedoms rigid;
  for (int k = 0; k < 3; ++k) {
    const Eigen::Vector2d p = corners().col(k);
    rigid.segment<3>(3 * k) << 1.0 + 2.0 * p.x() - 3.0 * p.y(), 2.0, -3.0;
  }
  EXPECT_LT((element.corner_curvatures() * rigid).norm(), 1e-12);
  Eigen::FullPivLU<Eigen::Matrix<double, 9, 9>> solver(element.corner_curvatures());
  solver.setThreshold(1e-9);
  EXPECT_EQ(solver.rank(), 6) << "nine freedoms less lift and two tilts";
}

TEST(PlateElement, CurvatureIsLinearBetweenTheCorners) {
  const PlateElement element(corners());
  const Eigen::Matrix<double, 9, 1> at_corners = element.corner_curvatures() * any_freedoms();
  const Eigen::Vector3d area(0.2, 0.35, 0.45);
  const Eigen::Vector3d between =
      0.2 * at_corners.segment<3>(0) + 0.35 * at_corners.segment<3>(3) + 0.45 * at_corners.segment<3>(6);
  EXPECT_LT((element.curvature(area) * any_freedoms() - between).norm(), 1e-13);
}

TEST(PlateElement, TurnedItBendsTheSameInTurnedAxes) {
  const Eigen::Matrix2d turn = Eigen::Rotation2Dd(0.6).toRotationMatrix();
  Freedoms turned = any_freedoms();
  for (int k = 0; k < 3; ++k) turned.segment<2>(3 * k + 1) = turn * any_freedoms().segment<2>(3 * k + 1);
  const PlateElement before(corners()), after(Eigen::Matrix<double, 2, 3>(turn * corners()));
  const auto tensor = [](const Eigen::Vector3d& c) {
    return (Eigen::Matrix2d() << c(0), 0.5 * c(2), 0.5 * c(2), c(1)).finished();
  };
  const Eigen::Vector3d area(0.2, 0.35, 0.45);
  const Eigen::Matrix2d expected = turn * tensor(before.curvature(area) * any_freedoms()) * turn.transpose();
  EXPECT_LT((tensor(after.curvature(area) * turned) - expected).norm(), 1e-12);
  EXPECT_NEAR(after.deflection(area) * turned, before.deflection(area) * any_freedoms(), 1e-13);
}

}  // namespace
}  // namespace canewise
