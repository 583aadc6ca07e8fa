// A laser rig that a person writes: plane as normal and distance, stage as a step, plain standard uncertainties.
#include "scanproc/rig/stated_rig.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <numbers>
#include <random>

#include "scanproc/core/error.h"
#include "scanproc/rig/geometry_uncertainty.h"
#include "scanproc/rig/rig.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

using testing::AllOf;
using testing::HasSubstr;

Rig read(const std::string& text) {
  const test::TempFolder folder;
  return read_rig(folder.file("rig.toml", text));
}
std::string refusal(const std::string& text) {
  try {
    (void)read(text);
  } catch (const InputError& error) {
    return error.what();
  }
  ADD_FAILURE() << "was read without complaint:\n" << text;
  return {};
}

const std::string kCamera = "[camera]\nwidth = 800\nheight = 600\nfx = 2400\nfy = 2410\ncx = 400\ncy = 300\n";
const std::string kPlane =
    "[laser_plane]\nnormal = [0.0, 0.8, 0.6]\ndistance_mm = 69.0\nmiddle_mm = [0.0, 0.0, 115.0]\n";
const std::string kStage = "[stage]\nstep_mm = [0.0, 0.16, 0.12]\n";

TEST(StatedRig, NormalAndDistanceAndAStepAreTheSameAsTheRatiosThatARigKeeps) {
  const Rig rig = read(kCamera + kPlane + kStage);
  ASSERT_TRUE(rig.is_laser_line());
  EXPECT_LT((rig.laser_plane->q - Eigen::Vector3d(0.0, 0.8, 0.6) / 69.0).norm(), 1e-15);
  EXPECT_LT((rig.stage->motion - Eigen::Vector3d(0.0, 0.8, 0.6)).norm(), 1e-15);
  EXPECT_NEAR(rig.stage->travel_per_frame_mm, 0.2, 1e-15);
  // The normal may point either way, with the distance's sign; and a normal of three decimals is one.
  const Rig other = read(kCamera + "[laser_plane]\nnormal = [0.0, -0.800, -0.6001]\ndistance_mm = -69.0\n" + kStage);
  EXPECT_LT((other.laser_plane->q - rig.laser_plane->q).norm(), 1e-5);
}

/// Sample covariance of what `change` makes of standard normal numbers.
template <typename Change>
Eigen::Matrix3d sampled(const Change& change) {
  std::mt19937_64 random(5);
  std::normal_distribution<double> normal;
  constexpr int draws = 40000;
  Eigen::Matrix3d sum = Eigen::Matrix3d::Zero();
  for (int i = 0; i < draws; ++i) {
    const double a = normal(random), b = normal(random), c = normal(random);
    const Eigen::Vector3d d = change(a, b, c);
    sum += d * d.transpose() / draws;
  }
  return sum;
}

TEST(StatedRig, ThePlanesCovarianceIsThatOfPlanesTurnedAndShiftedAboutTheirPlace) {
  for (const Eigen::Vector3d& place : {Eigen::Vector3d(0, 0, 115), Eigen::Vector3d(20, -7, 88.3333333333333)}) {
    LaserPlane plane;
    const Eigen::Vector3d normal(0.8, 0.0, 0.6), u(0.6, 0.0, -0.8), v(0.0, 1.0, 0.0);
    plane.q = normal / 69.0;
    plane.middle_mm = place;
    constexpr double u_deg = 0.2, u_mm = 0.15;
    const Eigen::Matrix3d stated = covariance_of(plane, {u_deg, u_mm});
    const Eigen::Matrix3d drawn = sampled([&](double a, double b, double c) -> Eigen::Vector3d {
      constexpr double radian = std::numbers::pi / 180.0;
      const Eigen::Vector3d turned = (normal + radian * u_deg * (a * u + b * v)).normalized();
      return turned / turned.dot(place + u_mm * c * normal) - plane.q;
    });
    // Of 40000 draws a variance scatters by 0.7 %, and the turn's square adds as little.
    EXPECT_LT((drawn - stated).cwiseAbs().maxCoeff(), 0.04 * stated.cwiseAbs().maxCoeff());
  }
}

TEST(StatedRig, TheStagesCovarianceIsThatOfWaysTurnedAndStretched) {
  Stage stage;
  stage.motion = {0.8, 0.0, 0.6};
  const Eigen::Matrix3d stated = covariance_of(stage, {3e-3, 0.4});
  const Eigen::Matrix3d drawn = sampled([&](double a, double b, double c) -> Eigen::Vector3d {
    constexpr double radian = std::numbers::pi / 180.0;
    const Eigen::Vector3d way =
        stage.motion + radian * 0.4 * (a * Eigen::Vector3d(0.6, 0, -0.8) + b * Eigen::Vector3d::UnitY());
    return (1.0 + 3e-3 * c) * way - stage.motion;
  });
  EXPECT_LT((drawn - stated).cwiseAbs().maxCoeff(), 0.04 * stated.cwiseAbs().maxCoeff());
}

