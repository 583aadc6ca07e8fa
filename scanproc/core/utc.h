#pragma once

#include <array>
#include <chrono>
#include <ctime>
#include <string>

namespace canewise {

/// The present moment as ISO 8601 in UTC, to the second.
[[nodiscard]] inline std::string now_utc() {
  const std::time_t now = std::chrono::system_clock::to_time_t(std::chrono::system_clock::now());
  std::tm utc{};
  gmtime_r(&now, &utc);
  std::array<char, 32> text{};
  std::strftime(text.data(), text.size(), "%Y-%m-%dT%H:%M:%SZ", &utc);
  return text.data();
}

}  // namespace canewise
