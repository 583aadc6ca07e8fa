#pragma once

#include <array>

#include "scanproc/mechanics/bending_figure.h"
#include "scanproc/mechanics/half_closed.h"
#include "scanproc/mechanics/mouthpiece.h"
#include "scanproc/mechanics/reed_plate.h"

namespace canewise {

/// The tip's patches: `kTipPatch_mm` square, left and right ones at this share of the half width.
inline constexpr double kTipPatch_mm = 2.0;
inline constexpr double kTipPatchAside = 0.6;

struct BendingValues {
  std::array<double, kBendingFigureCount> value{};
  std::array<PlateDerivative, kBendingFigureCount> derivative;  ///< Empty unless asked for.
};

/// One reed's plate with its patches over its mouthpiece, evaluated for any thickness.
class BendingFigures {
 public:
  BendingFigures(ReedPlate reed, const Outline& outline, const Embouchure& embouchure);
  [[nodiscard]] const ReedPlate& reed() const { return reed_; }
  /// Of the plate as it was measured.
  [[nodiscard]] const Plate& plate() const { return plate_; }
  /// On rails that are both as the mean of the mouthpiece's two: what a crooked facing does is not the reed's.
  [[nodiscard]] BendingValues of(const Plate& plate, bool with_derivatives) const;
  /// On these rails; `reed` is the plate over places().
  [[nodiscard]] BendingValues on(const Mouthpiece& mouthpiece, const Plate& plate, const ReedOnFacing& reed,
                                 bool with_derivatives = false) const;
  /// The stiffness under the lip alone, as of() gives it.
  [[nodiscard]] double stiffness_lip(const Plate& plate) const;
  /// The state in which that is read.
  [[nodiscard]] HalfClosed closed_by_lip(const Mouthpiece& mouthpiece, const Plate& plate,
                                         const ReedOnFacing& reed) const;
  /// With nothing under the vamp, as in the hand or on a bench.
  [[nodiscard]] BendingValues free_of(const Plate& plate, bool with_derivatives) const;
  /// Where it may lie on its mouthpiece.
  [[nodiscard]] const RailPlaces& places() const { return places_; }
  [[nodiscard]] const Mouthpiece& even_mouthpiece() const { return even_; }
  /// 3N x 6, a newton each: tip left, centre, right, lip, lip left, lip right.
  [[nodiscard]] const Eigen::MatrixXd& loads() const { return loads_; }
  static constexpr Eigen::Index kLipLoad = 3;
  /// With another thickness at the points, everything else alike.
  [[nodiscard]] Plate plate_with(const Eigen::VectorXd& thickness_mm) const;
  /// 3N forces of a patch of this width across (and length along), 1 N in all, and of one over the whole width.
  [[nodiscard]] Eigen::VectorXd patch(double x_mm, double y_mm, double length_mm, double width_mm) const;

 private:
  ReedPlate reed_;
  Plate plate_;
  RailPlaces places_;
  Mouthpiece even_;
  Eigen::MatrixXd loads_;
};

}  // namespace canewise
