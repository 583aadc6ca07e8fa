#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "scanproc/core/output_folder.h"

namespace canewise {

/// Writes files into a folder that is the user's, and removes the files `drop` there. All are written and flushed in a
/// hidden folder first and then renamed in the order of the list, each on the disk before the next; if one cannot be,
/// those before it are put back as they were. Killed in the middle, each file is the old one or the new one, and none
/// is new before those that precede it in the list are. A folder that is not there appears complete. Other files in it
/// are left alone. Throws OutputError that says what is left.
void write_output_files(const std::filesystem::path& folder, const std::vector<OutputFile>& files,
                        const std::vector<std::string>& drop = {});

}  // namespace canewise
