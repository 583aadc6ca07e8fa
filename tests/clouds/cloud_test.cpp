#include "scanproc/clouds/cloud.h"

#include <gtest/gtest.h>

namespace canewise {
namespace {

// A reader fills in what its format knows. What it leaves out must claim nothing.
TEST(Cloud, WhatAFileDoesNotSayIsNotClaimed) {
  const Cloud cloud;
  EXPECT_EQ(cloud.points_mm.cols(), 0);
  EXPECT_EQ(cloud.dropped_non_finite, 0U);
  EXPECT_FALSE(cloud.unit_known) << "the unit is guessed and the guess is said";
  EXPECT_EQ(cloud.height_step_u_mm, 0.0);
  EXPECT_EQ(cloud.assumed_slow_mm, 0.0) << "the rig's priors say it";
  EXPECT_EQ(cloud.u_mm.size(), 0) << "all points count alike";
  EXPECT_EQ(cloud.normals.cols(), 0) << "no closed surface";
  EXPECT_TRUE(cloud.notes.empty());
}

}  // namespace
}  // namespace canewise
