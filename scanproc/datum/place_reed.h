#pragma once

#include <optional>
#include <vector>

#include "scanproc/clouds/cloud.h"
#include "scanproc/datum/aligned.h"
#include "scanproc/datum/instrument.h"
#include "scanproc/rig/rig.h"

namespace canewise {

struct PlaceOptions {
  std::optional<DatumMode> datum;          ///< Empty: told by what the scans show.
  const Instrument* instrument = nullptr;  ///< Null: no bands are asked for.
};

/// Brings one or more scans of one reed into the reed frame, by the plate, the pads of a jig, or both sides of the
/// reed. Unless told, a rig with pads means pads, a closed surface of a reed's size or two scans without a plate mean
/// two-sided, and all else means a plate. Throws NotMeasurable with the reason, UsageError where mode and scans do not
/// go together.
[[nodiscard]] Aligned place_reed(std::vector<Cloud> scans, const Rig& rig, const PlaceOptions& options = {});

/// One scan for each whole reed on the plate, from left to right as seen with the first one's tip up. The plate stays
/// in each; the other reeds are cut out with a margin. Throws NotMeasurable if there is none.
[[nodiscard]] std::vector<Cloud> split_reeds(const Cloud& scan, const Rig& rig);

}  // namespace canewise
