#pragma once

#include <gtest/gtest.h>

#include <Eigen/Cholesky>
#include <cstdio>
#include <mutex>

#include "scanproc/core/budget.h"
#include "scanproc/core/parallel.h"
#include "tests/support/virtual_calibration.h"

namespace canewise::test {

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

inline Eigen::Matrix3d total_of(const Eigen::Matrix3d& own, const ByCamera& by_camera, const CameraCovariance& camera) {
  return own + by_camera * camera * by_camera.transpose();
}

/// How far a sample may lie from what is promised.
struct SampleLimits {
  double least_covered, most_covered, least_chi_square, most_chi_square;
};

inline void expect_stated_uncertainties(std::uint64_t seeds, const SampleLimits& limits) {
  const fixtures::VirtualRig rig = fixtures::tiny_virtual_rig();
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
  for (const auto& [name, tally] :
       {std::pair{"camera", camera}, std::pair{"plane", plane}, std::pair{"stage", stage}}) {
    std::printf("%s: %.1f %% within U95, chi-square %.2f a parameter\n", name, 100 * tally.covered(),
                tally.chi_square_per_parameter());
    EXPECT_GT(tally.covered(), limits.least_covered) << name;
    EXPECT_LT(tally.covered(), limits.most_covered) << name;
    EXPECT_GT(tally.chi_square_per_parameter(), limits.least_chi_square) << name;
    EXPECT_LT(tally.chi_square_per_parameter(), limits.most_chi_square) << name;
  }
}

}  // namespace canewise::test
