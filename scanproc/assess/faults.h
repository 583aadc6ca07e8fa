#pragma once

#include <string>
#include <vector>

#include "scanproc/assess/balance.h"
#include "scanproc/assess/features.h"
#include "scanproc/assess/target.h"
#include "scanproc/words/message.h"

namespace canewise {

/// Which of the two sides is not as it should be where they differ.
enum class AtFault { cannot_tell, thicker_side, thinner_side };
/// What says so.
enum class FaultWitness { none, own_profile, target };

/// A place where one side is thicker than the other, with the borders that its cells have.
struct Fault {
  Side thicker = Side::right;
  AcrossBand across = AcrossBand::rail;  ///< Where most of what is too much lies...
  bool in_heart = false;                 ///< ...and whether that is the heart.
  double from_mm = 0.0, to_mm = 0.0;     ///< Along the reed, from the tip.
  double difference_mm = 0.0;            ///< Thicker less thinner side, mean over its cells.
  double u_mm = 0.0;
  double peak_mm = 0.0;       ///< Largest, as a stroke would feel it, less what noise alone may do.
  double tolerance_mm = 0.0;  ///< Of left-right differences, mean over its cells.
  AtFault at_fault = AtFault::cannot_tell;
  FaultWitness witness = FaultWitness::none;
  std::vector<Eigen::Index> cell_indices;  ///< On the right half, column-major; its mirror image is the other side.

  [[nodiscard]] Side thinner() const { return thicker == Side::right ? Side::left : Side::right; }
};

/// 'right rail', 'left half of the heart'.
[[nodiscard]] Message place_of(const Fault& fault, Side side);

/// From this share of the tolerance on, a difference belongs to a fault: less is left by every plan.
inline constexpr double kFaultShare = 0.5;

/// Right minus left as a stroke would feel it: averaged over about a millimetre, on the right half; NaN off the vamp
/// and where it is not cut.
[[nodiscard]] Field felt_difference_mm(const ZonedMap& reed);

/// All faults, the worst against its tolerance first. Which side is at fault is said where the player's own target says
/// it surely, else where the reed's own profile does: what both sides have in common rises under a bump of one side and
/// sinks over a hollow. A built-in target never says it.
[[nodiscard]] std::vector<Fault> find_faults(const ZonedMap& reed, const Balance& balance,
                                             const TargetComparison* target);

/// How much of a fault the common profile shows: +1/2 where the thicker side is too thick, -1/2 where the other is too
/// thin. NaN where the reed leaves nothing to compare with.
struct ProfileWitness {
  double share = 0.0, u = 0.0;
};
[[nodiscard]] ProfileWitness profile_witness(const ZonedMap& reed, const std::vector<Fault>& faults, std::size_t which);

}  // namespace canewise
