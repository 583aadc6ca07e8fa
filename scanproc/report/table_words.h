#pragma once

#include "scanproc/assess/table_form.h"
#include "scanproc/words/message.h"

namespace canewise {

/// 'The table is flat', 'The table is warped', or that the scan cannot tell.
[[nodiscard]] Message table_verdict(const TableForm& table);
/// Bow, cup and twist with U95 against the tolerance, and what to do.
[[nodiscard]] Message table_sentence(const TableForm& table);

}  // namespace canewise
