#pragma once

#include "scanproc/compare/comparison.h"

namespace canewise {

/// Fills in sentence, remarks and what is left to do.
void put_in_words(Comparison& comparison, const Result& before, const Result& after);

}  // namespace canewise
