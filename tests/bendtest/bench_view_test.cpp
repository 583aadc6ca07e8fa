#include "scanproc/bendtest/bench_view.h"

#include <gtest/gtest.h>

#include "scanproc/core/error.h"
#include "tests/support/bench_scans.h"

namespace canewise::test {
namespace {

class BenchViewed : public testing::Test {
 protected:
  BenchView view(const fixtures::Bench& bench) const {
    return view_bench(fixtures::bench_scan(drawn_.reed, bench, fixtures::laser_line(), 3).points_mm, reed_);
  }
  fixtures::BenchedReed drawn_ = fixtures::draw_bench(3);
  Result reed_ = result_on_plate(drawn_.reed, fixtures::laser_line(), 3);
};

TEST_F(BenchViewed, EdgeAndBarAreFound) {
  fixtures::Bench bench = drawn_.bench;
  bench.edge_mm = 27.3, bench.skew = 0.03, bench.clamp_from_mm = 29.0, bench.clamp_to_mm = 37.0;
  const BenchView seen = view(bench);
  EXPECT_NEAR(seen.edge_mm, 27.3, 0.2);
  EXPECT_NEAR(seen.edge_skew, 0.03, 0.015);
  EXPECT_LT(seen.u_edge_mm, 0.2);
  EXPECT_NEAR(seen.clamp_from_mm, 29.0, 0.3);
  EXPECT_NEAR(seen.clamp_to_mm, 37.0, 0.6) << "the bar's shadow hides a little more";
  EXPECT_NEAR(seen.block_mm, 0.0, 0.02);
}

TEST_F(BenchViewed, ABarThatIsFlushTellsWhereTheEdgeIs) {
  fixtures::Bench bench = drawn_.bench;
  bench.edge_mm = bench.clamp_from_mm = 28.0, bench.skew = 0.0, bench.clamp_to_mm = 36.0;
  const BenchView seen = view(bench);
  EXPECT_NEAR(seen.edge_mm, 28.0, 0.3);
  EXPECT_GE(seen.u_edge_mm, 0.25);
}

// Heights of the reed alone: neither bar nor block nor the bench below is taken for cane.
TEST_F(BenchViewed, TheSurfaceIsTheReedsOwn) {
  const BenchView seen = view(drawn_.bench);
  int cells = 0, off = 0;
  for (Eigen::Index c = 0; c < reed_.map.grid.columns; ++c) {
    for (Eigen::Index r = 0; r < reed_.map.grid.rows; ++r) {
      const double x = reed_.map.grid.x_mm(r);
      const bool at_bar = std::abs(x - 0.5 * (seen.clamp_from_mm + seen.clamp_to_mm)) <
                          0.5 * (seen.clamp_to_mm - seen.clamp_from_mm) + 1.0;
      if (at_bar || !reed_.map.measured(r, c) || std::isnan(seen.surface.height_mm(r, c))) continue;
      ++cells;
      off += std::abs(seen.surface.height_mm(r, c) - reed_.map.thickness_mm(r, c)) > 0.05F ? 1 : 0;
    }
  }
  EXPECT_GT(cells, 6000);
  EXPECT_LT(off, cells / 100);
}

}  // namespace
}  // namespace canewise::test
