#pragma once

#include "scanproc/datum/aligned.h"
#include "scanproc/datum/instrument.h"
#include "scanproc/scan/cloud.h"
#include "scanproc/scan/rig.h"

namespace canewise {

/// Brings a scan of a reed on a plate into the reed frame: plate plane, reed told from clutter, sides, tip arc, butt,
/// each refitted in turn until nothing moves any more. The cloud is taken over, so that its memory is used in place.
/// `instrument` may be null: then its bands are not asked for.
/// Throws NotMeasurable with the reason where there is not exactly one whole reed, table down, whose tip can be made
/// out.
[[nodiscard]] Aligned align(Cloud cloud, const Rig& rig, const Instrument* instrument = nullptr);

}  // namespace canewise
