#pragma once

#include <cstddef>
#include <cstdint>
#include <limits>

#include "scanproc/bytes/scan_file.h"

namespace canewise {

/// Bytes that a reader may store. Short numbers in text take many times their length in memory, and what makes the file
/// unreadable may stand in its last line.
class Room {
 public:
  explicit Room(std::uint64_t bytes) : left_(bytes) {}
  /// False if so much is not left; then nothing more is, since what is read from there on is only looked at.
  [[nodiscard]] bool take(std::uint64_t bytes) {
    sufficed_ = sufficed_ && bytes <= left_;
    if (sufficed_) left_ -= bytes;
    return sufficed_;
  }
  [[nodiscard]] bool sufficed() const { return sufficed_; }

 private:
  std::uint64_t left_;
  bool sufficed_ = true;
};

/// How the bytes of a file are at hand while it is read: text as a whole, which takes its size already.
enum class Reading { whole_text, in_pieces };

/// What `read(room)` makes of a file: first in little more room than the file's size; where that did not suffice but
/// the file was read to its end without a refusal, once more with all the room that it takes.
template <typename Read>
auto read_in_little_room(const ScanFile& file, Reading reading, const Read& read) {
  {
    constexpr std::uint64_t spare = 32U << 20U;
    Room little(spare + (reading == Reading::whole_text ? 1 : 2) * file.size());
    auto found = read(little);
    if (little.sufficed()) return found;
  }
  Room all(std::numeric_limits<std::uint64_t>::max());
  return read(all);
}

}  // namespace canewise
