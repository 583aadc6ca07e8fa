#include "scanproc/core/parallel.h"

#include <gtest/gtest.h>

#include <numeric>
#include <stdexcept>
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

TEST(Parallel, AFailureOnAThreadReachesTheCaller) {
  EXPECT_THROW(run_parts([](std::size_t part) {
                 if (part == kParallelParts - 1) throw std::runtime_error("from a thread");
               }),
               std::runtime_error);
}

}  // namespace
}  // namespace canewise
