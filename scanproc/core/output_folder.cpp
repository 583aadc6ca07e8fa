#include "scanproc/core/output_folder.h"

#include <sys/stat.h>

#include <algorithm>
#include <cerrno>
#include <optional>
#include <system_error>

#include "scanproc/core/durable.h"
#include "scanproc/core/error.h"
#include "scanproc/core/output_files.h"
#include "scanproc/core/staging.h"

namespace canewise {
namespace {

namespace fs = std::filesystem;

bool is_listed(const std::string& name, const std::vector<std::string>& names) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

std::vector<fs::path> entries_of(const fs::path& folder) {
  std::vector<fs::path> entries;
  for (const auto& entry : fs::directory_iterator(folder)) entries.push_back(entry.path());
  return entries;
}

/// A file of the user's, though it may have been there before: only files are canewise's.
bool is_foreign(const fs::path& path, const OwnFolder& own) {
  const std::string name = path.filename().string();
  return (!is_listed(name, own.names) || fs::is_directory(fs::symlink_status(path))) && !is_staging_name(name);
}

bool is_newer(const timespec& a, const timespec& b) {
  return a.tv_sec != b.tv_sec ? a.tv_sec > b.tv_sec : a.tv_nsec > b.tv_nsec;
}

/// Lets `here` be what `old` has become since `here` was made from it: the newer of two files has the place.
void bring_along(const fs::path& old, const fs::path& here) {
  struct stat was {
  }, is{};
  if (::lstat(old.c_str(), &was) != 0) return;
  if (::lstat(here.c_str(), &is) != 0) return rename_path(old, here);
  if (S_ISDIR(was.st_mode) && S_ISDIR(is.st_mode)) {
    for (const fs::path& entry : entries_of(old)) bring_along(entry, here / entry.filename());
    return;
  }
  const bool is_same = was.st_dev == is.st_dev && was.st_ino == is.st_ino;
  if (!is_same && !S_ISDIR(was.st_mode) && is_newer(was.st_mtim, is.st_mtim)) rename_path(old, here);
}

/// Which way the new folder took its place.
enum class Step { appeared, exchanged, set_aside };

/// One folder on its way to its place.
class Move {
 public:
  /// `folder` and what is above it are real; `exists` says whether something has its place.
  Move(const fs::path& folder, bool exists) : folder_(folder), exists_(exists), staging_(folder.parent_path()) {}

  void build(const std::vector<OutputFile>& files, const OwnFolder& own) {
    struct stat what {};
    if (exists_ && ::stat(folder_.c_str(), &what) != 0) throw std::system_error(errno, std::generic_category());
    if (::mkdir(made().c_str(), 0755) != 0 || (exists_ && ::chmod(made().c_str(), what.st_mode & 07777U) != 0))
      throw std::system_error(errno, std::generic_category());
    for (const auto& file : files) write_new_file(made() / file.name, file.bytes);
    if (exists_) {
      for (const fs::path& entry : entries_of(folder_)) {
        if (is_foreign(entry, own)) link_or_copy(entry, made() / entry.filename());
      }
    }
    sync_folder(made());
  }

  /// The step that counts. `left` says what is there if it throws.
  void take_place(Left& left) {
    if (!exists_) {
      rename_path(made(), folder_);
    } else if (exchange_paths(made(), folder_)) {
      step_ = Step::exchanged;
    } else {
      step_ = Step::set_aside;
      by_way_of_aside(left);
    }
    try {
      sync_folder(folder_.parent_path());
    } catch (const std::system_error&) {
      left = back() ? Left::unchanged : Left::written;
      throw;
    }
  }

  /// What somebody put into the old folder since it was copied, or saved anew there, belongs into the new one.
  void follow_up(const OwnFolder& own) noexcept {
    if (!exists_) return;
    try {
      const fs::path old = step_ == Step::exchanged ? made() : staging_.aside(folder_.filename());
      for (const fs::path& entry : entries_of(old)) {
        if (is_foreign(entry, own)) bring_along(entry, folder_ / entry.filename());
      }
    } catch (const std::exception&) {  // It came too late to be promised anything.
    }
  }

 private:
  fs::path folder_;
  bool exists_;
  Staging staging_;
  Step step_ = Step::appeared;

  [[nodiscard]] fs::path made() const { return staging_.new_folder(); }

  void by_way_of_aside(Left& left) {
    const fs::path aside = staging_.aside(folder_.filename());
    if (::mkdir(aside.parent_path().c_str(), 0700) != 0) throw std::system_error(errno, std::generic_category());
    rename_path(folder_, aside);
    left = Left::aside;
    try {
      rename_path(made(), folder_);
    } catch (const std::system_error&) {
      rename_path(aside, folder_);
      left = Left::unchanged;
      throw;
    }
    left = Left::unchanged;
  }

  bool back() noexcept {
    try {
      if (step_ == Step::exchanged) return exchange_paths(made(), folder_);
      rename_path(folder_, made());
      if (step_ == Step::set_aside) rename_path(staging_.aside(folder_.filename()), folder_);
      return true;
    } catch (const std::exception&) {
      return false;
    }
  }
};

/// Whether the current folder lies in this one: a shell there would stand in a folder that is no more.
bool holds_current(const fs::path& folder) {
  std::error_code error;
  const fs::path current = fs::current_path(error);
  return !error && std::mismatch(folder.begin(), folder.end(), current.begin(), current.end()).first == folder.end();
}

bool is_refused_by_place(const std::system_error& failure) {
  const int why = failure.code().value();
  return why == EACCES || why == EPERM || why == EROFS || why == EBUSY || why == EXDEV;
}

/// False, and nothing changed, if an existing folder cannot change places with another.
bool moved_into_place(const fs::path& place, const std::vector<OutputFile>& files, const OwnFolder& own, Left& left) {
  const bool exists = is_there(place);
  if (exists && holds_current(place)) return false;
  MadeFolders above(place.parent_path());
  std::optional<Move> move;
  try {
    move.emplace(place, exists);
  } catch (const std::system_error& failure) {
    if (exists && is_refused_by_place(failure)) return false;
    throw;
  }
  try {
    // A mount point is another file system than the folder beside it: nothing of it can be linked there.
    move->build(files, own);
    move->take_place(left);
  } catch (const std::system_error& failure) {
    if (exists && left == Left::unchanged && is_refused_by_place(failure)) return false;
    throw;
  }
  move->follow_up(own);
  above.keep();
  return true;
}

}  // namespace

void write_output_folder(const fs::path& folder, const std::vector<OutputFile>& files, const OwnFolder& own) {
  const fs::path place = real_place(folder);
  clear_stale_staging(place.parent_path());
  clear_stale_staging(place);
  refuse_foreign(folder, own);
  std::error_code error;
  for (const auto& file : files) {
    if (fs::is_directory(place / file.name, error)) throw cannot_write(folder / file.name, EISDIR, Left::unchanged);
  }
  Left left = Left::unchanged;
  try {
    if (moved_into_place(place, files, own, left)) return;
  } catch (const std::system_error& failure) {
    throw cannot_write(folder, failure.code().value(), left);
  }
  std::vector<std::string> stale;
  for (const auto& name : own.names) {
    const bool is_new = std::any_of(files.begin(), files.end(), [&](const auto& file) { return file.name == name; });
    if (!is_new && !fs::is_directory(place / name, error)) stale.push_back(name);
  }
  write_output_files(folder, files, stale);
}

}  // namespace canewise
