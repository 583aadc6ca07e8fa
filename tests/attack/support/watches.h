#pragma once

#include <cstdint>
#include <filesystem>
#include <mutex>
#include <set>
#include <string>
#include <thread>

#include "tests/attack/support/served.h"

namespace canewise::attack {

/// What a folder held at any time, looked at about every millisecond.
class DiskWatch {
 public:
  explicit DiskWatch(std::filesystem::path folder);
  ~DiskWatch();
  DiskWatch(const DiskWatch&) = delete;
  DiskWatch& operator=(const DiskWatch&) = delete;

  [[nodiscard]] std::uintmax_t most_bytes() const;           ///< Of all files together at one moment.
  [[nodiscard]] std::set<std::string> names() const;         ///< Of everything that was ever seen, from the folder.
  [[nodiscard]] static bool is_quiet(const Served& served);  ///< No upload is left, for half a second, within ten.

 private:
  void look();
  std::filesystem::path folder_;
  mutable std::mutex mutex_;
  std::uintmax_t most_bytes_ = 0;
  std::set<std::string> names_;
  std::jthread looking_;
};

/// A known reader who asks for a page again and again; how long that took at worst.
class PageWatch {
 public:
  explicit PageWatch(const Served& served, Milliseconds every = Milliseconds(200));
  ~PageWatch();
  PageWatch(const PageWatch&) = delete;
  PageWatch& operator=(const PageWatch&) = delete;

  struct Seen {
    int asked = 0, refused = 0;  ///< Refused: any answer that is not 200, or none.
    double slowest_s = 0.0;
    double most_resident_mb = 0.0;  ///< Of the server, at the same times.
  };
  /// Ends the watch; the one that is under way is awaited.
  [[nodiscard]] Seen seen();

 private:
  void look();
  const Served& served_;
  Milliseconds every_;
  Seen seen_;
  std::jthread looking_;
};

}  // namespace canewise::attack
