#include "scanproc/core/output_folder.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <random>
#include <system_error>

#include "scanproc/core/error.h"

namespace canewise {
namespace {

namespace fs = std::filesystem;

[[noreturn]] void fail(const fs::path& path, int error_number) {
  const bool no_room = error_number == ENOSPC || error_number == EFBIG || error_number == EDQUOT;
  // People know their folder, not the hidden one that is filled first.
  const bool hidden = path.filename().string().starts_with(".canewise-") ||
                      path.parent_path().filename().string().starts_with(".canewise-");
  const fs::path shown = !hidden                                              ? path
                         : path.filename().string().starts_with(".canewise-") ? path.parent_path()
                                                                              : path.parent_path().parent_path();
  throw OutputError({"output.cannot_write",
                     {{"path", text(shown.string())},
                      {"why", text(std::strerror(error_number))},
                      {"no_room", word(no_room ? "yes" : "no")}}});
}

class Descriptor {
 public:
  explicit Descriptor(const fs::path& path, int flags) : value_(::open(path.c_str(), flags | O_CLOEXEC, 0644)) {
    if (value_ < 0) fail(path, errno);
  }
  ~Descriptor() { ::close(value_); }
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  [[nodiscard]] int get() const { return value_; }

 private:
  int value_;
};

void write_and_flush(const fs::path& path, const std::string& bytes) {
  const Descriptor file(path, O_WRONLY | O_CREAT | O_EXCL);
  std::size_t done = 0;
  while (done < bytes.size()) {
    const ssize_t wrote = ::write(file.get(), bytes.data() + done, bytes.size() - done);
    if (wrote < 0 && errno == EINTR) continue;
    if (wrote < 0) fail(path, errno);
    done += static_cast<std::size_t>(wrote);
  }
  if (::fsync(file.get()) != 0) fail(path, errno);
}

/// A folder that is removed again unless it was given its place.
class Staging {
 public:
  explicit Staging(fs::path path) : path_(std::move(path)) {
    if (::mkdir(path_.c_str(), 0755) != 0) fail(path_, errno);
  }
  ~Staging() {
    std::error_code ignored;  // A destructor has nobody to tell.
    fs::remove_all(path_, ignored);
  }
  Staging(const Staging&) = delete;
  Staging& operator=(const Staging&) = delete;
  [[nodiscard]] const fs::path& path() const { return path_; }

 private:
  fs::path path_;
};

void rename_or_fail(const fs::path& from, const fs::path& to) {
  if (::rename(from.c_str(), to.c_str()) != 0) fail(to, errno);
}

}  // namespace

bool is_there(const std::filesystem::path& path) {
  std::error_code error;
  const bool there = std::filesystem::exists(path, error);
  if (error)
    throw OutputError({"output.unusable_name", {{"path", text(path.string())}, {"why", text(error.message())}}});
  return there;
}

void write_output_folder(const fs::path& folder, const std::vector<OutputFile>& files) {
  std::error_code error;
  const fs::path target = fs::absolute(folder, error).lexically_normal();
  const bool exists = fs::exists(target, error);
  if (exists && !fs::is_directory(target, error)) {
    throw OutputError({"output.is_a_file", {{"path", text(folder.string())}}});
  }
  fs::path parent = exists ? target : target.parent_path();
  if (target.filename().empty() && !exists) parent = target.parent_path().parent_path();
  fs::create_directories(parent, error);
  if (error) fail(parent, error.value());

  const Staging staging(parent /
                        (".canewise-" + std::to_string(::getpid()) + "-" + std::to_string(std::random_device{}())));
  for (const auto& file : files) write_and_flush(staging.path() / file.name, file.bytes);
  {
    const Descriptor directory(staging.path(), O_RDONLY | O_DIRECTORY);
    ::fsync(directory.get());
  }
  if (!exists) {
    const fs::path final_path = target.filename().empty() ? target.parent_path() : target;
    rename_or_fail(staging.path(), final_path);
    return;
  }
  for (const auto& file : files) {
    if (fs::is_directory(target / file.name, error)) fail(target / file.name, EISDIR);
  }
  for (const auto& file : files) rename_or_fail(staging.path() / file.name, target / file.name);
}

}  // namespace canewise
