#pragma once

#include <Eigen/Core>
#include <Eigen/Geometry>
#include <optional>

#include "scanproc/datum/plane_search.h"

namespace canewise {

/// A first estimate of the plate, good to a few hundredths of a millimetre.
struct PlateGuess {
  Eigen::Isometry3d plate_from_scan = Eigen::Isometry3d::Identity();  ///< z up from the plate, towards the reed.
  double noise_mm = 0.0;                                              ///< Robust standard deviation of plate points.
  double local_scatter_mm = 0.0;  ///< Of near neighbours against each other; NaN where the points lie too far apart.
  double plate_share = 0.0;       ///< Share of the points that lie on the plate.
};

/// Finds the plate as the plane with the most points (sample consensus [Fischler1981] on a fixed subsample, then robust
/// refits). Where somebody has found it already, only the refits are made, from that plane. Throws NotMeasurable where
/// the points span no plane.
[[nodiscard]] PlateGuess find_plate(const Eigen::Matrix3Xd& points_mm, const std::optional<Plane>& known = {});
/// The plate in the scan's axes.
[[nodiscard]] Plane plane_of(const PlateGuess& plate);

}  // namespace canewise
