#pragma once

#include <functional>
#include <string_view>

namespace canewise {

/// Called at the start of each stage with a plain name of it and the share of the work done so far, 0 to 1.
using Progress = std::function<void(std::string_view stage, double fraction)>;

}  // namespace canewise
