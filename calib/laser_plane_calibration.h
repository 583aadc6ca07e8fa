#pragma once

#include <string>
#include <vector>

#include "calib/board_pose.h"
#include "scanproc/core/progress.h"
#include "scanproc/images/line_centres.h"
#include "scanproc/rig/rig_calibration.h"
#include "scanproc/words/message.h"

namespace canewise {

inline constexpr std::size_t kFewestPlanePoses = 4;

/// A board, and the laser's line on it in the same place.
struct LineOnBoard {
  BoardView board;
  GreyPicture line;
};

struct LaserPlaneCalibration {
  LaserPlane found;
  struct Pose {
    std::string name;
    Message advice;          ///< Why it was left out, or empty.
    double rms_um = 0.0;     ///< Of its points about the plane.
    double offset_um = 0.0;  ///< Their mean distance from it.
    std::size_t points = 0;
  };
  std::vector<Pose> poses;
  /// Every point used: place in the picture and distance from the plane, for the residual map.
  struct Residual {
    double column, row, distance_um;
    std::size_t pose;
  };
  std::vector<Residual> residuals;
  double crossing_deg = 0.0;  ///< Widest angle between the lines: small means that the plane hangs on one direction.
  double chi_square_per_degree = 0.0;
};

/// The plane of light from its lines on boards in several poses. Only where the board is plain: ink would pull the
/// line's middle. Each pose gives two points (the ends of its line) with the covariance that its pose and the line's
/// noise cause; generalised least squares for q (q . X = 1) over all of them, and how q follows the camera's
/// parameters. Throws InputError: too few usable poses, no line, lines all alike.
[[nodiscard]] LaserPlaneCalibration calibrate_laser_plane(const CalibratedCamera& camera,
                                                          const std::vector<LineOnBoard>& poses, const Board& board,
                                                          const Progress& progress = {});

/// The same by another way, to check the first: homogeneous total least squares over all points, weights alike.
[[nodiscard]] Eigen::Vector3d plane_by_svd(const std::vector<Eigen::Vector3d>& points_mm);

}  // namespace canewise
