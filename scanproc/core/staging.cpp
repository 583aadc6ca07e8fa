#include "scanproc/core/staging.h"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <random>
#include <string>
#include <system_error>
#include <vector>

#include "scanproc/core/durable.h"

namespace canewise {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view kPrefix = ".canewise-";
constexpr const char* kNew = "new";
constexpr const char* kAside = "aside";

bool is_number(std::string_view text) {
  return !text.empty() && std::all_of(text.begin(), text.end(), [](char c) { return c >= '0' && c <= '9'; });
}

bool is_named(const fs::path& path) {
  struct stat ignored {};
  return ::lstat(path.c_str(), &ignored) == 0;
}

bool is_at(int descriptor, const fs::path& path) {
  struct stat open {
  }, named{};
  return ::fstat(descriptor, &open) == 0 && ::lstat(path.c_str(), &named) == 0 && open.st_dev == named.st_dev &&
         open.st_ino == named.st_ino;
}

/// False if a folder that was put aside has to stay there.
bool put_back(const fs::path& staging) {
  std::error_code error;
  std::vector<fs::path> waiting;
  for (fs::directory_iterator it(staging / kAside, error), end; !error && it != end; it.increment(error))
    waiting.push_back(it->path());
  // Without the new folder the exchange is done: what waits is what was replaced.
  if (waiting.empty() || !is_named(staging / kNew)) return true;
  for (const fs::path& folder : waiting) {
    const fs::path place = staging.parent_path() / folder.filename();
    if (is_named(place) || ::rename(folder.c_str(), place.c_str()) != 0) return false;
  }
  return true;
}

void take_away(const fs::path& staging) noexcept {
  try {
    if (!put_back(staging)) return;
    std::error_code ignored;
    fs::remove_all(staging, ignored);
  } catch (const std::exception&) {  // No memory: it stays for the next time.
  }
}

}  // namespace

Staging::Staging(const fs::path& parent) {
  // Somebody who clears up may take a folder away before it is locked.
  for (int attempt = 0; lock_ < 0; ++attempt) {
    path_ = parent / (std::string(kPrefix) + std::to_string(::getpid()) + "-" + std::to_string(std::random_device{}()));
    if (::mkdir(path_.c_str(), 0755) != 0) throw std::system_error(errno, std::generic_category());
    lock_ = ::open(path_.c_str(), O_RDONLY | O_DIRECTORY | O_NOFOLLOW | O_CLOEXEC);
    constexpr int most_attempts = 20;
    if (lock_ < 0 && (errno != ENOENT || attempt >= most_attempts)) {
      const int why = errno;
      ::rmdir(path_.c_str());
      throw std::system_error(why, std::generic_category());
    }
    // A file system without locks refuses those who clear up, too.
    const bool taken = lock_ >= 0 && ::flock(lock_, LOCK_EX | LOCK_NB) != 0 && errno == EWOULDBLOCK;
    if (lock_ >= 0 && (taken || !is_at(lock_, path_))) {
      ::close(lock_);
      lock_ = -1;
    }
  }
}

Staging::~Staging() {
  take_away(path_);
  ::close(lock_);
}

fs::path Staging::new_folder() const { return path_ / kNew; }

fs::path Staging::aside(const fs::path& name) const { return path_ / kAside / name; }

bool is_staging_name(std::string_view name) {
  if (!name.starts_with(kPrefix)) return false;
  name.remove_prefix(kPrefix.size());
  const std::size_t dash = name.find('-');
  return dash != std::string_view::npos && is_number(name.substr(0, dash)) && is_number(name.substr(dash + 1));
}

void clear_stale_staging(const fs::path& parent) noexcept {
  try {
    std::error_code error;
    std::vector<fs::path> found;
    for (fs::directory_iterator it(parent, error), end; !error && it != end; it.increment(error)) {
      if (is_staging_name(it->path().filename().string())) found.push_back(it->path());
    }
    for (const fs::path& path : found) {
      const int lock = ::open(path.c_str(), O_RDONLY | O_DIRECTORY | O_NOFOLLOW | O_CLOEXEC);
      if (lock < 0) continue;
      if (::flock(lock, LOCK_EX | LOCK_NB) == 0 && is_at(lock, path)) take_away(path);
      ::close(lock);
    }
  } catch (const std::exception&) {  // No memory: they stay for the next time.
  }
}

}  // namespace canewise
