#pragma once

#include <string>

#include "scanproc/ledger/records.h"
#include "scanproc/words/speech.h"

namespace canewise {

/// 'canewise reed list': one line. 'B3-7  box B3, Anna, playing, reference reed'.
[[nodiscard]] std::string reed_line(const ReedRecord& reed, const Speech& speech);

/// 'canewise reed show': what is known of one reed, its latest scan, how it was played. Throws UsageError if there is
/// none of that name.
[[nodiscard]] std::string reed_screen(const Ledger& ledger, const std::string& label, const Speech& speech);

}  // namespace canewise
