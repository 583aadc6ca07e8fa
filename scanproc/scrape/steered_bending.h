#pragma once

#include <array>

#include "scanproc/mechanics/bend_reed.h"
#include "scanproc/scrape/scrape_places.h"

namespace canewise {

/// The figures that a plan steers; imbalances first.
inline constexpr std::array kSteered{BendingFigure::imbalance_tip, BendingFigure::imbalance_lip,
                                     BendingFigure::stiffness_lip};
inline constexpr std::size_t kSteeredImbalances = 2;
using SteeredValues = std::array<double, kSteered.size()>;

/// Steered figures of a reed and how they follow its thickness, linearised where the caller asks. Of a reed whose
/// bending is not known all values are nought.
class SteeredBending {
 public:
  /// Linearises the reed as it is. Keeps references.
  SteeredBending(const BentReed& bent, const ThicknessMap& map);

  [[nodiscard]] bool known() const { return figures_ != nullptr; }
  void linearise_at(const Field& removed_mm);
  /// By shape alone, where it was linearised last.
  [[nodiscard]] const SteeredValues& value() const { return value_; }
  /// Change of a figure for a relative left-right difference of the moduli.
  [[nodiscard]] double by_cane(std::size_t steered) const { return by_cane_.at(steered); }
  /// Change for each millimetre of the place's depth.
  [[nodiscard]] SteeredValues by_depth(const Place& place) const;
  /// All figures, computed anew with so much off. Call only if `known()`.
  [[nodiscard]] BendingValues after(const Field& removed_mm) const;

 private:
  const BendingFigures* figures_;  ///< None if nothing is known of the bending.
  const ThicknessMap* map_;
  SteeredValues value_{}, by_cane_{};
  std::array<Field, kSteered.size()> by_cells_;
};

}  // namespace canewise
