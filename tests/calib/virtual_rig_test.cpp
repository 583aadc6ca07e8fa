// Camera, plane of light and stage recovered from rendered pictures with known truth: their stated uncertainties hold.
#include <gtest/gtest.h>

#include <Eigen/Cholesky>
#include <mutex>

#include "scanproc/core/budget.h"
#include "scanproc/core/parallel.h"
#include "scanproc/frames/laser_folder.h"
#include "scanproc/rig/geometry_uncertainty.h"
#include "scanproc/rig/light_sheet.h"
#include "tests/support/calibrated_rigs.h"
#include "tests/support/virtual_calibration.h"

namespace canewise {
namespace {

// A third of the sample of calib/virtual_rig_full, within the same limits.
TEST(VirtualRig, CameraPlaneAndStageLieWithinTheirStatedUncertainties) {
  test::expect_stated_uncertainties(32, {0.90, 0.985, 0.7, 1.4});
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
