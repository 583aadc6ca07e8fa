#pragma once

namespace canewise {

/// Answer of the player's rolling test (common practice: one side damped by the lip at a time): which side speaks less
/// freely.
enum class RollingTest { not_done, left, right, even };

/// Assumptions: a player hears a side as less free from this difference of stiffness on, give or take the blur.
inline constexpr double kNoticedImbalance = 0.04;
inline constexpr double kNoticedBlur = 0.02;

/// The imbalance at the tip as shape alone gives it, and how it follows the cane's own left-right difference.
struct ShapeImbalance {
  double value = 0.0, u = 0.0;
  double by_cane = 0.0;  ///< Change of the imbalance for a relative left-right difference of the moduli.
  double cane_sd = 0.0;  ///< Standard deviation of that difference from reed to reed.
};

/// What shape and test say together.
struct ImbalanceBelief {
  double imbalance = 0.0;    ///< Expected.
  double cane = 0.0;         ///< Expected left-right difference of the moduli.
  double probability = 1.0;  ///< That a reed of this shape gives this answer.
};

/// Normal prior, cut off where the answer says: mean of a truncated normal ([JCGM101], Bayes).
[[nodiscard]] ImbalanceBelief believe(const ShapeImbalance& shape, RollingTest answer);

}  // namespace canewise
