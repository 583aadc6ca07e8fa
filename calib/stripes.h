#pragma once

#include <optional>
#include <vector>

#include "calib/laser_plane_calibration.h"

namespace canewise {

/// Line centres of one pose that lie on plain board.
struct Stripe {
  std::size_t pose = 0;  ///< Of the caller's list.
  const BoardView* board = nullptr;
  std::vector<LineCentre> centres;
};

/// Where the ray through a line centre meets the board, camera axes. Empty where the board is nearly edge-on, and where
/// the lens has no such direction.
[[nodiscard]] std::optional<Eigen::Vector3d> on_board(const Camera& camera, const Eigen::Isometry3d& pose,
                                                      const LineCentre& centre);

/// Two points of the straight line through a stripe's points on the board, camera axes: one standard deviation of the
/// points along it to each side of their middle, so that they stay comparable when camera or pose move a little.
struct Ends {
  Eigen::Vector3d first, last;
};
[[nodiscard]] Ends ends_of(const Camera& camera, const Eigen::Isometry3d& pose, const Stripe& stripe);

/// The line in all pictures, and what became of each pose.
struct FoundStripes {
  LineOptions line;
  std::vector<LaserPlaneCalibration::Pose> poses;
  std::vector<Stripe> stripes;
};
[[nodiscard]] FoundStripes find_stripes(const CalibratedCamera& camera, const std::vector<LineOnBoard>& poses,
                                        const Board& board, const Progress& progress);

/// Points far from the plane that all agree on are ink or reflections.
[[nodiscard]] std::vector<Stripe> without_outliers(const Camera& camera, const Eigen::Vector3d& q,
                                                   const std::vector<Stripe>& stripes);

/// Scatter of a stripe's centres about its own straight line.
struct StripeScatter {
  Eigen::Vector3d along;   ///< The line's direction, unit length.
  double end_mm = 0.0;     ///< Noise of the mean that an end is made of...
  double centre_px = 0.0;  ///< ...and of a single centre in the picture.
};
[[nodiscard]] StripeScatter scatter_of(const Camera& camera, const Stripe& stripe);

}  // namespace canewise
