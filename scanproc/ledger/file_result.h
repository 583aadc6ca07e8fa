#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "scanproc/ledger/ledger.h"
#include "scanproc/pipeline/result.h"

namespace canewise {

/// A new reed that nobody has measured or played yet. A label like 'B3-7' belongs to box 'B3' as its seventh, if there
/// is such a box. Throws UsageError if there is a reed of that name, or one that differs in capitals alone.
void add_reed(Ledger& ledger, const std::string& label, const std::string& note = {});

/// Whose reed that is, as the ledger has it now; of one that is not there yet, as add_reed would have it. Throws
/// UsageError for what can be no label.
[[nodiscard]] ReedName whose_reed(const Ledger& ledger, const std::string& label);

/// Files a measurement that lies in `folder` under the reed that it names, which is added if it is not there. Filing it
/// again replaces what was filed.
void file_result(Ledger& ledger, const std::filesystem::path& folder, const Result& result);

struct AdoptedResult {
  std::filesystem::path folder;
  std::string reed;
  Message refusal;  ///< Why it was left out; empty if it was filed.
};

/// Files every result below `above` that is not filed yet, however old: under the reed that it names (box and player
/// are added where the ledger lacks them), else under the name of its folder. Comparisons and other folders are passed
/// by. Each is filed whole or not at all.
[[nodiscard]] std::vector<AdoptedResult> adopt_results(Ledger& ledger, const std::filesystem::path& above);

}  // namespace canewise
