#pragma once

#include <algorithm>
#include <array>
#include <cstddef>
#include <exception>
#include <thread>
#include <vector>

namespace canewise {

/// Number of parts that work is cut into. Fixed, so that sums do not depend on the machine's number of cores.
inline constexpr std::size_t kParallelParts = 2;

/// Runs body(part) for every part, each on a thread of its own. The first exception that a part throws is thrown again
/// here, after all parts have ended.
template <typename Body>
void run_parts(const Body& body) {
  std::array<std::exception_ptr, kParallelParts> failures;
  const auto run = [&](std::size_t part) {
    try {
      body(part);
    } catch (...) {  // Kept for the caller's thread.
      failures.at(part) = std::current_exception();
    }
  };
  {
    std::vector<std::jthread> threads;
    for (std::size_t part = 1; part < kParallelParts; ++part) threads.emplace_back(run, part);
    run(0);
  }
  for (const auto& failure : failures) {
    if (failure) std::rethrow_exception(failure);
  }
}

/// Runs body(part, begin, end) over [0, count) cut into kParallelParts contiguous parts.
template <typename Body>
void parallel_parts(std::size_t count, const Body& body) {
  constexpr std::size_t small_count = 20000;  // Below it a thread costs more than it saves.
  const std::size_t step = (count + kParallelParts - 1) / kParallelParts;
  const auto run = [&](std::size_t part) {
    body(part, std::min(count, part * step), std::min(count, (part + 1) * step));
  };
  if (count >= small_count) {
    run_parts(run);
  } else {
    for (std::size_t part = 0; part < kParallelParts; ++part) run(part);
  }
}

}  // namespace canewise
