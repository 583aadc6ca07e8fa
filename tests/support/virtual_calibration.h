#pragma once

#include <string>
#include <vector>

#include "calib/camera_calibration.h"
#include "calib/laser_plane_calibration.h"
#include "calib/stage_calibration.h"
#include "fixtures/virtual_rig.h"

namespace canewise::test {

/// What a careful person photographs for a virtual rig. A chessboard: it renders and is found quickly.
inline Board quick_board() { return {BoardKind::chessboard, 9, 6, 3.0, 2.16}; }
/// Small enough to stay in view along the stage.
inline Board stage_board() { return {BoardKind::chessboard, 9, 6, 2.0, 1.44}; }

inline std::vector<BoardView> photographed(const fixtures::VirtualRig& rig, const Board& board,
                                           const std::vector<Eigen::Isometry3d>& poses, std::uint64_t seed) {
  std::vector<BoardView> views;
  for (std::size_t i = 0; i < poses.size(); ++i)
    views.push_back(find_board(fixtures::board_photograph(rig, board, poses[i], seed * 1000 + i), board,
                               "photograph " + std::to_string(i + 1)));
  return views;
}

inline CalibratedCamera calibrated_camera(const fixtures::VirtualRig& rig, std::uint64_t seed) {
  return calibrate_camera(photographed(rig, quick_board(), fixtures::careful_poses(rig, quick_board(), 14, seed), seed),
                          quick_board())
      .found;
}

inline std::vector<LineOnBoard> lines_on_boards(const fixtures::VirtualRig& rig, int count, std::uint64_t seed) {
  const auto poses = fixtures::careful_poses(rig, quick_board(), count, seed + 5000);
  const auto views = photographed(rig, quick_board(), poses, seed + 100000);
  std::vector<LineOnBoard> lines;
  for (std::size_t i = 0; i < poses.size(); ++i)
    lines.push_back({views[i], fixtures::line_on_board(rig, quick_board(), poses[i], seed * 1000 + 500 + i)});
  return lines;
}

/// `spacing_mm` apart, the middle one where the camera looks.
inline std::vector<BoardView> along_the_stage(const fixtures::VirtualRig& rig, int count, double spacing_mm,
                                              std::uint64_t seed) {
  std::vector<Eigen::Isometry3d> poses;
  for (int k = 0; k < count; ++k)
    poses.push_back(fixtures::board_on_stage(rig, stage_board(), spacing_mm * (k - 0.5 * (count - 1))));
  return photographed(rig, stage_board(), poses, seed + 200000);
}

}  // namespace canewise::test
