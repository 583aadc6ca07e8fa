#pragma once

#include <optional>
#include <string>
#include <vector>

#include "scanproc/datum/instrument.h"
#include "scanproc/datum/place_reed.h"
#include "scanproc/scan/cloud.h"
#include "scanproc/scan/rig.h"
#include "scanproc/thickness/layings.h"
#include "scanproc/thickness/measure_thickness.h"

namespace canewise {

/// Each scan measured by itself on its plate. Empty where one of them does not show the whole reed: then they are
/// passes and no layings.
[[nodiscard]] std::optional<Layings> layings_of(const std::vector<Cloud>& scans, const Rig& rig,
                                                const Instrument* instrument, ThicknessOptions options);

/// Puts the seating that the layings show into the rig's priors and returns what people must know of it.
std::string heed_layings(const Layings& layings, bool laid_anew, Rig& rig);

/// True if the rig's seating comes from layings of the reed itself.
[[nodiscard]] bool is_seating_from_layings(const Rig& rig);

}  // namespace canewise
