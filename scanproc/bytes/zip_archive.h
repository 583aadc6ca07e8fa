#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "scanproc/bytes/scan_file.h"

namespace canewise {

/// A zip archive in memory. Nothing is ever unpacked to disk; a name inside it is only ever looked up, never followed.
class ZipArchive {
 public:
  /// Throws InputError for a damaged archive or one with absurdly many members.
  explicit ZipArchive(const ScanFile& file);
  ~ZipArchive();
  ZipArchive(const ZipArchive&) = delete;
  ZipArchive& operator=(const ZipArchive&) = delete;

  /// Folders ("" or ending in '/') that hold a member called `base`, the least deep first. Names that leave the archive
  /// are left out.
  [[nodiscard]] std::vector<std::string> folders_of(std::string_view base) const;
  /// Unpacked size of a member as the archive states it; empty if there is no such member or its name leaves the
  /// archive ('..', a drive, a leading slash).
  [[nodiscard]] std::optional<std::uint64_t> size_of_member(const std::string& name) const;
  /// The member's bytes, which must be exactly as many as stated and at most `limit`. Throws InputError.
  [[nodiscard]] std::string read_member(const std::string& name, std::uint64_t limit) const;

 private:
  struct State;
  std::unique_ptr<State> state_;
};

/// A zip archive with the given members (name, bytes), packed.
[[nodiscard]] std::string zip_bytes(const std::vector<std::pair<std::string, std::string>>& members);

}  // namespace canewise
