#pragma once

#include <array>

#include "scanproc/mechanics/reed_plate.h"
#include "scanproc/words/message.h"

namespace canewise {

/// Static figures of a reed's bending. Stiffness: force over the mean deflection of the patch that it is spread over,
/// N/mm. Imbalance: right over left, as a share of their mean; 0.05 is 'the right is 5 % stiffer'.
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

struct BendingValues {
  std::array<double, kBendingFigureCount> value{};
  std::array<PlateDerivative, kBendingFigureCount> derivative;  ///< Empty unless asked for.
};

/// One reed's plate with its patches, evaluated for any thickness.
class BendingFigures {
 public:
  BendingFigures(ReedPlate reed, const Outline& outline, const Lip& lip);
  [[nodiscard]] const ReedPlate& reed() const { return reed_; }
  /// Of the plate as it was measured.
  [[nodiscard]] const Plate& plate() const { return plate_; }
  [[nodiscard]] BendingValues of(const Plate& plate, bool with_derivatives) const;
  /// The figures from what the patches' loads do (3N x 6), however the plate is held.
  [[nodiscard]] std::array<double, kBendingFigureCount> from(const Eigen::MatrixXd& moved) const;
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
  double half_width_mm_;
  Eigen::MatrixXd loads_;
};

}  // namespace canewise
