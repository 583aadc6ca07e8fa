#pragma once

#include <optional>
#include <string>
#include <vector>

#include "scanproc/clouds/cloud.h"
#include "scanproc/datum/instrument.h"
#include "scanproc/datum/place_reed.h"
#include "scanproc/pipeline/load_scans.h"
#include "scanproc/rig/rig.h"
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

/// Several scans as they were read, to be measured one by one as well; empty for a single scan.
struct WholeScans {
  std::vector<Cloud> clouds;
  std::vector<std::string> digests;  ///< Of their files: one scan named twice is no second laying.
};
/// Waits for the digests where there is more than one scan.
[[nodiscard]] WholeScans whole_scans(LoadedScans& scans);

struct SeatingOptions {
  bool laid_anew = false;  ///< Somebody says that the reed was laid down anew from scan to scan.
  DatumMode datum = DatumMode::plate;
  const Instrument* instrument = nullptr;
  ThicknessOptions thickness;
};
/// What several scans of one reed tell of how it seats.
struct SeatingFromScans {
  std::optional<Layings> layings;  ///< Empty: the scans tell nothing of it.
  Rig rig;                         ///< With the seating that the layings show.
  Messages notes;
  bool in_doubt = false;  ///< See SeatingSeen.
};
/// Throws UsageError where somebody says that the reed was laid anew and the scans cannot show it.
[[nodiscard]] SeatingFromScans seating_from(const WholeScans& whole, const Rig& rig, const SeatingOptions& options);

/// True if the rig's seating comes from layings of the reed itself.
[[nodiscard]] bool is_seating_from_layings(const Rig& rig);

}  // namespace canewise
