#include "viewer/server/child_limits.h"

#include <algorithm>
#include <fstream>
#include <iterator>
#include <string>

#include "scanproc/bytes/number_text.h"

namespace canewise {
namespace {

/// What programs can take without others having to give it up.
std::optional<std::uint64_t> free_bytes(std::string_view memory_info) {
  while (!memory_info.empty()) {
    std::string_view line = next_line(memory_info);
    if (next_word(line) != "MemAvailable:") continue;
    const auto kib = number_from<std::uint64_t>(next_word(line));
    constexpr std::uint64_t most_kib = 1ULL << 50U;
    if (!kib || *kib > most_kib) return std::nullopt;
    return *kib << 10U;
  }
  return std::nullopt;
}

}  // namespace

ChildLimits limits_by(std::string_view memory_info, std::size_t children_at_once) {
  ChildLimits limits;
  const auto free = free_bytes(memory_info);
  if (!free) return limits;
  const std::uint64_t share = *free / 2 / std::max<std::size_t>(1, children_at_once);
  limits.memory_bytes = std::max<std::size_t>(kLeastChildMemory, static_cast<std::size_t>(share));
  return limits;
}

ChildLimits limits_of_this_machine(std::size_t children_at_once) {
  std::ifstream file("/proc/meminfo");
  return limits_by(std::string(std::istreambuf_iterator<char>(file), {}), children_at_once);
}

}  // namespace canewise
