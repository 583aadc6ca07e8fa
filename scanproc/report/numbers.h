#pragma once

#include <string>

namespace canewise {

/// '+12', '-3' or '0': micrometres without a sign where there is nothing to sign.
[[nodiscard]] std::string signed_whole_um(double mm);

}  // namespace canewise
