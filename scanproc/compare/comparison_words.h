#pragma once

#include "scanproc/compare/comparison.h"

namespace canewise {

/// The comparison with its sentence, its remarks and what is left to do.
[[nodiscard]] Comparison in_words(Comparison comparison, const Result& before, const Result& after);

}  // namespace canewise
