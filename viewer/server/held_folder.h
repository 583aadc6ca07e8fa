#pragma once

#include <cstdint>
#include <ctime>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace canewise {

/// When a file was last written and how long it is.
struct FileState {
  std::timespec written{};
  std::uintmax_t bytes = 0;
  [[nodiscard]] bool operator==(const FileState& other) const {
    return written.tv_sec == other.written.tv_sec && written.tv_nsec == other.written.tv_nsec && bytes == other.bytes;
  }
};

/// A folder that was opened once. What is read in it is found from there, step by step, and no step follows a link: a
/// link that takes a name's place at whatever moment leads nowhere.
class HeldFolder {
 public:
  /// Throws OutputError if it cannot be opened.
  explicit HeldFolder(const std::filesystem::path& path);
  ~HeldFolder();
  HeldFolder(const HeldFolder&) = delete;
  HeldFolder& operator=(const HeldFolder&) = delete;

  /// Whether its path still leads to it, and not to another that took its place.
  [[nodiscard]] bool is_in_place() const;
  /// Of all that lies in it, in no order; at most so many.
  [[nodiscard]] std::vector<std::string> names(std::size_t most) const;
  /// A regular file in one of its folders, whole; nothing if it is not there, is something else or has more bytes.
  [[nodiscard]] std::optional<std::string> read(const std::string& folder, const std::string& file,
                                                std::uintmax_t most_bytes) const;
  [[nodiscard]] std::optional<FileState> state(const std::string& folder, const std::string& file) const;

 private:
  std::filesystem::path path_;
  int descriptor_;
};

/// The name of something directly in a folder: no other folder, not hidden.
[[nodiscard]] bool is_plain_name(const std::string& name);

}  // namespace canewise
