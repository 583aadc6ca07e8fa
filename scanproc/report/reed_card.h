#pragma once

#include <string>

#include "scanproc/ledger/records.h"
#include "scanproc/words/speech.h"

namespace canewise {

/// 'B3-7, box B3, Anna, playing, reference reed'. A part of a sentence.
[[nodiscard]] Message what_reed_is(const ReedRecord& reed);
/// Day, marks and words of a trial. A part of a sentence.
[[nodiscard]] Message trial_message(const TrialRecord& trial);

/// 'canewise reed list': one line. 'B3-7  box B3, Anna, playing, reference reed'.
[[nodiscard]] std::string reed_line(const ReedRecord& reed, const Speech& speech);

/// 'canewise reed show': what is known of one reed, its latest scan, how it was played. Throws UsageError if there is
/// none of that name.
[[nodiscard]] std::string reed_screen(const Ledger& ledger, const std::string& label, const Speech& speech);

}  // namespace canewise
