#include "tests/attack/support/watches.h"

#include <algorithm>

namespace canewise::attack {
namespace {

namespace fs = std::filesystem;

bool has_upload(const fs::path& folder) {
  std::error_code error;
  for (fs::directory_iterator it(folder, error), end; !error && it != end; it.increment(error))
    if (it->path().filename().string().starts_with(".canewise")) return true;
  return false;
}

}  // namespace

DiskWatch::DiskWatch(fs::path folder) : folder_(std::move(folder)) {
  looking_ = std::jthread([this](const std::stop_token& stop) {
    while (!stop.stop_requested()) {
      look();
      std::this_thread::sleep_for(Milliseconds(1));
    }
  });
}

DiskWatch::~DiskWatch() {
  looking_.request_stop();
  looking_.join();
}

void DiskWatch::look() {
  std::uintmax_t bytes = 0;
  std::set<std::string> names;
  std::error_code error;
  for (fs::recursive_directory_iterator it(folder_, error), end; !error && it != end; it.increment(error)) {
    names.insert(it->path().string().substr(folder_.string().size() + 1));
    std::error_code gone;
    if (it->is_regular_file(gone) && !gone) {
      const auto size = it->file_size(gone);
      if (!gone) bytes += size;
    }
  }
  const std::lock_guard lock(mutex_);
  most_bytes_ = std::max(most_bytes_, bytes);
  names_.merge(names);
}

std::uintmax_t DiskWatch::most_bytes() const {
  const std::lock_guard lock(mutex_);
  return most_bytes_;
}

std::set<std::string> DiskWatch::names() const {
  const std::lock_guard lock(mutex_);
  return names_;
}

bool DiskWatch::is_quiet(const Served& served) {
  constexpr int enough = 10;
  int quiet = 0;
  for (int waits = 0; waits < 200 && quiet < enough; ++waits) {
    quiet = has_upload(served.folder()) ? 0 : quiet + 1;
    std::this_thread::sleep_for(Milliseconds(50));
  }
  return quiet == enough;
}

PageWatch::PageWatch(const Served& served, Milliseconds every) : served_(served), every_(every) {
  looking_ = std::jthread([this](const std::stop_token& stop) {
    while (!stop.stop_requested()) {
      look();
      std::this_thread::sleep_for(every_);
    }
  });
}

PageWatch::~PageWatch() { (void)seen(); }

void PageWatch::look() {
  const Answer page = served_.get("/");
  ++seen_.asked;
  seen_.refused += page.status != 200;
  seen_.slowest_s = std::max(seen_.slowest_s, page.seconds);
  seen_.most_resident_mb = std::max(seen_.most_resident_mb, served_.use().resident_mb);
}

PageWatch::Seen PageWatch::seen() {
  looking_.request_stop();
  if (looking_.joinable()) looking_.join();
  return seen_;
}

}  // namespace canewise::attack
