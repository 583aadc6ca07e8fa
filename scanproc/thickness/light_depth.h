#pragma once

#include "scanproc/rig/rig_calibration.h"
#include "scanproc/thickness/thickness_map.h"

namespace canewise {

/// Adds to the map what a cross-check against touch found that light does not see of cane, and puts that check's own
/// uncertainty in the place of the prior's.
void correct_light(ThicknessMap& map, const LightDepth& light);

}  // namespace canewise
