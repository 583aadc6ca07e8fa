#pragma once

#include "scanproc/pipeline/result.h"

namespace canewise {

/// A result as its file holds it, so that one that was just measured and one that was read are equal: fields to the
/// file's digits; without what only a measurement needs (slopes, the map's common effects, sensitivities that nobody
/// acts on, the rig's own calibration).
[[nodiscard]] Result keep(Result result);

}  // namespace canewise
