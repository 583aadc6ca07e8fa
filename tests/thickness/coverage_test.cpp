// A small sample of what coverage_full_test.cpp proves; the limits fit the sample.
#include "tests/support/coverage.h"

#include <gtest/gtest.h>

namespace canewise {
namespace {

class Coverage : public testing::TestWithParam<int> {};

TEST_P(Coverage, ErrorsAgreeWithTheirUncertaintyInEveryZone) {
  const auto scanner = GetParam() == 0   ? fixtures::profilometer()
                       : GetParam() == 1 ? fixtures::laser_line()
                                         : fixtures::structured_light();
  constexpr std::uint64_t scans = 48;
  const test::Coverage coverage = test::coverage_of(scanner, scans);
  for (std::size_t zone = 0; zone < 12; ++zone) {
    SCOPED_TRACE(zone);
    // Both sides of a zone share the priors: 48 scans give some 48 independent errors, whose root mean square scatters
    // by 10 % (one standard deviation).
    EXPECT_GT(coverage.cells.at(zone).ratio(), 0.70);
    EXPECT_LT(coverage.cells.at(zone).ratio(), 1.30);
    EXPECT_GT(coverage.zones.at(zone).ratio(), 0.68);
    EXPECT_LT(coverage.zones.at(zone).ratio(), 1.32);
    EXPECT_LT(coverage.differences.at(zone).ratio(), 1.35);
    EXPECT_GT(coverage.cells.at(zone).covered(), 0.87);
    EXPECT_GT(coverage.zones.at(zone).covered(), 0.85);
  }
}
INSTANTIATE_TEST_SUITE_P(Scanners, Coverage, testing::Range(0, 3));

}  // namespace
}  // namespace canewise
