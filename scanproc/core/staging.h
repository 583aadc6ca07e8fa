#pragma once

#include <filesystem>
#include <string_view>

namespace canewise {

/// A hidden folder beside the place of what is written, filled before anything changes there, gone with the object. Its
/// writer holds a lock on it (flock) while it lives: nobody else takes it for a leftover, whatever its number says.
class Staging {
 public:
  /// Throws std::system_error if `parent` takes no new folder.
  explicit Staging(const std::filesystem::path& parent);
  ~Staging();
  Staging(const Staging&) = delete;
  Staging& operator=(const Staging&) = delete;
  [[nodiscard]] const std::filesystem::path& path() const { return path_; }
  /// Where a new folder is built.
  [[nodiscard]] std::filesystem::path new_folder() const;
  /// Where the folder `name` waits while the new one takes its place, on file systems that cannot exchange them. As
  /// long as the new one has not, whoever takes the staging away puts this one back first.
  [[nodiscard]] std::filesystem::path aside(const std::filesystem::path& name) const;

 private:
  std::filesystem::path path_;
  int lock_ = -1;
};

/// Whether a file name is one of a staging folder's.
[[nodiscard]] bool is_staging_name(std::string_view name);

/// Takes away the staging folders in `parent` whose writers are gone (their locks are free); a folder that such a
/// writer had put aside comes back first. What cannot be taken away stays for the next time.
void clear_stale_staging(const std::filesystem::path& parent) noexcept;

}  // namespace canewise
