#include "scanproc/core/parallel.h"

#include <gtest/gtest.h>

#include <atomic>
#include <mutex>
#include <numeric>
#include <set>
#include <stdexcept>
#include <string>
#include <thread>
#include <vector>

namespace canewise {
namespace {

TEST(Parallel, EveryIndexIsVisitedOnce) {
  for (const std::size_t count : {0U, 1U, 2U, 19999U, 20000U, 100001U}) {
    std::vector<int> visits(count, 0);
    parallel_parts(count, [&](std::size_t, std::size_t begin, std::size_t end) {
      for (std::size_t i = begin; i < end; ++i) ++visits[i];
    });
    EXPECT_EQ(std::accumulate(visits.begin(), visits.end(), std::size_t{0}), count);
    for (const int v : visits) ASSERT_EQ(v, 1);
  }
}

TEST(Parallel, PartsFollowEachOtherWithoutGaps) {
  for (const std::size_t count : {5U, 20003U}) {
    std::vector<std::size_t> begins(kParallelParts), ends(kParallelParts);
    parallel_parts(count, [&](std::size_t part, std::size_t begin, std::size_t end) {
      begins[part] = begin;
      ends[part] = end;
    });
    EXPECT_EQ(begins.front(), 0U);
    EXPECT_EQ(ends.back(), count);
    for (std::size_t k = 1; k < kParallelParts; ++k) EXPECT_EQ(begins[k], ends[k - 1]);
  }
}

TEST(Parallel, OfSeveralFailuresTheFirstPartsReachesTheCallerAfterAllHaveEnded) {
  for (const std::size_t threads : {1U, 2U, 3U, 8U}) {
    with_threads(threads, [&] {
      std::atomic<std::size_t> ended{0};
      std::string what;
      try {
        run_parts([&](std::size_t part) {
          ++ended;
          if (part >= 2) throw std::runtime_error(std::to_string(part));
        });
      } catch (const std::runtime_error& error) {
        what = error.what();
      }
      EXPECT_EQ(what, "2") << threads << " threads";
      EXPECT_EQ(ended, kParallelParts);
    });
  }
}

TEST(Parallel, WorksTogetherAllEnd) {
  int a = 0, b = 0, c = 0;
  run_together({[&] { a = 1; }, [&] { b = 2; }, [&] { c = 3; }});
  EXPECT_EQ(a + b + c, 6);
  EXPECT_THROW(run_together({[&] { a = 10; }, [] { throw std::logic_error("second"); }, [&] { c = 30; }}),
               std::logic_error);
  EXPECT_EQ(a + c, 40) << "the others ended all the same";
}

TEST(Parallel, NoMoreThreadsThanAllowedTakePart) {
  for (const std::size_t threads : {1U, 2U, 3U, 8U}) {
    std::set<std::thread::id> seen;
    std::mutex lock;
    with_threads(threads, [&] {
      for (int round = 0; round < 20; ++round) {
        run_parts([&](std::size_t) {
          const std::scoped_lock guard(lock);
          seen.insert(std::this_thread::get_id());
        });
      }
    });
    EXPECT_LE(seen.size(), threads == 1 ? 1U : 8U) << threads;
  }
}

}  // namespace
}  // namespace canewise
