#include "scanproc/bytes/dated_copy.h"

#include <vector>

#include "scanproc/bytes/scan_file.h"
#include "scanproc/core/error.h"
#include "scanproc/core/output_files.h"
#include "scanproc/core/utc.h"

namespace canewise {

std::string write_keeping_old(const std::filesystem::path& path, const std::string& bytes) {
  const auto folder = path.has_parent_path() ? path.parent_path() : std::filesystem::path(".");
  std::vector<OutputFile> files;
  std::string kept;
  if (is_there(path)) {
    std::error_code error;
    if (!std::filesystem::is_regular_file(path, error)) {
      throw OutputError({"in_file", {{"file", text(path.string())}, {"what", part({"scan_file.not_regular"})}}});
    }
    std::string date = now_utc();
    std::erase_if(date, [](char c) { return c == ':' || c == '-'; });
    kept = path.stem().string() + "-before-" + date + path.extension().string();
    // Two steps within a second: the older copy stays.
    for (int n = 2; is_there(folder / kept); ++n)
      kept = path.stem().string() + "-before-" + date + "-" + std::to_string(n) + path.extension().string();
    files.push_back({kept, std::filesystem::file_size(path) > 0 ? ScanFile(path).all() : std::string()});
  }
  files.push_back({path.filename().string(), bytes});
  write_output_files(folder, files);
  return kept;
}

}  // namespace canewise
