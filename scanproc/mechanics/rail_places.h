#pragma once

#include <Eigen/Core>

#include "scanproc/datum/aligned.h"
#include "scanproc/mechanics/mouthpiece.h"
#include "scanproc/mechanics/rail_contact.h"

namespace canewise {

/// Where a reed may lie on a mouthpiece: rows of places along the left and the right rail and along the tip's rail,
/// with samples between them (see ContactRow). Left rail first, then right, then tip, each from the tip on or from left
/// to right.
struct RailPlaces {
  Eigen::Matrix2Xd places_mm;                 ///< n, in the reed frame.
  Eigen::SparseMatrix<double> interpolation;  ///< q x n.
  Eigen::VectorXd length_mm;                  ///< q: of rail.
  Eigen::ArrayXd distance_mm;                 ///< q: from the tip.
  Eigen::ArrayXd side;                        ///< q: -1 on the left rail, 1 on the right, between them on the tip's.
  Eigen::Index rail_samples = 0;              ///< Of either side rail; what follows both is the tip's.

  [[nodiscard]] Eigen::Index first_of_tip() const { return 2 * rail_samples; }
};

/// `tip_x_mm` is where the reed's tip is: behind nought once it was clipped.
[[nodiscard]] RailPlaces rail_places(const Outline& outline, const Mouthpiece& mouthpiece, double tip_x_mm);

/// How far the rails lie below a flat reed at the samples; between the side rails the tip's changes evenly.
[[nodiscard]] Eigen::VectorXd gaps_at(const RailPlaces& places, const FacingCurve& left, const FacingCurve& right);

/// From where on the reed lies on each rail, from the tip: the first place that is pressed at least half as hard as the
/// hardest. The window's end where it lies on none.
struct Resting {
  double left_mm = 0.0, right_mm = 0.0;
};
[[nodiscard]] Resting resting_of(const RailPlaces& places, const Pressed& pressed, double window_end_mm);

}  // namespace canewise
