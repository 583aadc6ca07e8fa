#pragma once

#include "scanproc/bendtest/bend_test.h"

namespace canewise {

/// 'The cane of the left side is 4 ± 2 % stiffer than the right', and how it compares with usual cane.
[[nodiscard]] Messages learned_words(const BendTest& test);

/// What the tap adds, or why it adds nothing.
[[nodiscard]] Message tap_words(const TapWitness& tap);

}  // namespace canewise
