#include "scanproc/core/output_files.h"

#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <system_error>

#include "scanproc/core/durable.h"
#include "scanproc/core/error.h"
#include "scanproc/core/staging.h"

namespace canewise {
namespace {

namespace fs = std::filesystem;

/// Files of one folder that change together, or are put back.
class Change {
 public:
  explicit Change(const fs::path& folder) : folder_(folder), staging_(folder) {
    for (const fs::path& part : {staging_.new_folder(), kept()}) {
      if (::mkdir(part.c_str(), 0700) != 0) throw std::system_error(errno, std::generic_category());
    }
  }

  void prepare(const OutputFile& file) {
    write_new_file(staging_.new_folder() / file.name, file.bytes);
    keep(file.name);
  }
  /// What is there now, to be put back.
  void keep(const std::string& name) {
    if (fs::is_directory(folder_ / name)) throw std::system_error(EISDIR, std::generic_category());
    if (fs::exists(fs::symlink_status(folder_ / name))) link_or_copy(folder_ / name, kept() / name);
  }
  void put(const std::string& name) {
    changed_.push_back(name);
    rename_path(staging_.new_folder() / name, folder_ / name);
    sync_folder(folder_);
  }
  void drop(const std::string& name) {
    changed_.push_back(name);
    if (::unlink((folder_ / name).c_str()) != 0 && errno != ENOENT)
      throw std::system_error(errno, std::generic_category());
  }
  /// What is left then.
  Left undo() noexcept {
    bool all = true;
    for (auto name = changed_.rbegin(); name != changed_.rend(); ++name) all = put_back(*name) && all;
    return all ? Left::unchanged : Left::mixed;
  }

 private:
  fs::path folder_;
  Staging staging_;
  std::vector<std::string> changed_;

  [[nodiscard]] fs::path kept() const { return staging_.path() / "kept"; }
  bool put_back(const std::string& name) noexcept {
    try {
      if (!fs::exists(fs::symlink_status(kept() / name))) {
        return ::unlink((folder_ / name).c_str()) == 0 || errno == ENOENT;
      }
      rename_path(kept() / name, folder_ / name);
      return true;
    } catch (const std::exception&) {
      return false;
    }
  }
};

void change(const fs::path& folder, const std::vector<OutputFile>& files, const std::vector<std::string>& drop,
            Left& left) {
  Change change(folder);
  for (const auto& file : files) change.prepare(file);
  for (const auto& name : drop) change.keep(name);
  try {
    for (const auto& name : drop) change.drop(name);
    for (const auto& file : files) change.put(file.name);
  } catch (...) {
    left = change.undo();
    throw;
  }
}

}  // namespace

void write_output_files(const fs::path& folder, const std::vector<OutputFile>& files,
                        const std::vector<std::string>& drop) {
  const fs::path place = real_place(folder);
  if (!is_there(place)) return write_output_folder(folder, files, {});
  std::error_code error;
  if (!fs::is_directory(place, error)) throw OutputError({"output.is_a_file", {{"path", text(folder.string())}}});
  clear_stale_staging(place);
  Left left = Left::unchanged;
  try {
    change(place, files, drop, left);
  } catch (const std::system_error& failure) {
    throw cannot_write(files.size() == 1 ? folder / files.front().name : folder, failure.code().value(), left);
  }
}

}  // namespace canewise
