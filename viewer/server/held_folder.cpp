#include "viewer/server/held_folder.h"

#include <dirent.h>
#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <memory>

#include "scanproc/core/descriptor.h"
#include "scanproc/core/error.h"

namespace canewise {
namespace {

int open_folder(int held, const std::string& name) {
  return is_plain_name(name) ? ::openat(held, name.c_str(), O_RDONLY | O_DIRECTORY | O_NOFOLLOW | O_CLOEXEC) : -1;
}

/// The open file's state if it is a regular one.
std::optional<FileState> state_of(int file) {
  struct stat found {};
  if (::fstat(file, &found) != 0 || !S_ISREG(found.st_mode)) return std::nullopt;
  return FileState{found.st_mtim, static_cast<std::uintmax_t>(found.st_size)};
}

/// O_NONBLOCK: a pipe in a file's place would keep its reader waiting.
int open_file(int folder, const std::string& name) {
  return is_plain_name(name) ? ::openat(folder, name.c_str(), O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC) : -1;
}

}  // namespace

bool is_plain_name(const std::string& name) {
  return !name.empty() && name.front() != '.' && name.find('/') == std::string::npos &&
         name.find('\0') == std::string::npos;
}

HeldFolder::HeldFolder(const std::filesystem::path& path)
    : path_(path), descriptor_(::open(path.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC)) {
  if (descriptor_ < 0) throw OutputError({"serve.folder_not_opened", {{"folder", text(path.string())}}});
}

HeldFolder::~HeldFolder() { ::close(descriptor_); }

bool HeldFolder::is_in_place() const {
  struct stat held {
  }, there{};
  return ::fstat(descriptor_, &held) == 0 && ::stat(path_.c_str(), &there) == 0 && held.st_dev == there.st_dev &&
         held.st_ino == there.st_ino;
}

std::vector<std::string> HeldFolder::names(std::size_t most) const {
  std::vector<std::string> found;
  // A descriptor of its own: closedir closes it, and two readers would share one place in the list.
  const int listed = ::openat(descriptor_, ".", O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (listed < 0) return found;
  const std::unique_ptr<DIR, int (*)(DIR*)> entries(::fdopendir(listed), ::closedir);
  if (!entries) {
    ::close(listed);
    return found;
  }
  while (const dirent* entry = ::readdir(entries.get())) {
    if (found.size() >= most) break;
    if (is_plain_name(entry->d_name)) found.emplace_back(entry->d_name);
  }
  return found;
}

std::optional<std::string> HeldFolder::read(const std::string& folder, const std::string& file,
                                            std::uintmax_t most_bytes) const {
  const Descriptor inside(open_folder(descriptor_, folder));
  if (!inside.is_open()) return std::nullopt;
  const Descriptor opened(open_file(inside.number(), file));
  if (!opened.is_open()) return std::nullopt;
  const auto state = state_of(opened.number());
  if (!state || state->bytes > most_bytes) return std::nullopt;
  std::string bytes(static_cast<std::size_t>(state->bytes), '\0');
  std::size_t done = 0;
  while (done < bytes.size()) {
    const ssize_t got = ::read(opened.number(), bytes.data() + done, bytes.size() - done);
    if (got < 0 && errno == EINTR) continue;
    if (got <= 0) break;
    done += static_cast<std::size_t>(got);
  }
  if (done < bytes.size()) return std::nullopt;
  return bytes;
}

std::optional<FileState> HeldFolder::state(const std::string& folder, const std::string& file) const {
  const Descriptor inside(open_folder(descriptor_, folder));
  if (!inside.is_open()) return std::nullopt;
  const Descriptor opened(open_file(inside.number(), file));
  return opened.is_open() ? state_of(opened.number()) : std::nullopt;
}

}  // namespace canewise
