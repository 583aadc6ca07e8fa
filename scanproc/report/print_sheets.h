#pragma once

#include <optional>
#include <string>
#include <vector>

#include "scanproc/ledger/records.h"
#include "scanproc/pipeline/result.h"
#include "scanproc/words/speech.h"

namespace canewise {

/// labels.pdf: one label of 63 x 33 mm for each reed, 24 on a sheet of A4, to cut out: the reed's name in large type,
/// its box and strength, who plays it.
[[nodiscard]] std::string labels_pdf(const BoxRecord& box, const std::vector<ReedRecord>& reeds, const Speech& speech);

/// card.pdf: a reed on one sheet of A4: whose it is, how it was found, where its sides differ, what to do, how it
/// played. `result` is its latest. Cautions stand beside what is to be cut.
[[nodiscard]] std::string reed_card_pdf(const ReedRecord& reed, const Result& result,
                                        const std::vector<TrialRecord>& trials, const Speech& speech);

}  // namespace canewise
