#include "scanproc/core/parallel.h"

#include <tbb/global_control.h>
#include <tbb/parallel_for.h>
#include <tbb/task_arena.h>

#include <exception>
#include <vector>

#ifdef __SANITIZE_THREAD__
#include <sanitizer/tsan_interface.h>
#endif

namespace canewise {
namespace {

// The library is not built for the thread sanitizer, which so does not see that works begin after the caller's past and
// end before its future.
void happens_before([[maybe_unused]] void* moment) {
#ifdef __SANITIZE_THREAD__
  __tsan_release(moment);
#endif
}
void happens_after([[maybe_unused]] void* moment) {
#ifdef __SANITIZE_THREAD__
  __tsan_acquire(moment);
#endif
}

void run_all(std::size_t count, const std::function<void(std::size_t)>& work) {
  std::vector<std::exception_ptr> failures(count);
  char begin = 0, end = 0;
  happens_before(&begin);
  // One work a task, whatever the number of threads.
  tbb::parallel_for(
      tbb::blocked_range<std::size_t>(0, count, 1),
      [&](const tbb::blocked_range<std::size_t>& range) {
        happens_after(&begin);
        for (std::size_t k = range.begin(); k < range.end(); ++k) {
          try {
            work(k);
          } catch (...) {  // Kept for the caller, so that the others end first.
            failures[k] = std::current_exception();
          }
        }
        happens_before(&end);
      },
      tbb::simple_partitioner());
  happens_after(&end);
  for (const auto& failure : failures) {
    if (failure) std::rethrow_exception(failure);
  }
}

}  // namespace

void run_parts(const std::function<void(std::size_t part)>& body) { run_all(kParallelParts, body); }

void run_together(std::initializer_list<std::function<void()>> works) {
  run_all(works.size(), [&](std::size_t k) { works.begin()[k](); });
}

void with_threads(std::size_t threads, const std::function<void()>& work) {
  const tbb::global_control limit(tbb::global_control::max_allowed_parallelism, threads);
  tbb::task_arena(static_cast<int>(threads)).execute(work);
}

}  // namespace canewise
