#pragma once

#include <optional>

#include "scanproc/clouds/cloud.h"
#include "scanproc/datum/aligned.h"
#include "scanproc/datum/instrument.h"
#include "scanproc/datum/plane_search.h"
#include "scanproc/datum/two_sided.h"
#include "scanproc/rig/rig.h"

namespace canewise {

/// Brings a scan of a reed on a plate into the reed frame: plate plane, reed told from clutter, sides, tip arc, butt,
/// each refitted in turn until nothing moves any more. The cloud is taken over, so that its memory is used in place.
/// `instrument` may be null: then its bands are not asked for. `plate`, in the scan's axes after a mirrored rig's were
/// turned right, spares the search for it.
/// Throws NotMeasurable with the reason where there is not exactly one whole reed, table down, whose tip can be made
/// out.
[[nodiscard]] Aligned align(Cloud cloud, const Rig& rig, const Instrument* instrument = nullptr,
                            const std::optional<Plane>& plate = {});

/// The same for a reed in a jig: its table lies `rig.pads` below the plane of the pads in view; nothing else need be
/// seen. Throws NotMeasurable also where no three pads apart are in view, and UsageError if the rig has no pads.
[[nodiscard]] Aligned align_on_pads(Cloud cloud, const Rig& rig, const Instrument* instrument = nullptr);

/// The same for a reed seen from both sides, whose parts already lie in one frame.
[[nodiscard]] Aligned align_two_sided(BothSides sides, const Rig& rig, const Instrument* instrument = nullptr);

}  // namespace canewise
