#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "scanproc/pipeline/result.h"
#include "scanproc/pipeline/result_caps.h"
#include "scanproc/words/message.h"
#include "viewer/server/held_folder.h"

namespace canewise {

/// No result is larger.
inline constexpr std::uintmax_t kMostResultBytes = kResultCaps.file_mib << 20U;

/// A result folder of the served folder.
struct ResultEntry {
  std::string name, measured_at, state;
  ReedName reed;
  Messages headline;  ///< Empty where the file holds something else.
};

/// Those with a result.json, last measured first. What cannot be read is left out. Each is read once and again only
/// when its file changed.
class ResultList {
 public:
  static constexpr std::size_t kMost = 10000;  ///< Folders that are looked at.
  struct Listed {
    std::vector<ResultEntry> entries;
    bool more = false;  ///< There are others, which were not read this time.
  };
  /// `may_read` is asked before each file that has to be read.
  [[nodiscard]] Listed list(const HeldFolder& folder, const std::function<bool()>& may_read);

 private:
  struct Known {
    FileState state;
    std::optional<ResultEntry> entry;  ///< Nothing where the file is no result.
  };
  std::map<std::string, Known> known_;
};

/// Bytes of result.json; nothing if there is no result of that name, or one larger than any result is.
[[nodiscard]] std::optional<std::string> result_bytes(const HeldFolder& folder, const std::string& name);

/// A file name that a stranger gave, made one of ours: letters, digits, '.', '-', '_' and blanks; begins with a letter
/// or digit; no folder, not long. Empty if nothing of it is left.
[[nodiscard]] std::string safe_file_name(std::string_view given);

}  // namespace canewise
