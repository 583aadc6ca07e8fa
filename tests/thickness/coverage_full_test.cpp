// The accuracy claim: over 1000 scans a scanner, with table form, seating, tip lift, scale, plate form and penetration
// each drawn from their stated priors, 93 to 97 % of the errors lie within U95 in every zone, for cells and for zone
// means, and the bias is under 2 um. A share of 95 % from 1000 scans scatters by 0.7 % (one standard deviation).
#include <gtest/gtest.h>

#include <cstdio>

#include "tests/support/coverage.h"

namespace canewise {
namespace {

class CoverageFull : public testing::TestWithParam<int> {};

TEST_P(CoverageFull, NinetyFiveOfAHundredErrorsLieWithinU95) {
  const auto scanner = GetParam() == 0   ? fixtures::profilometer()
                       : GetParam() == 1 ? fixtures::laser_line()
                                         : fixtures::structured_light();
  constexpr std::uint64_t scans = 1000;
  const test::Coverage coverage = test::coverage_of(scanner, scans);
  EXPECT_LE(coverage.refused, 1) << "one tip in a thousand may drown in the noise of the coarsest scanner";
  std::printf("%-7s%-8s%12s%12s%12s%12s\n", "band", "lane", "cells in U", "zones in U", "diff. in U", "bias um");
  for (std::size_t label = 0; label < 12; ++label) {
    const auto& cells = coverage.cells.at(label);
    const auto& zones = coverage.zones.at(label);
    const auto& differences = coverage.differences.at(label);
    std::printf("%-7s%-8s%12.4f%12.4f%12.4f%12.2f\n", std::string(name_of(static_cast<AlongBand>(label / 3))).c_str(),
                std::string(name_of(static_cast<AcrossBand>(label % 3))).c_str(), cells.covered(), zones.covered(),
                differences.covered(), zones.bias_um());
    SCOPED_TRACE(label);
    EXPECT_GE(cells.covered(), 0.93);
    EXPECT_LE(cells.covered(), 0.97);
    EXPECT_GE(zones.covered(), 0.93);
    EXPECT_LE(zones.covered(), 0.97);
    EXPECT_GE(differences.covered(), 0.92) << "left-right differences may be stated too large, never too small";
    EXPECT_LT(std::abs(cells.bias_um()), 2.0);
    EXPECT_LT(std::abs(zones.bias_um()), 2.0);
  }
}
INSTANTIATE_TEST_SUITE_P(Scanners, CoverageFull, testing::Range(0, 3));

}  // namespace
}  // namespace canewise
