// The formula, its inverse and where it folds: tests/frames/depth_test.cpp.
#include "scanproc/rig/camera.h"

#include <gtest/gtest.h>

#include <cmath>

namespace canewise {
namespace {

Eigen::Matrix<double, Camera::kParameters, 1> nine_numbers() {
  Eigen::Matrix<double, Camera::kParameters, 1> p;
  p << 900.0, 901.5, 322.0, 241.0, -0.2, 0.03, 1e-3, -2e-3, 0.07;
  return p;
}

// Every covariance of a camera counts on this order.
TEST(CameraSpec, ParametersStandInTheirDocumentedOrder) {
  Camera camera;
  camera.set_parameters(nine_numbers());
  EXPECT_EQ(camera.fx, 900.0);
  EXPECT_EQ(camera.fy, 901.5);
  EXPECT_EQ(camera.cx, 322.0);
  EXPECT_EQ(camera.cy, 241.0);
  EXPECT_EQ(camera.k1, -0.2);
  EXPECT_EQ(camera.k2, 0.03);
  EXPECT_EQ(camera.p1, 1e-3);
  EXPECT_EQ(camera.p2, -2e-3);
  EXPECT_EQ(camera.k3, 0.07);
  EXPECT_EQ(camera.parameters(), nine_numbers());
}

TEST(CameraSpec, ParametersLeaveTheSizeAlone) {
  Camera camera;
  camera.width = 640, camera.height = 480;
  camera.set_parameters(nine_numbers());
  EXPECT_EQ(camera.width, 640U);
  EXPECT_EQ(camera.height, 480U);
}

TEST(CameraSpec, TheMiddleOfThePictureLooksStraightAhead) {
  Camera camera;
  camera.set_parameters(nine_numbers());
  EXPECT_EQ(project(camera, {0.0, 0.0}), Eigen::Vector2d(322.0, 241.0));
  ASSERT_TRUE(direction_of(camera, 322.0, 241.0));
  EXPECT_LT(direction_of(camera, 322.0, 241.0)->norm(), 1e-15);
  EXPECT_GT(direction_of(camera, 400.0, 241.0)->x(), 0.0) << "x to the right";
  EXPECT_GT(direction_of(camera, 322.0, 300.0)->y(), 0.0) << "y down";
}

TEST(CameraSpec, WhatIsNoPixelHasNoDirection) {
  Camera camera;
  camera.set_parameters(nine_numbers());
  EXPECT_FALSE(direction_of(camera, std::nan(""), 241.0));
  EXPECT_FALSE(direction_of(camera, 322.0, std::nan("")));
}

}  // namespace
}  // namespace canewise
