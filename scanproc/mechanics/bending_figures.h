#pragma once

#include <array>
#include <memory>
#include <optional>

#include "scanproc/mechanics/reed_on_facing.h"
#include "scanproc/mechanics/reed_plate.h"
#include "scanproc/words/message.h"

namespace canewise {

/// Static figures of a reed's bending as it lies on its mouthpiece, the lip pressing it. Stiffness: small further force
/// over the further mean deflection of the patch that it is spread over, N/mm. Imbalance: right over left, as a share
/// of their mean; 0.05 is 'the right is 5 % stiffer'.
enum class BendingFigure {
  stiffness_left,  ///< Patches near the tip...
  stiffness_centre,
  stiffness_right,
  stiffness_lip,  ///< Full width under the lip; what strength is taken from.
  imbalance_tip,  ///< Of the tip's left and right patches.
  imbalance_lip,  ///< Of the left and right half of the lip's patch.
};
inline constexpr std::array kBendingFigures{BendingFigure::stiffness_left,  BendingFigure::stiffness_centre,
                                            BendingFigure::stiffness_right, BendingFigure::stiffness_lip,
                                            BendingFigure::imbalance_tip,   BendingFigure::imbalance_lip};
inline constexpr std::size_t kBendingFigureCount = kBendingFigures.size();
[[nodiscard]] constexpr std::size_t index_of(BendingFigure figure) { return static_cast<std::size_t>(figure); }
/// The same for people.
[[nodiscard]] Message title_of(BendingFigure figure);
[[nodiscard]] constexpr bool is_imbalance(BendingFigure figure) {
  return figure == BendingFigure::imbalance_tip || figure == BendingFigure::imbalance_lip;
}

/// The tip's patches: `kTipPatch_mm` square, left and right ones at this share of the half width.
inline constexpr double kTipPatch_mm = 2.0;
inline constexpr double kTipPatchAside = 0.6;

/// Nobody knows the force of a lip better than to this factor either way.
inline constexpr double kLipFactor = 1.4;

struct BendingValues {
  std::array<double, kBendingFigureCount> value{};
  std::array<PlateDerivative, kBendingFigureCount> derivative;  ///< Empty unless asked for.
  std::array<double, kBendingFigureCount> free{};               ///< With nothing under the vamp.
  std::array<double, kBendingFigureCount> light{}, firm{};      ///< With a lip lighter or firmer by kLipFactor.
  std::array<double, kBendingFigureCount> even_facing{};        ///< With both rails as the mean of the two.
  double left_rests_mm = 0.0, right_rests_mm = 0.0;  ///< The reed lies on each rail from here on, from the tip.
};

/// One reed's plate with its patches, evaluated for any thickness.
class BendingFigures {
 public:
  BendingFigures(ReedPlate reed, const Outline& outline, const Embouchure& embouchure);
  [[nodiscard]] const ReedPlate& reed() const { return reed_; }
  [[nodiscard]] const Embouchure& embouchure() const { return embouchure_; }
  /// Of the plate as it was measured.
  [[nodiscard]] const Plate& plate() const { return *plate_; }
  /// The same over the rails, and how it lies on them under the lip; null without rails.
  [[nodiscard]] const ReedOnFacing* on_facing() const { return on_facing_.get(); }
  [[nodiscard]] Pressed under_lip() const;
  [[nodiscard]] BendingValues of(const Plate& plate, bool with_derivatives) const;
  /// With another thickness at the points, everything else alike.
  [[nodiscard]] Plate plate_with(const Eigen::VectorXd& thickness_mm) const;
  /// 3N forces of a patch of this width across (and length along), 1 N in all, and of one over the whole width.
  [[nodiscard]] Eigen::VectorXd patch(double x_mm, double y_mm, double length_mm, double width_mm) const;
  /// Of the lip over the whole width, 1 N.
  [[nodiscard]] Eigen::VectorXd lip_patch() const { return loads_.col(3); }

 private:
  ReedPlate reed_;
  Embouchure embouchure_;
  std::unique_ptr<Plate> plate_;  ///< Stays where it is when this is moved.
  RailPlaces places_;
  std::unique_ptr<ReedOnFacing> on_facing_;
  Eigen::MatrixXd loads_;  ///< 3N x 6: tip left, centre, right, lip, lip left, lip right.
};

}  // namespace canewise
