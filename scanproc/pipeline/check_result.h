#pragma once

#include "scanproc/pipeline/result.h"

namespace canewise {

/// Throws std::invalid_argument unless every size, count and shape that others compute with is one that a measurement
/// can have: a result's file may have been changed by hand. Values that are only shown are not looked at.
void check(const Result& result);

}  // namespace canewise
