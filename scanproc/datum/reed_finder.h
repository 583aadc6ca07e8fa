#pragma once

#include <Eigen/Core>
#include <Eigen/Geometry>
#include <string>
#include <vector>

#include "scanproc/datum/rim.h"
#include "scanproc/words/message.h"

namespace canewise {

/// Where the reed lies, good to about half a millimetre.
struct ReedGuess {
  Eigen::Isometry3d rough_from_plate = Eigen::Isometry3d::Identity();  ///< x from tip to butt, y right; apex near 0.
  double length_mm = 0.0;
  double width_mm = 0.0;  ///< Largest width.
  Messages notes;
};

/// Finds the one whole reed among what stands on the plate and tells it from clutter. `points_mm` are in the frame of
/// the plate, or of the reed's table where nothing lies beside it (z up). Throws NotMeasurable with the reason: nothing
/// there, several reeds, half a reed, a round thing, a reed lying table up.
[[nodiscard]] ReedGuess find_reed(const Eigen::Matrix3Xd& points_mm, double plate_noise_mm, Beside beside);

/// Every whole reed in view, from left to right as seen with the first one's tip up. Throws NotMeasurable if none is.
[[nodiscard]] std::vector<ReedGuess> find_reeds(const Eigen::Matrix3Xd& points_mm, double plate_noise_mm);

}  // namespace canewise
