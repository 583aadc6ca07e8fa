#pragma once

#include "scanproc/pipeline/result.h"
#include "scanproc/words/message.h"

namespace canewise {

/// Throws NotMeasurable: the two scans do not show one reed, because of this.
[[noreturn]] void refuse_another_reed(Message why);

/// Throws NotMeasurable if the two are one scan, or if instrument, sizes or length say that they are two reeds or that
/// they come in the wrong order.
void check_that_it_is_one_reed(const Result& before, const Result& after);

}  // namespace canewise
