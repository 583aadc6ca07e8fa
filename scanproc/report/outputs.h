#pragma once

#include <filesystem>
#include <vector>

#include "scanproc/core/output_folder.h"
#include "scanproc/core/progress.h"
#include "scanproc/pipeline/result.h"
#include "scanproc/report/map_files.h"
#include "scanproc/words/speech.h"

namespace canewise {

struct OutputOptions {
  std::vector<MapFormat> save_map;  ///< The map also as surface files.
  Speech speech;                    ///< Of pictures and report.
};

/// Every file of one measurement, in memory; result.json last.
[[nodiscard]] std::vector<OutputFile> output_files(const Result& result, const OutputOptions& options = {});

/// What a folder of one measurement is known by, and every file that canewise ever writes into one.
[[nodiscard]] OwnFolder own_result_folder();

/// Writes them as one folder, the whole or nothing: see write_output_folder(). A folder that holds something and is no
/// measurement's is refused.
void write_outputs(const Result& result, const std::filesystem::path& folder, const OutputOptions& options = {});

}  // namespace canewise
