#pragma once

#include <filesystem>
#include <vector>

#include "scanproc/core/output_folder.h"
#include "scanproc/core/progress.h"
#include "scanproc/pipeline/result.h"

namespace canewise {

/// Every file of one measurement, in memory; result.json last.
[[nodiscard]] std::vector<OutputFile> output_files(const Result& result);

/// Writes them into `folder`, all or none.
void write_outputs(const Result& result, const std::filesystem::path& folder);

}  // namespace canewise
