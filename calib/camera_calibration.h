#pragma once

#include <array>
#include <string>
#include <vector>

#include "calib/board_pose.h"
#include "scanproc/core/progress.h"
#include "scanproc/rig/rig_calibration.h"
#include "scanproc/words/message.h"

namespace canewise {

/// A reprojection error (root mean square) beyond this means that the model does not fit: corners themselves are found
/// to a tenth of a pixel, so half a pixel is a bent board, a moved camera or a lens that the model cannot take, and at
/// a usual 0.05 mm a pixel it would bend the plate by 25 um, nearly the back zone's tolerance.
inline constexpr double kRmsLimit_px = 0.5;
inline constexpr std::size_t kFewestViews = 6;

/// What became of one photograph.
struct ViewVerdict {
  std::string name;
  bool used = false;
  double rms_px = 0.0;
  double tilt_deg = 0.0;  ///< Of the board against the picture.
  Message advice;         ///< Why it was left out, or empty.
};

/// A distortion term that the photographs do not determine: they leave it more uncertain than lenses differ from none.
/// It is left out, which is to say nought, with that assumption as its standard uncertainty.
struct LeftOutTerm {
  std::string name;        ///< 'k3'; 'p1, p2' go together.
  double u_free = 0.0;     ///< Its standard uncertainty if it is fitted...
  double u_assumed = 0.0;  ///< ...and what it is taken to be without.
};
/// How far usual lenses are from none, as one standard deviation: this project's own, wide assumption, for directions
/// as x/z. In the order in which terms are tried, the highest power first.
struct UsualLens {
  double k3 = 1.0, k2 = 1.0, p = 5e-3, k1 = 0.5;
};

struct CameraCalibration {
  CalibratedCamera found;
  std::vector<LeftOutTerm> left_out;
  std::vector<ViewVerdict> views;
  std::vector<BoardView> used;           ///< Their corners...
  std::vector<Eigen::Isometry3d> poses;  ///< ...and camera_from_board.
  double corner_sd_px = 0.0;             ///< Standard deviation of a corner's coordinate, from the residuals.
  static constexpr int kAcross = 8, kDown = 6;
  std::array<int, std::size_t{kAcross} * kDown> coverage{};  ///< Corners in each part of the picture, row by row.
  double mm_per_px = 0.0;                                    ///< At the boards' middle distance.
  Messages remarks;                                          ///< What to do better, most important first.
};

/// Intrinsics and distortion from views of one board ([Zhang2000]): all nine parameters but those that the photographs
/// do not determine (LeftOutTerm), whose assumed spread is in the covariance of all others too. Views that fit far
/// worse than the others are left out. Parameter covariance from the joint least squares over camera and poses. The
/// cross-validated error is that of views left out in turn (five folds), each posed by half of its corners and judged
/// on the other half. Throws InputError: too few usable views, all in one pose, different sizes, an RMS beyond the
/// limit.
[[nodiscard]] CameraCalibration calibrate_camera(const std::vector<BoardView>& views, const Board& board,
                                                 const Progress& progress = {});

}  // namespace canewise
