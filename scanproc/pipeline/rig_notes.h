#pragma once

#include <string>

#include "scanproc/pipeline/result.h"
#include "scanproc/words/message.h"

namespace canewise {

/// What a person must know of the rig behind a result: none was named, it was never calibrated or long ago, left and
/// right were never proved, its check against touch was of another moisture.
[[nodiscard]] Messages rig_notes(const Result& result);

/// Days between two ISO 8601 moments; 0 if either is not one.
[[nodiscard]] double days_between(const std::string& earlier, const std::string& later);

}  // namespace canewise
