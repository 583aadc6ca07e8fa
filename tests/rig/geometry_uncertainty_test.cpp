#include "scanproc/rig/geometry_uncertainty.h"

#include <gtest/gtest.h>

#include <cmath>

namespace canewise {
namespace {

// A scene whose propagation has a closed form. The stage runs along a = (0, 0.8, 0.6), across is the camera's x, up is
// (0, 0.6, -0.8). The sheet's normal is (0, 0.28, 0.96) = 0.8 a - 0.6 up: it holds `across`, and a point h higher is
// lit after the stage has gone 0.75 h farther. The rig works at (5, 20, 100).
const Eigen::Vector3d kAlong(0.0, 0.8, 0.6), kAcross(1.0, 0.0, 0.0), kUp(0.0, 0.6, -0.8);
constexpr double kHigh_mm = 3.0, kOff_mm = 6.0;  // The documented level and place of left against right.

Rig closed_rig(const Eigen::Vector3d& middle_mm = {5.0, 20.0, 100.0}) {
  Rig rig;
  rig.camera.emplace();
  rig.camera->camera.fx = 2000.0, rig.camera->camera.fy = 1900.0;
  rig.camera->camera.cx = 310.0, rig.camera->camera.cy = 250.0;
  rig.laser_plane.emplace();
  const Eigen::Vector3d normal(0.0, 0.28, 0.96);
  rig.laser_plane->q = normal / normal.dot(middle_mm);
  rig.laser_plane->middle_mm = middle_mm;
  rig.stage.emplace();
  rig.stage->motion = kAlong;
  return rig;
}
Eigen::Matrix3d along_one(const Eigen::Vector3d& direction) { return direction * direction.transpose(); }

void expect(const GeometryUncertainty& u, double height_rel, double length_rel, double width_rel, double tolerance) {
  EXPECT_NEAR(u.height_rel, height_rel, tolerance);
  EXPECT_NEAR(u.length_rel, length_rel, tolerance);
  EXPECT_NEAR(u.width_rel, width_rel, tolerance);
}

TEST(GeometryUncertainty, WhatIsSurelyKnownLeavesNothingUnsure) {
  const GeometryUncertainty u = propagate_geometry(closed_rig());
  expect(u, 0.0, 0.0, 0.0, 1e-12);
  EXPECT_NEAR(u.form_um, 0.0, 1e-9);
  EXPECT_NEAR(u.skew_um, 0.0, 1e-9);
}

TEST(GeometryUncertainty, AnUnsureStepOfTheStageScalesLengthsAlongIt) {
  Rig rig = closed_rig();
  rig.stage->covariance = along_one(1e-3 * kAlong);
  const GeometryUncertainty u = propagate_geometry(rig);
  expect(u, 0.0, 1e-3, 0.0, 1e-9);
  EXPECT_NEAR(u.form_um, 0.0, 1e-6);
  EXPECT_NEAR(u.skew_um, 0.0, 1e-6);
}

TEST(GeometryUncertainty, AnUnsureDistanceOfTheSheetScalesHeightsAndWidths) {
  // What is seen grows from the camera's centre; along the stage the way alone counts.
  Rig rig = closed_rig();
  rig.laser_plane->covariance = along_one(1e-3 * rig.laser_plane->q);
  const GeometryUncertainty u = propagate_geometry(rig);
  expect(u, 1e-3, 0.0, 1e-3, 2e-6);  // The second order: 1 / 1.001 is 1e-6 from 1 - 0.001.
  EXPECT_NEAR(u.form_um, 0.0, 1e-6);
}

TEST(GeometryUncertainty, AStageThatRisesMisstatesHeightsAsFarAsTheSheetLeans) {
  // Over the 0.75 h of way that a height costs, the stage rises by 2e-3 of it; the plate tilts, and is levelled.
  Rig rig = closed_rig();
  rig.stage->covariance = along_one(2e-3 * kUp);
  expect(propagate_geometry(rig), 0.75 * 2e-3, 0.0, 0.0, 4e-6);  // The second order: (2e-3)^2.
}

TEST(GeometryUncertainty, AnUnsureTurnOfTheSheetTiltsALevelAgainstThePlate) {
  // dq = k across moves a lit point P by -k (across . P) P: heights by -k (5 + y) h beside the plate's tilt, so the
  // level's slope across is -k h, and widths by -k (5 + y)^2.
  constexpr double k = 1e-6;
  Rig rig = closed_rig();
  rig.laser_plane->covariance = along_one(k * kAcross);
  const GeometryUncertainty u = propagate_geometry(rig);
  EXPECT_NEAR(u.height_rel, 5.0 * k, 0.01 * k);
  EXPECT_NEAR(u.width_rel, 2.0 * 5.0 * k, 0.01 * k);
  EXPECT_NEAR(u.skew_um, 1000.0 * 2.0 * kOff_mm * k * kHigh_mm, 2e-4) << "micrometres, from left to right";
}

TEST(GeometryUncertainty, AnUnsureLensBendsThePlate) {
  // k1 moves the direction (x, y) by -k1 r^2 (x, y). At (X, 20, 100) the height moves by
  // -k1 20 (X^2 + 20^2) / 100^2 (0.6 - q_y up . P) with up . P = -68 mm; of X^2 over seven places 6.5/3 mm apart the
  // standard deviation is (6.5/3)^2 sqrt(12).
  Rig rig = closed_rig({0.0, 20.0, 100.0});
  rig.camera->covariance(4, 4) = 0.02 * 0.02;
  const double q_y = 0.28 / (0.28 * 20.0 + 0.96 * 100.0);
  const double per_mm2 = 0.02 * 20.0 / 1e4 * (0.6 + 68.0 * q_y);
  const double expected_um = 1000.0 * per_mm2 * std::pow(6.5 / 3.0, 2) * std::sqrt(12.0);
  EXPECT_NEAR(propagate_geometry(rig).form_um, expected_um, 0.01 * expected_um);  // Higher orders: a few k1 r^2 = 1e-3.
}

TEST(GeometryUncertainty, IndependentPartsAddBySquares) {
  Rig rig = closed_rig();
  rig.laser_plane->covariance = along_one(1.2e-3 * rig.laser_plane->q);
  rig.stage->covariance = along_one(2e-3 / 0.75 * 0.45 * kUp);  // 0.9e-3 of height.
  expect(propagate_geometry(rig), 1.5e-3, 0.0, 1.2e-3, 5e-6);
}

TEST(GeometryUncertainty, WhatHangsOnTheCameraMovesWithIt) {
  // The focal length along the rows alone: widths by 4 / 2000.
  Rig rig = closed_rig();
  rig.camera->covariance(0, 0) = 4.0 * 4.0;
  expect(propagate_geometry(rig), 0.0, 0.0, 2e-3, 1e-5);
  // A sheet found with that camera is 1e-3 nearer for the same 4 pixels, a stage's step 3e-3 longer: widths shrink by
  // both, not by the root of their squares.
  rig.laser_plane->by_camera.col(0) = rig.laser_plane->q * 1e-3 / 4.0;
  rig.stage->by_camera.col(0) = rig.stage->motion * 3e-3 / 4.0;
  expect(propagate_geometry(rig), 1e-3, 3e-3, 3e-3, 1e-5);
}

TEST(GeometryUncertainty, ASceneBehindTheCameraIsNotANumber) {
  Rig rig = closed_rig();
  rig.laser_plane->q = -rig.laser_plane->q;
  rig.laser_plane->middle_mm = -rig.laser_plane->middle_mm;
  const GeometryUncertainty u = propagate_geometry(rig);
  for (const double value : {u.height_rel, u.length_rel, u.width_rel, u.form_um, u.skew_um})
    EXPECT_TRUE(std::isnan(value));
}

}  // namespace
}  // namespace canewise
