#pragma once

#include <vector>

#include "scanproc/datum/aligned.h"
#include "scanproc/rig/rig.h"
#include "scanproc/thickness/thickness_map.h"

namespace canewise {

/// The effects that move many cells together: how far each shifts every cell's thickness for one standard deviation.
/// `map` needs grid, thickness_mm and slopes. Shapes are those that `Priors` states.
[[nodiscard]] std::vector<CommonEffect> common_effects(const ThicknessMap& map, const Aligned& aligned,
                                                       const Priors& priors);

}  // namespace canewise
