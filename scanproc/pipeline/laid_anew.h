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
#include "scanproc/words/message.h"

namespace canewise {

/// Each scan measured by itself on its plate. Empty where one of them does not show the whole reed: then they are
/// passes and no layings.
[[nodiscard]] std::optional<Layings> layings_of(const std::vector<Cloud>& scans, const Rig& rig,
                                                const Instrument* instrument, ThicknessOptions options);

struct SeatingSeen {
  Message note;  ///< For people.
  /// The layings differ by more than seating explains: no cane is to come off before that is mended.
  bool in_doubt = false;
};
/// Puts the seating that the layings show into the rig's priors. `laid_anew` as in seating_of.
SeatingSeen heed_layings(const Layings& layings, bool laid_anew, Rig& rig);

/// Whole scans stand each on its own plate: where they were joined askew in height, roll or pitch, plate and reed went
/// together, and the thickness between them did not change.
void stand_on_own_plates(Registration& registration);

/// True if the rig's seating comes from layings of the reed itself.
[[nodiscard]] bool is_seating_from_layings(const Rig& rig);

}  // namespace canewise
