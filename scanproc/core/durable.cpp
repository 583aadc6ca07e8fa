#include "scanproc/core/durable.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <cstdio>
#include <string_view>
#include <system_error>
#include <vector>

#include "scanproc/core/descriptor.h"

namespace canewise {
namespace {

namespace fs = std::filesystem;

void check(bool done) {
  if (!done) throw std::system_error(errno, std::generic_category());
}

Descriptor opened(const fs::path& path, int flags, mode_t mode = 0644) {
  Descriptor file(::open(path.c_str(), flags | O_CLOEXEC, mode));
  check(file.is_open());
  return file;
}

void write_all(const Descriptor& file, std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t wrote = ::write(file.number(), bytes.data(), bytes.size());
    if (wrote < 0 && errno == EINTR) continue;
    check(wrote >= 0);
    bytes.remove_prefix(static_cast<std::size_t>(wrote));
  }
}

std::array<timespec, 2> dates_of(const struct stat& what) { return {what.st_atim, what.st_mtim}; }

void copy_file(const fs::path& from, const fs::path& to, const struct stat& what) {
  const Descriptor in = opened(from, O_RDONLY | O_NOFOLLOW),
                   out = opened(to, O_WRONLY | O_CREAT | O_EXCL, what.st_mode & 07777U);
  constexpr std::size_t piece = 1U << 20U;
  std::vector<char> buffer(piece);
  while (true) {
    const ssize_t got = ::read(in.number(), buffer.data(), buffer.size());
    if (got < 0 && errno == EINTR) continue;
    check(got >= 0);
    if (got == 0) break;
    write_all(out, {buffer.data(), static_cast<std::size_t>(got)});
  }
  ::futimens(out.number(), dates_of(what).data());  // A copy that is younger is a copy all the same.
  check(::fsync(out.number()) == 0);
}

void link_or_copy_folder(const fs::path& from, const fs::path& to, const struct stat& what) {
  constexpr mode_t while_filled = 0700;
  check(::mkdir(to.c_str(), while_filled) == 0);
  for (const auto& entry : fs::directory_iterator(from)) link_or_copy(entry.path(), to / entry.path().filename());
  check(::chmod(to.c_str(), what.st_mode & 07777U) == 0);
  ::utimensat(AT_FDCWD, to.c_str(), dates_of(what).data(), 0);
  sync_folder(to);
}

/// The file system has no hard links, or none of this file, which belongs to somebody else.
bool cannot_link(int error_number) {
  return error_number == EPERM || error_number == EMLINK || error_number == EOPNOTSUPP || error_number == ENOSYS;
}

}  // namespace

void write_new_file(const fs::path& path, const std::string& bytes) {
  const Descriptor file = opened(path, O_WRONLY | O_CREAT | O_EXCL);
  write_all(file, bytes);
  check(::fsync(file.number()) == 0);
}

void sync_folder(const fs::path& folder) {
  try {
    const Descriptor directory = opened(folder, O_RDONLY | O_DIRECTORY);
    check(::fsync(directory.number()) == 0);
  } catch (const std::system_error& failure) {
    const int why = failure.code().value();
    if (why != EINVAL && why != EACCES) throw;
  }
}

void rename_path(const fs::path& from, const fs::path& to) { check(::rename(from.c_str(), to.c_str()) == 0); }

bool exchange_paths(const fs::path& a, const fs::path& b) {
  if (::renameat2(AT_FDCWD, a.c_str(), AT_FDCWD, b.c_str(), RENAME_EXCHANGE) == 0) return true;
  check(errno == ENOSYS || errno == EINVAL);
  return false;
}

void link_or_copy(const fs::path& from, const fs::path& to) {
  struct stat what {};
  check(::lstat(from.c_str(), &what) == 0);
  if (S_ISDIR(what.st_mode)) {
    link_or_copy_folder(from, to, what);
  } else if (::linkat(AT_FDCWD, from.c_str(), AT_FDCWD, to.c_str(), 0) != 0) {
    check(cannot_link(errno) && (S_ISREG(what.st_mode) || S_ISLNK(what.st_mode)));
    if (S_ISLNK(what.st_mode)) {
      fs::copy_symlink(from, to);
    } else {
      copy_file(from, to, what);
    }
  }
}

}  // namespace canewise
