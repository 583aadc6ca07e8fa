#pragma once

#include <algorithm>
#include <cstddef>
#include <functional>
#include <initializer_list>

namespace canewise {

/// Number of parts that work is cut into. Fixed, so that sums do not depend on how many threads a machine has.
inline constexpr std::size_t kParallelParts = 8;

/// Runs body(part) for every part, on as many threads as there are cores (or as `with_threads` allows). Of the
/// exceptions that parts throw, that of the first part is thrown again here, after all parts have ended.
void run_parts(const std::function<void(std::size_t part)>& body);

/// Runs all works, beside each other where cores are free. Exceptions as in run_parts.
void run_together(std::initializer_list<std::function<void()>> works);

/// Runs work() with so many threads in all that it starts by the two functions above.
void with_threads(std::size_t threads, const std::function<void()>& work);

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
