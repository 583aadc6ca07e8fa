#pragma once

#include <chrono>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>

namespace canewise {

/// What a child may take. The kernel holds each process to them but for `time`, which the caller watches.
/// There is no limit on how many processes it starts: RLIMIT_NPROC counts all processes of the user, the caller's and
/// everybody's, and control groups need rights that the caller need not have. Instead its process group is ended
/// with it, and whatever leaves the group keeps the limits below, processor time among them.
struct ChildLimits {
  std::size_t memory_bytes = 6ULL << 30U;    ///< Of address space.
  std::chrono::seconds time{300};            ///< On the clock.
  std::chrono::seconds processor_time{900};  ///< Of all its threads together.
  std::size_t file_bytes = 1ULL << 30U;      ///< Of each file that it writes.
  std::size_t open_files = 256;
};

/// The least address space that a child gets: what measuring the largest scans takes, threads and libraries included.
constexpr std::size_t kLeastChildMemory = 1ULL << 30U;

/// For `children_at_once` children that run at the same time: they share half of the memory that is free now, so that
/// all of them together leave the machine room to work; each gets kLeastChildMemory at least. Where the machine does
/// not say what is free, memory is as ChildLimits says.
[[nodiscard]] ChildLimits limits_of_this_machine(std::size_t children_at_once);

/// The same of a text as /proc/meminfo holds it.
[[nodiscard]] ChildLimits limits_by(std::string_view memory_info, std::size_t children_at_once);

}  // namespace canewise
