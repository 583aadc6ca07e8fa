#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "scanproc/core/output_place.h"
#include "scanproc/core/own_folder.h"

namespace canewise {

struct OutputFile {
  std::string name;  ///< Without folders.
  std::string bytes;
};

/// Writes a folder that is canewise's as a whole. It is built and flushed beside its place and takes it in one step:
/// killed at any moment, the old folder is there as it was or the new one with all its files. Of a folder that was
/// there
/// - an empty one, or one of this kind (`own`); any other is refused - every file that is not of `own.names` lives on
/// in the new one, as do its mode and links that lead to it; files of an earlier run that this one does not write go.
///
/// Where the file system cannot exchange two folders, the old one waits under a hidden name while the new one is
/// renamed; a writer killed between the two leaves no folder, and the next one to write there puts the old one back.
/// A folder that cannot change places at all (a mount point, the current folder, one in a folder that takes no new
/// names) is written by write_output_files(): all or none, but a kill in the middle leaves some files new.
///
/// Throws OutputError that says what is left; nothing half-written stays behind.
void write_output_folder(const std::filesystem::path& folder, const std::vector<OutputFile>& files,
                         const OwnFolder& own);

}  // namespace canewise
