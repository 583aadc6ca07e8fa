#pragma once

#include <array>
#include <cstddef>

#include "scanproc/words/message.h"

namespace canewise {

/// Static figures of a reed's bending on its mouthpiece. Stiffness: force over the mean deflection of the patch that it
/// is spread over, N/mm, where it leaves half of the tip's opening (HalfClosed); a patch to one side closes that side.
/// Imbalance: right over left, as a share of their mean; 0.05 is 'the right is 5 % stiffer'.
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

}  // namespace canewise
