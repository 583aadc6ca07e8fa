// Two passes over one reed that lie in different places on the plate, laid on each other by the reed's shape alone. The
// function lives in the part that is loaded when passes are joined. Scans are generated; the truth is the generator's.
#include "scanproc/datum/shape_registration.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <vector>

#include "fixtures/scanner.h"
#include "scanproc/datum/joining_part.h"
#include "scanproc/datum/ties.h"

namespace canewise {
namespace {

/// Moves the reed along its plate, and turns it.
const Eigen::Isometry3d kMoved =
    Eigen::Translation3d(25.0, -60.0, 0.0) * Eigen::AngleAxisd(0.7, Eigen::Vector3d::UnitZ());

LevelledPass pass_of(const Eigen::Isometry3d& moved, fixtures::SceneContent content, std::uint64_t seed) {
  fixtures::SceneOptions scene;
  scene.content = content;
  scene.random_pose = false;  // The plate's frame is the scan's own.
  fixtures::ScannerModel scanner = fixtures::profilometer();
  scanner.along_mm = scanner.between_mm = 0.125;
  const auto scan = fixtures::scan_reed(fixtures::Reed({}), scanner, scene, seed);
  Eigen::Matrix3Xd points = moved.linear() * scan.cloud.points_mm;
  points.colwise() += moved.translation();
  return LevelledPass(points, 1e-3 * scanner.noise_um);
}

/// Found once: it is the costly part.
const std::vector<ShapeFit>& fits() {
  static const std::vector<ShapeFit> found =
      joining_part().fits_by_shape(pass_of(Eigen::Isometry3d::Identity(), fixtures::SceneContent::one_reed, 1),
                                   pass_of(kMoved, fixtures::SceneContent::one_reed, 2));
  return found;
}

/// What is left between the found place and the true one, about the reed's middle in the first pass.
struct Left {
  Eigen::Matrix<double, 6, 1> error, u;
};
Left left_of(const ShapeFit& fit) {
  const Eigen::Isometry3d to_middle(Eigen::Translation3d(-34.0, 0.0, 0.0));
  const Eigen::Isometry3d error = to_middle * fit.first_from_second * kMoved * to_middle.inverse();
  const Eigen::AngleAxisd turn(error.linear());
  Left left;
  left.error << error.translation(), turn.angle() * turn.axis();
  left.u = in_frame(fit.covariance, to_middle).diagonal().cwiseSqrt();
  return left;
}

TEST(ShapeRegistration, BringsTheSecondPassBackOntoTheFirst) {
  ASSERT_FALSE(fits().empty());
  const Left left = left_of(fits().front());
  // A profilometer's two micrometres over thousands of cells: the plate fixes height and tilt to a micrometre, the
  // reed's slopes of some hundredths fix its place to some hundredths of a millimetre.
  EXPECT_LT(std::abs(left.error(0)), 0.03);
  EXPECT_LT(std::abs(left.error(1)), 0.03);
  EXPECT_LT(std::abs(left.error(2)), 0.002);
  EXPECT_LT(std::abs(left.error(3)), 5e-4);
  EXPECT_LT(std::abs(left.error(4)), 5e-4);
  EXPECT_LT(std::abs(left.error(5)), 1e-3);
}

TEST(ShapeRegistration, ItsCovarianceIsInTheFirstPlatesFrameAndOfTheErrorsSize) {
  ASSERT_FALSE(fits().empty());
  const Left left = left_of(fits().front());
  // Along, across and about the plate's normal, where the shape alone tells.
  for (const int k : {0, 1, 5}) EXPECT_LT(std::abs(left.error(k)), 5.0 * left.u(k)) << k;
  for (int k = 0; k < 3; ++k) {
    EXPECT_GT(left.u(k), 0.0) << k;
    EXPECT_LT(left.u(k), 0.02) << k;
  }
  // Height is told by every cell, places only by slopes.
  EXPECT_LT(left.u(2), 0.3 * left.u(0));
  EXPECT_LT(left.u(2), 0.3 * left.u(1));
}

TEST(ShapeRegistration, AllPlacesAgreeAndTheBestComesFirst) {
  ASSERT_FALSE(fits().empty());
  double before = 1e300;
  for (const ShapeFit& fit : fits()) {
    EXPECT_TRUE(agrees(fit.agreement));
    EXPECT_LE(fit.agreement.share * fit.agreement.places, before);
    before = fit.agreement.share * fit.agreement.places;
    // A whole reed has one place: laid the other way round its thick end would lie on its tip.
    EXPECT_LT(left_of(fit).error.head<2>().norm(), 0.1);
  }
}

TEST(ShapeRegistration, WithoutAReedInBothThereIsNone) {
  const LevelledPass reed = pass_of(Eigen::Isometry3d::Identity(), fixtures::SceneContent::one_reed, 1);
  const LevelledPass plate = pass_of(Eigen::Isometry3d::Identity(), fixtures::SceneContent::plate_only, 3);
  EXPECT_TRUE(joining_part().fits_by_shape(reed, plate).empty());
  EXPECT_TRUE(joining_part().fits_by_shape(plate, reed).empty());
}

}  // namespace
}  // namespace canewise
