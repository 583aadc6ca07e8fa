#pragma once

#include <string>

#include "scanproc/assess/table_form.h"

namespace canewise {

/// 'The table is flat', 'The table is warped', or that the scan cannot tell.
[[nodiscard]] std::string table_verdict(const TableForm& table);
/// Bow, cup and twist with U95 against the tolerance, and what to do.
[[nodiscard]] std::string table_sentence(const TableForm& table);

}  // namespace canewise
