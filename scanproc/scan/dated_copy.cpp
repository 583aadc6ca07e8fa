#include "scanproc/scan/dated_copy.h"

#include <vector>

#include "scanproc/core/output_folder.h"
#include "scanproc/core/utc.h"
#include "scanproc/scan/scan_file.h"

namespace canewise {

std::string write_keeping_old(const std::filesystem::path& path, const std::string& bytes) {
  const auto folder = path.has_parent_path() ? path.parent_path() : std::filesystem::path(".");
  std::vector<OutputFile> files;
  std::string kept;
  if (is_there(path)) {
    std::string date = now_utc();
    std::erase_if(date, [](char c) { return c == ':' || c == '-'; });
    kept = path.stem().string() + "-before-" + date + path.extension().string();
    // Two steps within a second: the older copy stays.
    for (int n = 2; is_there(folder / kept); ++n)
      kept = path.stem().string() + "-before-" + date + "-" + std::to_string(n) + path.extension().string();
    files.push_back({kept, ScanFile(path).all()});
  }
  files.push_back({path.filename().string(), bytes});
  write_output_folder(folder, files);
  return kept;
}

}  // namespace canewise
