#pragma once

#include <optional>
#include <string>
#include <vector>

#include "calib/board_pose.h"
#include "scanproc/core/progress.h"
#include "scanproc/rig/rig_calibration.h"
#include "scanproc/words/message.h"

namespace canewise {

inline constexpr std::size_t kFewestStagePhotographs = 4;

struct StageCalibration {
  Stage found;
  double length_ratio = 1.0;  ///< Real millimetres for a nominal one, and its standard uncertainty.
  double u_length_ratio = 0.0;
  double to_board_deg = 0.0;  ///< Between the way and the board's plane: 0 if the board lay along the stage.
  struct Position {
    std::string name;
    Message advice;  ///< Why it was left out, or empty.
    double nominal_mm = 0.0;
    double rms_px = 0.0;
    Eigen::Vector3d off_um = Eigen::Vector3d::Zero();  ///< From the straight way: along, across in the picture, depth.
    double u_along_um = 0.0;                           ///< Standard uncertainty of the first, from this one photograph.
    double turn_deg = 0.0;                             ///< Of the board against the others.
  };
  std::vector<Position> positions;
  Messages remarks;
};

/// Photographs of a board that the stage carries, one every `nominal_step_mm`.
struct StageViews {
  std::vector<BoardView> boards;
  double nominal_step_mm;
};

/// Way of the stage for each nominal millimetre: one least squares over all corners with one common turn, one start and
/// one motion vector. With the laser's plane also how far the way is out of square to the sheet. Throws InputError: too
/// few photographs, a board that turns on its way, a way that differs from the nominal one by more than a few per cent
/// (which says that the board's square or the step was stated wrong).
[[nodiscard]] StageCalibration calibrate_stage(const CalibratedCamera& camera, const StageViews& views,
                                               const std::optional<LaserPlane>& plane, const Progress& progress = {});

}  // namespace canewise
