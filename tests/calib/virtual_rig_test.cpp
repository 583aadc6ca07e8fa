// Camera, plane of light and stage recovered from rendered pictures with known truth: their stated uncertainties hold.
#include <gtest/gtest.h>

#include <Eigen/Cholesky>
#include <mutex>

#include "scanproc/core/budget.h"
#include "scanproc/core/parallel.h"
#include "scanproc/frames/laser_folder.h"
#include "scanproc/rig/geometry_uncertainty.h"
#include "scanproc/rig/light_sheet.h"
#include "tests/support/virtual_calibration.h"

namespace canewise {
namespace {

/// Errors of some parameters against their stated covariance, over seeds.
struct Tally {
  double inside = 0, count = 0, chi_square = 0, seeds = 0;
  template <typename Vector, typename Matrix>
  void add(const Vector& error, const Matrix& covariance) {
    for (Eigen::Index k = 0; k < error.size(); ++k) {
      inside += std::abs(error(k)) <= kCoverage95 * std::sqrt(covariance(k, k));
      count += 1;
    }
    chi_square += error.dot(covariance.ldlt().solve(error)) / static_cast<double>(error.size());
    seeds += 1;
  }
  [[nodiscard]] double covered() const { return inside / count; }
  [[nodiscard]] double chi_square_per_parameter() const { return chi_square / seeds; }
};

Eigen::Matrix3d total_of(const Eigen::Matrix3d& own, const ByCamera& by_camera, const CameraCovariance& camera) {
  return own + by_camera * camera * by_camera.transpose();
}

TEST(VirtualRig, CameraPlaneAndStageLieWithinTheirStatedUncertainties) {
  const fixtures::VirtualRig rig = fixtures::tiny_virtual_rig();
  constexpr std::uint64_t seeds = 100;
  Tally camera, plane, stage;
  std::mutex lock;
  run_parts([&](std::size_t part) {
    for (std::uint64_t seed = part; seed < seeds; seed += kParallelParts) {
      const CalibratedCamera found = test::calibrated_camera(rig, seed);
      const LaserPlane sheet =
          calibrate_laser_plane(found, test::lines_on_boards(rig, 10, seed), test::quick_board()).found;
      const Stage way = calibrate_stage(found, {test::along_the_stage(rig, 8, 1.5, seed), 1.5}, sheet).found;
      const Eigen::Matrix<double, Camera::kParameters, 1> camera_error =
          found.camera.parameters() - rig.camera.parameters();
      const Eigen::Vector3d plane_error = sheet.q - rig.sheet_q(), stage_error = way.motion - rig.motion;
      const std::scoped_lock guard(lock);
      camera.add(camera_error, found.covariance);
      plane.add(plane_error, total_of(sheet.covariance, sheet.by_camera, found.covariance));
      stage.add(stage_error, total_of(way.covariance, way.by_camera, found.covariance));
    }
  });
  // 95 % are promised. Parameters of one seed hang together: about 300 independent ones of the camera, 200 of the
  // others, whose shares scatter by 1.3 and 1.5 % (one standard deviation); the issue asks for 90 to 98 %.
  for (const auto& [name, tally] :
       {std::pair{"camera", camera}, std::pair{"plane", plane}, std::pair{"stage", stage}}) {
    std::printf("%s: %.1f %% within U95, chi-square %.2f a parameter\n", name, 100 * tally.covered(),
                tally.chi_square_per_parameter());
    EXPECT_GT(tally.covered(), 0.90) << name;
    EXPECT_LT(tally.covered(), 0.985) << name;
    // 1 if the covariance is right; its scatter over 100 seeds of 3 parameters is 8 %, of nine 5 %.
    EXPECT_GT(tally.chi_square_per_parameter(), 0.7) << name;
    EXPECT_LT(tally.chi_square_per_parameter(), 1.4) << name;
  }
}

TEST(VirtualRig, WhatTheCalibrationIsUnsureOfIsWhatItGetsWrong) {
  // Heights and lengths of a reed-sized scene put together by the calibrated rig, against the propagated uncertainty.
  const fixtures::VirtualRig truth = fixtures::tiny_virtual_rig();
  double squares = 0.0;
  constexpr int seeds = 12;
  for (std::uint64_t seed = 0; seed < seeds; ++seed) {
    Rig rig = truth.true_rig();
    rig.camera = test::calibrated_camera(truth, seed + 300);
    rig.laser_plane =
        calibrate_laser_plane(*rig.camera, test::lines_on_boards(truth, 10, seed + 300), test::quick_board()).found;
    rig.stage =
        calibrate_stage(*rig.camera, {test::along_the_stage(truth, 8, 1.5, seed + 300), 1.5}, rig.laser_plane).found;
    const GeometryUncertainty u = propagate_geometry(rig);
    EXPECT_GT(u.height_rel, 1e-5);
    EXPECT_LT(u.height_rel, 0.01);
    // A step of 3 mm on the plate as the true rig shows it, put together by the calibrated one.
    const Eigen::Vector3d up = truth.camera_from_plate.linear().col(2), origin = truth.camera_from_plate.translation();
    const auto seen = [&](const Eigen::Vector3d& at) {
      const double way = (1.0 - truth.sheet_q().dot(at)) / truth.sheet_q().dot(truth.motion);
      const Eigen::Vector3d lit = at + way * truth.motion;
      LineCentre centre;
      const Eigen::Vector2d pixel = project(truth.camera, lit.hnormalized());
      centre.column = pixel.x(), centre.row = pixel.y();
      return Eigen::Vector3d(on_sheet(rig.camera->camera, *rig.laser_plane, centre)->point_mm -
                             way * rig.stage->motion);
    };
    const Eigen::Vector3d along = truth.motion.normalized(), across = up.cross(along);
    const Eigen::Vector3d a = seen(origin), b = seen(origin + 10.0 * along), c = seen(origin + 5.0 * across);
    const Eigen::Vector3d normal = (b - a).cross(c - a).normalized();
    const double height = std::abs(normal.dot(seen(origin + 3.0 * up) - a));
    squares += std::pow((height / 3.0 - 1.0) / u.height_rel, 2) / seeds;
  }
  // A mean of twelve squares of standard normal values lies between 0.3 and 2.3 in 99.5 of 100 cases.
  EXPECT_GT(squares, 0.3);
  EXPECT_LT(squares, 2.3);
}

}  // namespace
}  // namespace canewise
