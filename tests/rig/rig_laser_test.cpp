// What a person may write instead of covariances, and what is said twice: tests/rig/stated_rig_test.cpp.
#include "scanproc/rig/rig_laser.h"

#include <gtest/gtest.h>

#include <functional>
#include <string>

#include "tests/support/refusals.h"

namespace canewise {
namespace {

Settings table(const std::string& text) { return Settings::parse(text, "rig.toml"); }
LaserPlane plane_of(const std::string& text) { return laser_plane_table(table(text)); }
Stage stage_of(const std::string& text) { return stage_table(table(text)); }

/// The words of the refusal, which must name the file and the key.
test::Refusal refusal_of(const std::function<void()>& work, const std::string& key) {
  test::Refusal refusal = test::refusal_of(work);
  EXPECT_EQ(refusal.exit_code, ExitCode::bad_input);
  EXPECT_EQ(refusal.file, "rig.toml");
  EXPECT_NE(refusal.words.find("'" + key + "'"), std::string::npos) << refusal.words;
  return refusal;
}

const std::string kCamera = "width = 800\nheight = 600\nfx = 2400\nfy = 2410\ncx = 400\ncy = 300\n";
const std::string kPlane = "q_per_mm = [0.001, 0.002, 0.01]\n";
const std::string kStage = "motion = [0.0, 0.8, 0.6]\ntravel_per_frame_mm = -0.25\n";

TEST(RigLaser, ACalibratedCameraKeepsItsCovarianceAndHowWellItFits) {
  std::string covariance = "covariance = [";
  for (int i = 0; i < 9; ++i)
    for (int j = 0; j < 9; ++j)
      covariance +=
          (i + j == 0 ? "" : ", ") + std::to_string(i == j ? i + 1 : (i == 0 && j == 4) || (i == 4 && j == 0));
  const CalibratedCamera found =
      camera_table(table(kCamera + covariance + "]\nrms_px = 0.25\ncross_validated_px = 0.5\n"));
  EXPECT_EQ(found.camera.width, 800U);
  EXPECT_EQ(found.camera.fy, 2410.0);
  EXPECT_EQ(found.covariance(2, 2), 3.0);
  EXPECT_EQ(found.covariance(0, 4), 1.0);
  EXPECT_EQ(found.covariance(0, 5), 0.0);
  EXPECT_EQ(found.rms_px, 0.25);
  EXPECT_EQ(found.cross_validated_px, 0.5);
}

TEST(RigLaser, APlaneKeepsAllThatItsStepFound) {
  std::string by_camera = "by_camera = [";
  for (int i = 0; i < 27; ++i) by_camera += (i == 0 ? "" : ", ") + std::to_string(i);
  const LaserPlane plane = plane_of(kPlane + by_camera +
                                    "]\nmiddle_mm = [0.0, 0.0, 100.0]\ncovariance = [4, 1, 0, 1, 5, 0, 0, 0, "
                                    "6]\ncrosses_columns = false\nline_sigma_px = 1.5\ncentre_noise_px = "
                                    "0.25\nresidual_um = 3\n");
  EXPECT_EQ(plane.q, Eigen::Vector3d(0.001, 0.002, 0.01));
  EXPECT_EQ(plane.middle_mm, Eigen::Vector3d(0.0, 0.0, 100.0));
  EXPECT_EQ(plane.covariance(0, 1), 1.0);
  EXPECT_EQ(plane.covariance(2, 2), 6.0);
  EXPECT_EQ(plane.by_camera(0, 8), 8.0) << "row by row: nine numbers of the camera for each of q";
  EXPECT_EQ(plane.by_camera(1, 0), 9.0);
  EXPECT_EQ(plane.by_camera(2, 8), 26.0);
  EXPECT_FALSE(plane.crosses_columns);
  EXPECT_EQ(plane.line_sigma_px, 1.5);
  EXPECT_EQ(plane.centre_noise_px, 0.25);
  EXPECT_EQ(plane.residual_um, 3.0);
}

TEST(RigLaser, AStageMayRunBackwards) {
  const Stage stage = stage_of(kStage + "straightness_um = 4\nout_of_square_deg = 1.5\n");
  EXPECT_EQ(stage.motion, Eigen::Vector3d(0.0, 0.8, 0.6));
  EXPECT_EQ(stage.travel_per_frame_mm, -0.25);
  EXPECT_EQ(stage.straightness_um, 4.0);
  EXPECT_EQ(stage.out_of_square_deg, 1.5);
}

TEST(RigLaser, AStepIsAtMostTenMillimetresAndIsNoPoint) {
  EXPECT_NEAR(stage_of("step_mm = [0.0, 0.0, -9.9]\n").travel_per_frame_mm, 9.9, 1e-12);
  EXPECT_LT((stage_of("step_mm = [0.0, 0.0, -9.9]\n").motion - Eigen::Vector3d(0.0, 0.0, -1.0)).norm(), 1e-14);
  EXPECT_NEAR(stage_of("step_mm = [0.00011, 0.0, 0.0]\n").travel_per_frame_mm, 1.1e-4, 1e-15);
  for (const char* step : {"10.1", "0.00009"}) {
    const auto work = [&] { (void)stage_of("step_mm = [" + std::string(step) + ", 0.0, 0.0]\n"); };
    EXPECT_EQ(refusal_of(work, "step_mm").id, "rig.stage_step");
  }
}

TEST(RigLaser, AMotionIsAboutAMillimetreLong) {
  EXPECT_NO_THROW((void)stage_of("motion = [0.51, 0.0, 0.0]\n"));
  EXPECT_NO_THROW((void)stage_of("motion = [0.0, 1.99, 0.0]\n"));
  for (const char* length : {"0.49", "2.01"}) {
    const auto work = [&] { (void)stage_of("motion = [0.0, " + std::string(length) + ", 0.0]\n"); };
    EXPECT_EQ(refusal_of(work, "motion").id, "rig.stage_motion");
  }
}

TEST(RigLaser, ThePlanesMiddleLiesOnItButForAFewPerCent) {
  // q . X is 0.01 times the depth here: 1.04 at 104 mm, 1.06 at 106.
  EXPECT_NO_THROW((void)plane_of("q_per_mm = [0.0, 0.0, 0.01]\nmiddle_mm = [3.0, 2.0, 104.0]\n"));
  const auto work = [] { (void)plane_of("q_per_mm = [0.0, 0.0, 0.01]\nmiddle_mm = [3.0, 2.0, 106.0]\n"); };
  EXPECT_EQ(refusal_of(work, "middle_mm").id, "rig.plane_middle");
}

TEST(RigLaser, APlaneIsNotInfinitelyFarAway) {
  const auto work = [] { (void)plane_of("q_per_mm = [0.0, 0.0, 0.0000009]\n"); };
  EXPECT_EQ(refusal_of(work, "q_per_mm").id, "rig.plane_q");
}

TEST(RigLaser, UncertaintiesAreTakenUpToTheirLimitsAndNamedBeyondThem) {
  const struct {
    std::string head;
    const char *key, *good, *bad;
  } limits[] = {{kCamera, "u_focal_rel", "0.2", "0.21"},      {kCamera, "u_centre_px", "0", "-0.1"},
                {kCamera, "rms_px", "100", "100.5"},          {kPlane, "u_normal_deg", "20", "20.5"},
                {kPlane, "u_distance_mm", "100", "100.5"},    {kPlane, "line_sigma_px", "0.3", "0.29"},
                {kPlane, "line_sigma_px", "50", "50.5"},      {kPlane, "centre_noise_px", "50", "50.5"},
                {kStage, "u_step_rel", "0.2", "0.21"},        {kStage, "u_direction_deg", "20", "20.5"},
                {kStage, "out_of_square_deg", "180", "180.5"}};
  for (const auto& limit : limits) {
    const auto read = [&](const char* value) {
      const Settings settings = table(limit.head + limit.key + " = " + value + "\n");
      if (limit.head == kCamera) {
        (void)camera_table(settings);
      } else if (limit.head == kPlane) {
        (void)laser_plane_table(settings);
      } else {
        (void)stage_table(settings);
      }
    };
    EXPECT_NO_THROW(read(limit.good)) << limit.key << " = " << limit.good;
    EXPECT_EQ(refusal_of([&] { read(limit.bad); }, limit.key).id, "settings.no_number") << limit.key;
  }
}

}  // namespace
}  // namespace canewise
