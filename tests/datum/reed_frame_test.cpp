// From points over a plate to the reed's own frame. Scans are generated; the truth is the generator's.
#include "scanproc/datum/reed_frame.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "fixtures/scanner.h"
#include "tests/support/refusals.h"

namespace canewise {
namespace {

using fixtures::SceneContent;

constexpr double kNoise_mm = 0.002;

OnGround scene(SceneContent content, const Eigen::Isometry3d& ground_from_reed = Eigen::Isometry3d::Identity()) {
  fixtures::ScannerModel scanner = fixtures::profilometer();
  scanner.along_mm = scanner.between_mm = 0.12;
  fixtures::SceneOptions options;
  options.content = content;
  options.random_pose = false;
  OnGround ground;
  ground.points_mm = fixtures::scan_reed(fixtures::Reed({}), scanner, options, 2).cloud.points_mm;
  ground.points_mm = (ground_from_reed.linear() * ground.points_mm).colwise() + ground_from_reed.translation();
  ground.noise_mm = kNoise_mm;
  ground.beside = content == SceneContent::on_carrier ? Beside::nothing : Beside::plate;
  return ground;
}

/// Turned on the plate, which is a little out of level, and moved.
Eigen::Isometry3d laid(double turn_deg) {
  return Eigen::Translation3d(40.0, -70.0, 0.001) * Eigen::AngleAxisd(1.5e-4, Eigen::Vector3d::UnitX()) *
         Eigen::AngleAxisd(turn_deg * std::numbers::pi / 180.0, Eigen::Vector3d::UnitZ());
}

TEST(RoughReed, XRunsFromTipToButtAndOnlyWhatLiesNearIsKept) {
  for (const double turn_deg : {20.0, 200.0}) {
    const Eigen::Isometry3d pose = laid(turn_deg);
    const RoughReed reed = rough_reed(scene(SceneContent::one_reed, pose));
    EXPECT_TRUE(reed.on_plate());
    const Eigen::Isometry3d rough_from_reed = reed.rough_from_ground * pose;
    const Eigen::Vector3d tip = rough_from_reed * Eigen::Vector3d::Zero(),
                          right = rough_from_reed * Eigen::Vector3d(34.0, 6.0, 0.0);
    EXPECT_NEAR(tip.x(), reed.rim.apex_x_mm, 0.2) << turn_deg;
    EXPECT_NEAR(right.y(), 6.0, 0.5) << turn_deg << ": right stays right";
    EXPECT_NEAR(reed.rim.left.at(34.0), right.y() - 6.0 - 6.15, 0.4) << turn_deg;
    EXPECT_NEAR(reed.rim.right.at(34.0), right.y() - 6.0 + 6.15, 0.4) << turn_deg;
    EXPECT_EQ(reed.edge_points_mm().cols(), reed.ground.points_mm.cols()) << "a flat plate is not flattened";
  }
}

TEST(RoughReed, WhatIsNotOneWholeReedIsRefused) {
  for (const SceneContent content : {SceneContent::plate_only, SceneContent::two_reeds, SceneContent::tip_half,
                                     SceneContent::butt_half, SceneContent::coin}) {
    const auto refusal = test::refusal_of([&] { return rough_reed(scene(content)); });
    EXPECT_EQ(refusal.exit_code, ExitCode::not_measurable) << static_cast<int>(content);
  }
}

TEST(ReedFrame, IsTheReedsOwnHoweverItLies) {
  for (const double turn_deg : {20.0, 200.0}) {
    const Eigen::Isometry3d pose = laid(turn_deg);
    const RoughReed rough = rough_reed(scene(SceneContent::one_reed, pose));
    const ReedFrame frame = refined_frame(rough);
    const Eigen::Isometry3d left_over = frame.reed_from_rough * rough.rough_from_ground * pose;
    const Eigen::Vector3d tip = left_over * Eigen::Vector3d::Zero(), butt = left_over * Eigen::Vector3d(68.0, 0.0, 0.0),
                          side = left_over * Eigen::Vector3d(34.0, 6.0, 0.0);
    EXPECT_NEAR(tip.x(), 0.0, 0.06) << "half a pitch";
    for (const auto& place : {tip, butt, Eigen::Vector3d(side - Eigen::Vector3d(0.0, 6.0, 0.0))}) {
      EXPECT_NEAR(place.y(), 0.0, 0.03) << "a quarter of a pitch";
      EXPECT_NEAR(place.z(), 0.0, 0.0003) << "a plate of 100000 points of 2 um";
    }
    EXPECT_NEAR(frame.noise_mm, kNoise_mm, 0.0001);
  }
}

TEST(ReedFrame, TheRimIsToldInIt) {
  const ReedFrame frame = refined_frame(rough_reed(scene(SceneContent::one_reed, laid(20.0))));
  EXPECT_NEAR(frame.rim.apex_x_mm, 0.0, 1e-9);
  EXPECT_NEAR(frame.rim.left.slope, -frame.rim.right.slope, 1e-9);
  EXPECT_NEAR(frame.rim.left.offset_mm, -frame.rim.right.offset_mm, 1e-6);
  EXPECT_NEAR(frame.rim.butt_x_mm, 68.0, 0.12);
  EXPECT_NEAR(frame.rim.right.at(0.0), 6.5, 0.06);
  EXPECT_NEAR(frame.rim.right.at(68.0), 5.8, 0.06);
}

TEST(ReedFrame, InTheAirTheGroundsLevelAndNoiseStay) {
  const RoughReed rough = rough_reed(scene(SceneContent::on_carrier));
  EXPECT_FALSE(rough.on_plate());
  const ReedFrame frame = refined_frame(rough);
  EXPECT_EQ(frame.noise_mm, kNoise_mm);
  EXPECT_NEAR((frame.reed_from_rough.linear() * Eigen::Vector3d::UnitZ() - Eigen::Vector3d::UnitZ()).norm(), 0.0,
              1e-12);
  EXPECT_NEAR(frame.reed_from_rough.translation().z(), 0.0, 1e-12);
  EXPECT_NEAR(frame.rim.butt_x_mm, 68.0, 0.2);
}

TEST(ReedFrame, WithoutPlateToLevelByThereIsNone) {
  RoughReed rough = rough_reed(scene(SceneContent::one_reed));
  Eigen::Matrix3Xd& points = rough.ground.points_mm;
  Eigen::Index kept = 0;
  for (Eigen::Index i = 0; i < points.cols(); ++i) {
    if (std::abs(points(2, i)) > 5.0 * kNoise_mm) points.col(kept++) = points.col(i);
  }
  points.conservativeResize(Eigen::NoChange, kept);
  EXPECT_EQ(test::refusal_of([&] { return refined_frame(rough); }).id, "plate.too_little");
}

}  // namespace
}  // namespace canewise
