#pragma once

#include <string>

#include "scanproc/pipeline/result.h"

namespace canewise {

/// 'A filed B-flat clarinet reed, thick blank: the right rail is on average 24 um thicker than the left between 5 and
/// 14 mm from the tip (tolerance 15 um).' Names the thin side where that is the one at fault; place and side are the
/// plan's.
[[nodiscard]] std::string headline_of(const Result& result);
/// 'This scan can see a left-right difference of 4 um at the tip and 3 um elsewhere.'
[[nodiscard]] std::string certainty_of(const Result& result);
/// 'a filed reed, thick blank, squarer tip' and the like, for titles.
[[nodiscard]] std::string kind_of(const Result& result);

}  // namespace canewise
