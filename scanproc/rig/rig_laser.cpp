#include "scanproc/rig/rig_laser.h"

#include "scanproc/rig/depth_camera.h"
#include "scanproc/rig/settings_matrix.h"
#include "scanproc/rig/stated_rig.h"

namespace canewise {
namespace {

/// True where the table holds a covariance, which then alone says how sure it is.
bool has_covariance(Settings& settings, std::initializer_list<const char*> stated) {
  if (!settings.has("covariance")) return false;
  for (const char* key : stated) {
    if (settings.has(key)) settings.fail(key, {"rig.twice_by_covariance"});
  }
  return true;
}

/// Refuses a table that says one thing in two ways or in none; `neither` says what to do then.
void one_of(Settings& settings, const char* first, const char* second, const Message& neither) {
  const bool a = settings.has(first), b = settings.has(second);
  if (a && b) settings.fail(second, {"rig.twice", {{"other", text(first)}}});
  if (!a && !b) settings.fail(first, neither);
}

}  // namespace

CalibratedCamera camera_table(Settings settings) {
  CalibratedCamera found;
  found.camera = camera_from(settings, {"rig.no_camera_key"});
  if (has_covariance(settings, {"u_focal_rel", "u_centre_px", "u_distortion"})) {
    covariance_into(settings, "covariance", found.covariance);
  } else {
    StatedCamera stated;
    settings.number_into(stated.u_focal_rel, "u_focal_rel", 0.0, 0.2);
    settings.number_into(stated.u_centre_px, "u_centre_px", 0.0, kLargestSetting);
    if (const auto u = settings.numbers("u_distortion", 5, 0.0, 100.0); !u.empty())
      std::copy(u.begin(), u.end(), stated.u_distortion.begin());
    found.covariance = covariance_of(found.camera, stated);
  }
  settings.number_into(found.rms_px, "rms_px", 0.0, 100.0);
  settings.number_into(found.cross_validated_px, "cross_validated_px", 0.0, 100.0);
  settings.refuse_unknown();
  return found;
}

LaserPlane laser_plane_table(Settings settings) {
  LaserPlane plane;
  one_of(settings, "q_per_mm", "normal", {"rig.no_plane"});
  if (settings.has("normal")) {
    const Eigen::Vector3d normal = vector_of(settings, "normal", false);
    constexpr double rounded = 1e-3;  // A normal with three decimals.
    if (!(std::abs(normal.norm() - 1.0) < rounded)) settings.fail("normal", {"settings.no_unit_vector"});
    const auto distance = settings.number("distance_mm", -kLargestSetting, kLargestSetting);
    constexpr double nearest_mm = 0.01;
    if (!distance || std::abs(*distance) < nearest_mm) settings.fail("distance_mm", {"rig.plane_distance"});
    plane.q = normal.normalized() / *distance;
  } else {
    if (settings.has("distance_mm")) settings.fail("distance_mm", {"rig.distance_without_normal"});
    plane.q = vector_of(settings, "q_per_mm", false);
  }
  if (!(plane.q.norm() > 1e-6)) settings.fail("q_per_mm", {"rig.plane_q"});
  plane.middle_mm = vector_of(settings, "middle_mm", false);
  if (plane.middle_mm.norm() > 0.0) {
    constexpr double far_off = 0.05;  // Of the distance from the camera: then plane and place do not belong together.
    if (std::abs(plane.q.dot(plane.middle_mm) - 1.0) > far_off) settings.fail("middle_mm", {"rig.plane_middle"});
  }
  if (has_covariance(settings, {"u_normal_deg", "u_distance_mm"})) {
    covariance_into(settings, "covariance", plane.covariance);
  } else {
    StatedPlane stated;
    settings.number_into(stated.u_normal_deg, "u_normal_deg", 0.0, 20.0);
    settings.number_into(stated.u_distance_mm, "u_distance_mm", 0.0, 100.0);
    plane.covariance = covariance_of(plane, stated);
  }
  matrix_into<3, Camera::kParameters>(settings, "by_camera", plane.by_camera);
  if (const auto crosses = settings.flag("crosses_columns")) plane.crosses_columns = *crosses;
  settings.number_into(plane.line_sigma_px, "line_sigma_px", 0.3, 50.0);
  settings.number_into(plane.centre_noise_px, "centre_noise_px", 0.0, 50.0);
  settings.number_into(plane.residual_um, "residual_um", 0.0, kLargestSetting);
  settings.refuse_unknown();
  return plane;
}

Stage stage_table(Settings settings) {
  Stage stage;
  one_of(settings, "motion", "step_mm", {"rig.no_way"});
  if (settings.has("step_mm")) {
    if (settings.has("travel_per_frame_mm")) settings.fail("travel_per_frame_mm", {"rig.travel_twice"});
    const Eigen::Vector3d step = vector_of(settings, "step_mm", false);
    constexpr double shortest_mm = 1e-4, longest_mm = 10.0;
    if (!(step.norm() > shortest_mm && step.norm() < longest_mm)) settings.fail("step_mm", {"rig.stage_step"});
    stage.motion = step.normalized();
    stage.travel_per_frame_mm = step.norm();
  } else {
    stage.motion = vector_of(settings, "motion", false);
    settings.number_into(stage.travel_per_frame_mm, "travel_per_frame_mm", -100.0, 100.0);
  }
  constexpr double shortest = 0.5, longest = 2.0;
  if (stage.motion.norm() < shortest || stage.motion.norm() > longest) settings.fail("motion", {"rig.stage_motion"});
  if (has_covariance(settings, {"u_step_rel", "u_direction_deg"})) {
    covariance_into(settings, "covariance", stage.covariance);
  } else {
    StatedStage stated;
    settings.number_into(stated.u_step_rel, "u_step_rel", 0.0, 0.2);
    settings.number_into(stated.u_direction_deg, "u_direction_deg", 0.0, 20.0);
    stage.covariance = covariance_of(stage, stated);
  }
  matrix_into<3, Camera::kParameters>(settings, "by_camera", stage.by_camera);
  settings.number_into(stage.straightness_um, "straightness_um", 0.0, kLargestSetting);
  settings.number_into(stage.out_of_square_deg, "out_of_square_deg", 0.0, 180.0);
  settings.refuse_unknown();
  return stage;
}

}  // namespace canewise
