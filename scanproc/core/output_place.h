#pragma once

#include <filesystem>
#include <vector>

#include "scanproc/core/error.h"

namespace canewise {

/// True if something of that name is there. Throws OutputError where the name cannot be asked for (too long, say).
[[nodiscard]] bool is_there(const std::filesystem::path& path);

/// Where a folder really lies: links followed, no slash at its end. Throws OutputError where this cannot be asked.
[[nodiscard]] std::filesystem::path real_place(const std::filesystem::path& folder);

/// What a failed writer left of what was there.
enum class Left {
  unchanged,
  written,  ///< Everything new is in place, but perhaps not on the disk.
  mixed,    ///< Some files are new, and the old ones could not be put back.
  aside     ///< The old folder waits under a hidden name.
};

/// Names the place that a person knows, the system's reason, what is left, and what to do.
[[nodiscard]] OutputError cannot_write(const std::filesystem::path& path, int error_number, Left left);

/// Folders above an output that had to be made; they go with the object, as far as they are empty, unless kept.
class MadeFolders {
 public:
  /// Makes `folder` and what is missing above it. Throws std::system_error; then none stays.
  explicit MadeFolders(const std::filesystem::path& folder);
  ~MadeFolders();
  MadeFolders(const MadeFolders&) = delete;
  MadeFolders& operator=(const MadeFolders&) = delete;
  void keep() { made_.clear(); }

 private:
  void take_away() noexcept;
  std::vector<std::filesystem::path> made_;  ///< The topmost first.
};

}  // namespace canewise
