#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "scanproc/words/message.h"

namespace canewise {

/// A result folder of the served folder.
struct ResultEntry {
  std::string name, measured_at, state;
  Messages headline;  ///< Empty where the file holds something else.
};

/// Those with a result.json, last measured first. What cannot be read is left out. Each is read once and again only
/// when its file changed.
class ResultList {
 public:
  explicit ResultList(std::filesystem::path folder) : folder_(std::move(folder)) {}
  [[nodiscard]] std::vector<ResultEntry> entries();

 private:
  struct Known {
    std::filesystem::file_time_type written;
    std::uintmax_t bytes = 0;
    ResultEntry entry;
  };
  std::filesystem::path folder_;
  std::vector<Known> known_;
};

/// The result folder of that name directly in `folder`; nothing for anything else, links out of it included.
[[nodiscard]] std::optional<std::filesystem::path> result_folder(const std::filesystem::path& folder,
                                                                 const std::string& name);

/// A file name that a stranger gave, made one of ours: letters, digits, '.', '-', '_' and blanks; no folder, not
/// hidden, not long. Empty if nothing of it is left.
[[nodiscard]] std::string safe_file_name(std::string_view given);

/// The whole file; nothing if it is not there.
[[nodiscard]] std::optional<std::string> file_bytes(const std::filesystem::path& path);

}  // namespace canewise
