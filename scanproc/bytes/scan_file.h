#pragma once

#include <cstdint>
#include <filesystem>
#include <span>
#include <string>

#include "scanproc/words/message.h"

namespace canewise {

/// A file opened for reading at any offset; several threads may read at once. Refuses what is not a regular file
/// (a pipe or a device might never end). Throws InputError that names the file.
class ScanFile {
 public:
  explicit ScanFile(std::filesystem::path path);
  ~ScanFile();
  ScanFile(const ScanFile&) = delete;
  ScanFile& operator=(const ScanFile&) = delete;

  [[nodiscard]] const std::filesystem::path& path() const { return path_; }
  [[nodiscard]] std::uint64_t size() const { return size_; }

  /// Fills `bytes` from `offset`; throws if the file ends before.
  void read_at(std::uint64_t offset, std::span<char> bytes) const;
  /// At most `limit` bytes from the start.
  [[nodiscard]] std::string head(std::size_t limit) const;
  [[nodiscard]] std::string all() const;
  /// 64 hex digits.
  [[nodiscard]] std::string sha256() const;
  /// Throws an InputError: file, what is wrong (with where), what to do.
  [[noreturn]] void fail(Message what_where_and_remedy) const;

 private:
  std::filesystem::path path_;
  std::uint64_t size_ = 0;
  int descriptor_ = -1;
};

}  // namespace canewise
