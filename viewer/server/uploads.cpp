#include "viewer/server/uploads.h"

#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

#include <cerrno>

#include "scanproc/core/error.h"
#include "scanproc/core/staging.h"
#include "viewer/server/guard.h"

namespace canewise {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view kIncoming = ".canewise-incoming-";

template <typename Visit>
void for_each_entry(const fs::path& folder, const Visit& visit) {
  std::error_code error;
  for (fs::directory_iterator it(folder, error), end; !error && it != end; it.increment(error)) visit(it->path());
}

}  // namespace

Uploads::Uploads(fs::path folder, UploadLimits limits) : folder_(std::move(folder)), limits_(limits) {
  lock_ = ::open(folder_.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (lock_ < 0) throw OutputError({"serve.folder_not_opened", {{"folder", text(folder_.string())}}});
  if (::flock(lock_, LOCK_EX | LOCK_NB) != 0 && errno == EWOULDBLOCK) {
    ::close(lock_);
    throw OutputError({"serve.folder_served", {{"folder", text(folder_.string())}}});
  }
  take_leftovers_away();
}

Uploads::~Uploads() {
  take_leftovers_away();
  ::close(lock_);
}

void Uploads::take_leftovers_away() const {
  clear_stale_staging(folder_);  // Of a measurement that was killed while it wrote.
  for_each_entry(folder_, [](const fs::path& path) {
    const std::string name = path.filename().string();
    std::error_code ignored;
    if (name.starts_with(kIncoming)) fs::remove_all(path, ignored);
  });
}

/// Those on their way count with the size that they told, those that wait to be measured with what they take.
std::uintmax_t Uploads::bytes_taken() const {
  std::uintmax_t sum = 0;
  for (const auto& [path, bytes] : on_their_way_) sum += bytes;
  for_each_entry(folder_, [&](const fs::path& path) {
    if (!path.filename().string().starts_with(kIncoming) || on_their_way_.contains(path)) return;
    for_each_entry(path, [&](const fs::path& file) {
      std::error_code gone;
      const auto bytes = fs::file_size(file, gone);
      if (!gone) sum += bytes;
    });
  });
  return sum;
}

std::optional<Uploads::Slot> Uploads::begin(std::uintmax_t bytes) {
  const std::lock_guard lock(mutex_);
  if (on_their_way_.size() >= limits_.at_once) return std::nullopt;
  const std::uintmax_t taken = bytes_taken();
  if (bytes > limits_.bytes || taken > limits_.bytes - bytes) return std::nullopt;
  const fs::path path = folder_ / (std::string(kIncoming) + new_token());
  std::error_code error;
  if (!fs::create_directory(path, error)) {
    throw OutputError(
        {"serve.folder_not_written", {{"folder", text(folder_.string())}, {"why", text(error.message())}}});
  }
  on_their_way_.emplace(path, bytes);
  return std::make_optional<Slot>(*this, path);
}

Uploads::Slot::~Slot() {
  if (uploads_ == nullptr) return;
  if (!kept_) {
    std::error_code ignored;
    fs::remove_all(folder_, ignored);
  }
  const std::lock_guard lock(uploads_->mutex_);
  uploads_->on_their_way_.erase(folder_);
}

}  // namespace canewise
