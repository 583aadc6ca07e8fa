#pragma once

#include <string>
#include <vector>

#include "scanproc/assess/zones.h"
#include "scanproc/pipeline/result.h"
#include "scanproc/rig/rig.h"
#include "scanproc/thickness/layings.h"
#include "scanproc/words/message.h"

namespace canewise {

/// As between the results' maps. Throws UsageError for maps of another cell size or of reeds of another length or width
/// (by more than 1 mm).
[[nodiscard]] MapTilt tilt_between(const Result& map, const Result& reference);

/// One reed, seated several times with its tip one way on the plate and several times turned by half a turn.
struct Reversal {
  struct Zone {
    AcrossBand across = AcrossBand::rail;
    AlongBand along = AlongBand::middle;
    std::string name;                       ///< Of both, as a key: 'rail, front'.
    double reed_um = 0.0, u_reed_um = 0.0;  ///< Right minus left that belongs to the reed: half the sum...
    double rig_um = 0.0, u_rig_um = 0.0;    ///< ...and to the rig, as the straight scans show it: half the difference.
  };
  std::vector<Zone> zones;
  double rig_roll_um = 0.0, u_rig_roll_um = 0.0;  ///< The rig's part as a rise of the right edge.
  double seating_height_um = 0.0, seating_pitch_um = 0.0, seating_roll_um = 0.0;  ///< From seating to seating, one sd.
  double degrees_of_freedom = 0.0;
  std::vector<MapTilt> straight, turned;  ///< Each seating against the mean of its own kind.
  Messages verdict;
};
inline constexpr std::size_t kFewestSeatings = 4;

/// Throws UsageError: too few seatings of a kind, reeds that differ, other moisture states.
[[nodiscard]] Reversal evaluate_reversal(const std::vector<Result>& straight, const std::vector<Result>& turned);

/// Puts the seating's standard deviations, widened for their few degrees of freedom, and the rig's own roll into the
/// rig.
void apply_reversal(Rig& rig, const Reversal& reversal, const std::string& date);

}  // namespace canewise
