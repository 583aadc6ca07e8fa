#pragma once

#include "scanproc/pipeline/result.h"
#include "scanproc/words/message.h"

namespace canewise {

/// What a result's file says and no measurement can have said.
struct Impossible {
  Message why;
};

/// Throws Impossible unless every size, count and shape that others compute with is one that a measurement
/// can have: a result's file may have been changed by hand. Values that are only shown are not looked at.
void check(const Result& result);

}  // namespace canewise
