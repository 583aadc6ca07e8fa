#pragma once

#include <functional>

#include "scanproc/words/message.h"

namespace canewise {

/// Called at the start of each stage with what it does and the share of the work done so far, 0 to 1.
using Progress = std::function<void(const Message& stage, double fraction)>;

}  // namespace canewise
