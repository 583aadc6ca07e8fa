#pragma once

#include <string>

#include "scanproc/pipeline/result.h"

namespace canewise {

/// 'A filed B-flat clarinet reed on a thick blank: the right rail is 24 um too thick in the middle.'
[[nodiscard]] std::string headline_of(const Result& result);
/// 'This scan can see a left-right difference of 4 um at the tip and 3 um elsewhere.'
[[nodiscard]] std::string certainty_of(const Result& result);
/// 'a filed reed, thick blank, squarer tip' and the like, for titles.
[[nodiscard]] std::string kind_of(const Result& result);

}  // namespace canewise
