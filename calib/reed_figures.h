#pragma once

#include "scanproc/pipeline/result.h"

namespace canewise {

// What studies and checks follow of a reed: thickness of the heart, and the rails' left-right difference in the middle
// and at the tip.

[[nodiscard]] double heart_um(const Result& result);
[[nodiscard]] double rails_um(const Result& result);
[[nodiscard]] double tip_um(const Result& result);

/// Of one half of the heart; the whole is no less sure.
[[nodiscard]] const ZoneMean& heart_mean(const Result& result);
[[nodiscard]] const ZoneMean& rails_mean(const Result& result);

}  // namespace canewise
