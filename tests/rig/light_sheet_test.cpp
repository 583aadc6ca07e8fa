// Against an independent solution, and how depth follows the column: tests/handbook/laser_line_test.cpp.
#include "scanproc/rig/light_sheet.h"

#include <gtest/gtest.h>

#include <cmath>

namespace canewise {
namespace {

Camera pinhole() {
  Camera camera;
  camera.fx = 2000.0, camera.fy = 1000.0, camera.cx = 400.0, camera.cy = 300.0;
  return camera;
}
LaserPlane sheet(const Eigen::Vector3d& q) {
  LaserPlane plane;
  plane.q = q;
  return plane;
}
LineCentre centre_at(double column, double row) {
  LineCentre centre;
  centre.column = column, centre.row = row;
  return centre;
}

TEST(LightSheet, APointLiesOnItsRayAndOnTheSheet) {
  // A sheet square to the axis at 100 mm: 200 columns right of the middle are 0.1 of that, 50 rows up are 0.05.
  const auto found = on_sheet(pinhole(), sheet({0.0, 0.0, 0.01}), centre_at(600.0, 250.0));
  ASSERT_TRUE(found);
  EXPECT_LT((found->point_mm - Eigen::Vector3d(10.0, -5.0, 100.0)).norm(), 1e-12);
}

TEST(LightSheet, AnErrorAcrossTheLineMovesThePointByThePixelsSizeThere) {
  // At 100 mm a column is 0.05 mm and a row 0.1 mm wide.
  LineCentre centre = centre_at(600.0, 250.0);
  const auto mm_per_px = [&](double normal_column, double normal_row) {
    centre.normal_column = normal_column, centre.normal_row = normal_row;
    return on_sheet(pinhole(), sheet({0.0, 0.0, 0.01}), centre)->mm_per_px;
  };
  EXPECT_NEAR(mm_per_px(0.0, 1.0), 0.1, 1e-12);
  EXPECT_NEAR(mm_per_px(1.0, 0.0), 0.05, 1e-12);
  EXPECT_NEAR(mm_per_px(0.6, -0.8), std::hypot(0.6 * 0.05, 0.8 * 0.1), 1e-12);
}

TEST(LightSheet, BehindTheCameraThereIsNoPoint) {
  EXPECT_FALSE(on_sheet(pinhole(), sheet({0.0, 0.0, -0.01}), centre_at(400.0, 300.0)));
}

TEST(LightSheet, WhereTheCamerasModelFoldsThereIsNoPoint) {
  Camera camera = pinhole();
  camera.k1 = -0.5;  // Folds at 0.544 of the focal length from the middle, see tests/frames/depth_test.cpp.
  EXPECT_TRUE(on_sheet(camera, sheet({0.0, 0.0, 0.01}), centre_at(400.0, 300.0 + 500.0)));
  EXPECT_FALSE(on_sheet(camera, sheet({0.0, 0.0, 0.01}), centre_at(400.0, 300.0 + 560.0)));
}

TEST(LightSheet, ARayThatGrazesTheSheetHasNoPoint) {
  // A sheet that holds the direction 0.3 to the right: rays within two degrees of it do not tell where they meet.
  const LaserPlane plane = sheet(Eigen::Vector3d(1.0, 0.0, -0.3) / 20.0);
  const auto found_at = [&](double degrees) {
    const double direction = std::tan(std::atan(0.3) + degrees * 0.017453292519943295);
    return on_sheet(pinhole(), plane, centre_at(400.0 + 2000.0 * direction, 300.0)).has_value();
  };
  EXPECT_FALSE(found_at(1.9));
  EXPECT_TRUE(found_at(2.1));
  EXPECT_FALSE(found_at(-2.1)) << "on its other side they part";
}

}  // namespace
}  // namespace canewise