TEST(StatedRig, WithoutUncertaintiesWideOnesStandInAndReachTheScale) {
  const Rig wide = read(kCamera + kPlane + kStage);
  EXPECT_EQ(wide.camera->covariance, covariance_of(wide.camera->camera, StatedCamera{}));
  EXPECT_EQ(wide.laser_plane->covariance, covariance_of(*wide.laser_plane, StatedPlane{}));
  EXPECT_EQ(wide.stage->covariance, covariance_of(*wide.stage, StatedStage{}));
  // No guess may pass for a calibration, whose scale is known to about 0.1 %.
  EXPECT_GT(wide.priors.scale_rel, 2e-3);
  EXPECT_LT(wide.priors.scale_rel, 0.02);
  EXPECT_THAT(wide.obtained.at("scale of camera, plane and stage"), HasSubstr("rig file"));
  EXPECT_GT(wide.priors.plate_form_um, Priors{}.plate_form_um);
  const Rig sure =
      read(kCamera + "u_focal_rel = 2e-4\nu_centre_px = 0.3\nu_distortion = [1e-3, 1e-2, 1e-4, 1e-4, 0]\n" + kPlane +
           "u_normal_deg = 0.01\nu_distance_mm = 0.01\n" + kStage + "u_step_rel = 1e-4\nu_direction_deg = 0.02\n");
  EXPECT_LT(sure.priors.scale_rel, 0.3 * wide.priors.scale_rel);
  const Rig stated = read(kCamera + kPlane + kStage + "[priors]\nscale_rel = 1.5e-3\n");
  EXPECT_EQ(stated.priors.scale_rel, 1.5e-3) << "who states the scale is believed";
  EXPECT_EQ(stated.obtained.at("scale_rel"), "stated in the rig file");
  const Rig again = read(rig_text(wide));
  EXPECT_EQ(rig_text(again), rig_text(wide)) << "written and read, it says the same";
}

TEST(StatedRig, WhatIsSaidTwiceOrNotAtAllOrCannotBeIsRefusedWithItsKey) {
  const struct {
    std::string text, words;
  } cases[] = {
      {"[laser_plane]\ndistance_mm = 69.0\n", "'laser_plane.q_per_mm' is missing, and so is 'normal'"},
      {"[laser_plane]\nnormal = [0.0, 0.8, 0.6]\n", "distance_mm"},
      {"[laser_plane]\nnormal = [0.0, 0.8, 0.6]\ndistance_mm = 0\n", "never is 0"},
      {"[laser_plane]\nnormal = [0.8, 0.1, 0.9]\ndistance_mm = 69\n", "length 1"},
      {"[laser_plane]\nnormal = [0.8, 0.6]\ndistance_mm = 69\n", "normal"},
      {kPlane + "q_per_mm = [0.01, 0.0, 0.01]\n", "said twice"},
      {"[laser_plane]\nq_per_mm = [0.01, 0.0, 0.01]\ndistance_mm = 69\n", "'q_per_mm' says both"},
      {kPlane + "covariance = [1,0,0,0,1,0,0,0,1]\nu_normal_deg = 1\n", "u_normal_deg' is said twice"},
      {"[laser_plane]\nnormal = [0.0, 0.8, 0.6]\ndistance_mm = 69\nmiddle_mm = [0, 0, 200]\n", "point of the plane"},
      {kPlane + "u_normal_deg = -1\n", "u_normal_deg"},
      {"[stage]\ntravel_per_frame_mm = 0.2\n", "'stage.motion' is missing, and so is 'step_mm'"},
      {kStage + "travel_per_frame_mm = 0.2\n", "said twice"},
      {kStage + "motion = [1, 0, 0]\n", "said twice"},
      {"[stage]\nstep_mm = [0, 0, 0]\n", "from frame to frame"},
      {"[stage]\nstep_mm = [300, 0, 0]\n", "from frame to frame"},
      {kStage + "covariance = [1,0,0,0,1,0,0,0,1]\nu_step_rel = 1\n", "u_step_rel' is said twice"},
      {kCamera + kPlane + "[stage]\nstep_mm = [0.2, 0.0, 0.0]\n", "moves along the plane of light"},
      {kCamera + "[laser_plane]\nnormal = [0.0, 0.8, 0.6]\ndistance_mm = -69.0\n" + kStage, "do not fit each other"},
      {kCamera + "u_focal_rel = 2\n", "u_focal_rel"},
      {kCamera + "u_distortion = [1, 2]\n", "u_distortion"},
  };
  for (const auto& c : cases) EXPECT_THAT(refusal(c.text), AllOf(HasSubstr("rig.toml"), HasSubstr(c.words))) << c.text;
}

}  // namespace
}  // namespace canewise
