#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace canewise {

struct OutputFile {
  std::string name;  ///< Without folders.
  std::string bytes;
};

/// True if something of that name is there. Throws OutputError where the name cannot be asked for (too long, say).
[[nodiscard]] bool is_there(const std::filesystem::path& path);

/// Writes all files into `folder` or none: they are written and flushed beside their place first and renamed only when
/// all of them are on the disk; the last of the list is renamed last. A new folder appears complete. Other files in the
/// folder are left alone. Throws OutputError; nothing half-written stays behind.
void write_output_folder(const std::filesystem::path& folder, const std::vector<OutputFile>& files);

}  // namespace canewise
