#pragma once

#include <string>
#include <vector>

#include "scanproc/clouds/cloud.h"
#include "scanproc/rig/rig.h"
#include "scanproc/words/message.h"

namespace canewise {

/// Takes from a scan what the rig is known to do wrong: the form of its plate, and the scale of heights. The form only
/// where the scan's plate lies where its map was made (within 1 mm and 2 degrees), and the scale only where the plate
/// faces the same way (within 5 degrees); else nothing is changed. Returns what people should know.
[[nodiscard]] Messages correct_by_rig(Cloud& cloud, const Rig& rig);

}  // namespace canewise
