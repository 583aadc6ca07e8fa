#pragma once

#include <string>

#include "scanproc/mechanics/player.h"
#include "scanproc/words/message.h"

namespace canewise {

/// How many times stiffer a reed of a half strength more is, if the player's own reeds do not say: an assumption.
inline constexpr double kStiffnessPerHalf = 1.15;
inline constexpr double kStiffnessPerHalfSpread = 0.05;  ///< Relative standard deviation of that.

/// The player's scale: ln(stiffness) = reference + halves * step. Weighted least squares on the player's known reeds,
/// with the step's assumption as a prior; their scatter joins the assumed spread between reeds.
struct StrengthScale {
  bool has_reference = false;
  double reference_n_per_mm = 0.0;
  double step = 0.0, u_step = 0.0;  ///< Of the logarithm, for a half strength.
  double u_reference_rel = 0.0;
  double reference_with_step = 0.0;  ///< Covariance of the two.
  double between_reeds_rel = 0.0;    ///< Of one reed's cane against another's.
  int reeds = 0;
  bool marks_contradict = false;  ///< What was called harder is not stiffer: the step is the assumed one then.
};
/// `known` measured in one state of moisture.
[[nodiscard]] StrengthScale strength_scale(const std::vector<KnownReed>& known, double between_reeds_rel);

/// A reed on that scale.
struct Strength {
  bool known = false;
  double halves = 0.0;    ///< Against the reference; negative is softer.
  double u_halves = 0.0;  ///< Standard uncertainty.
  Messages sentence;      ///< 'A quarter softer than your reference, between a half softer and like the reference.'
  Message advice;         ///< What that is likely to play like, or how to get a scale.
};
/// `u_scan_rel` of the stiffness under the lip.
[[nodiscard]] Strength place_on_scale(const StrengthScale& scale, double stiffness_n_per_mm, double u_scan_rel,
                                      const Player& player);

}  // namespace canewise
