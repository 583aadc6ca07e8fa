#pragma once

#include <string>

#include "scanproc/compare/comparison.h"

namespace canewise {

/// compare.json: the comparison of the results named `before` and `after`; fields in whole tenths of a micrometre.
[[nodiscard]] std::string json_from_comparison(const Comparison& comparison, const std::string& before,
                                               const std::string& after);

}  // namespace canewise
