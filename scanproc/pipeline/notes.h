#pragma once

#include "scanproc/datum/aligned.h"
#include "scanproc/pipeline/result.h"
#include "scanproc/rig/rig.h"

namespace canewise {

/// What the plate shows of the scanner's slow errors: said where it is more than a scanner for reeds should have, and
/// where nothing shows it.
[[nodiscard]] Messages slow_error_notes(const Aligned& aligned, const Priors& priors);

/// What a person must know of a judged result: how much of the reed was seen, what the target is worth, what is only
/// assumed of the rig (rig_notes).
[[nodiscard]] Messages result_notes(const Result& result);

}  // namespace canewise
