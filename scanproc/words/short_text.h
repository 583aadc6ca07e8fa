#pragma once

#include <string_view>

#include "scanproc/words/message.h"

namespace canewise {

/// Of a text from outside, which may be of any length, as much as shows what it is: the first 80 bytes, cut between
/// characters, then dots.
[[nodiscard]] Argument short_text(std::string_view from_outside);

}  // namespace canewise
