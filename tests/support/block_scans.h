#pragma once

#include <cstdint>
#include <numbers>
#include <random>

#include "fixtures/corner_blocks.h"
#include "tests/support/two_sided_scans.h"

namespace canewise::test {

struct BlockDraw {
  std::array<double, 3> edges_mm{10, 12, 14};
  double also_seen_mm = 0.0;  ///< Strip of further faces in view.
  double u_size_um = 1.0;
};

/// A reed and a block on one carrier, scanned from both sides, each scan in a pose of its own; how the block stands,
/// its faces and the scanner's scale are drawn.
struct BlockScans {
  BothScans scans;
  fixtures::CornerBlock block;
};

/// A block turned anywhere about the vertical and tilted by up to 12 degrees from standing on a corner, so that three
/// faces show from above and three from below: a draw that hides a face from the scanner is drawn again.
inline fixtures::CornerBlock drawn_block(const BlockDraw& draw, double camera_angle_deg, double yaw_deg,
                                         std::mt19937_64& random) {
  std::uniform_real_distribution<double> uniform(0.0, 1.0);
  constexpr double pi = std::numbers::pi, most_tilt_rad = 12.0 * pi / 180.0;
  while (true) {
    fixtures::BlockPose pose;
    pose.turn_rad = 2.0 * pi * uniform(random);
    pose.tilt_to_rad = 2.0 * pi * uniform(random);
    pose.tilt_rad = most_tilt_rad * uniform(random);
    pose.middle_mm = {34.0 + 8.0 * uniform(random), 22.0, 2.0};
    fixtures::CornerBlock block = fixtures::standing_block(draw.edges_mm, pose);
    bool all_seen = true;
    for (const double side : {1.0, -1.0}) {
      // The camera looks from the side of growing samples; see fixtures::scan_block.
      const Eigen::Vector3d from(0, 0, side);
      const Eigen::Matrix3d yaw = Eigen::AngleAxisd(yaw_deg * pi / 180.0, from).toRotationMatrix();
      const double angle = camera_angle_deg * pi / 180.0;
      const Eigen::Vector3d camera =
          std::cos(angle) * from + std::sin(angle) * from.cross(yaw * Eigen::Vector3d::UnitX());
      for (int k = 0; k < 3; ++k) {
        constexpr double not_too_flat = 0.12;  // Seven degrees.
        all_seen = all_seen && side * block.reed_from_block.linear().col(k).dot(camera) > not_too_flat;
      }
    }
    if (all_seen) return block;
  }
}

inline BlockScans scan_with_block(const fixtures::Reed& reed, const fixtures::ScannerModel& scanner,
                                  const BlockDraw& draw, std::uint64_t seed) {
  std::mt19937_64 random(seed * 7919 + 3);
  fixtures::SceneOptions scene = carrier_scene(seed);
  scene.balls.clear();
  scene.plate_margin_mm = 0.5;
  const double yaw_deg = std::uniform_real_distribution<double>(-180.0, 180.0)(random);
  BlockScans both{{}, drawn_block(draw, scanner.camera_angle_deg, yaw_deg, random)};
  fixtures::draw_face_errors(both.block, 1e-3 * draw.u_size_um, random);
  // The reed is only looked at to see that it makes one: a coarse raster does.
  fixtures::ScannerModel coarse = scanner;
  coarse.along_mm = coarse.between_mm = 0.25;
  both.scans = scan_both_sides(reed, coarse, scene, seed);
  for (const double side : {1.0, -1.0}) {
    const fixtures::BlockView view{{0, 0, side}, yaw_deg, draw.also_seen_mm};
    fixtures::add_points(side > 0 ? both.scans.top : both.scans.underside,
                         fixtures::scan_block(both.block, scanner, view, random()), scene.nuisance.scale_rel);
  }
  return both;
}

}  // namespace canewise::test
