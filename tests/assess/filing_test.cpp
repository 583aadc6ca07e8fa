// Common practice: filed or unfiled is a difference in kind. Filing may be narrow or wide, long or short, round or
// flat; what nobody can tell is said to be that.
#include "scanproc/assess/filing.h"

#include <gtest/gtest.h>

#include "scanproc/core/error.h"
#include "tests/support/drawn_reeds.h"

namespace canewise {
namespace {

using fixtures::ScannerKind;

class DrawnFiling : public testing::TestWithParam<ScannerKind> {};

TEST_P(DrawnFiling, FiledAndUnfiledAreNeverTakenForEachOther) {
  int told = 0, filed = 0, refused = 0;
  constexpr int reeds = 24;
  for (std::uint64_t seed = 100; seed < 100 + reeds; ++seed) {
    const auto drawn = test::drawn_scan(GetParam(), seed);
    CutFeatures cut;
    try {
      cut = test::measure_drawn(drawn, seed).assessment.cut;
    } catch (const NotMeasurable&) {
      ++refused;  // All plate behind the butt in shadow: the scan may as well end on the reed.
      continue;
    }
    filed += drawn.shape.filed;
    told += cut.filed != Verdict::cannot_tell;
    EXPECT_NE(cut.filed, drawn.shape.filed ? Verdict::outside : Verdict::within)
        << "seed " << seed << ", depth " << drawn.shape.filing_depth_mm << " from e = " << drawn.shape.filing_from_e
        << ", missing " << cut.shaved_mm.value << " +- " << cut.shaved_mm.u;
  }
  EXPECT_LE(refused, 2);
  EXPECT_GE(told, reeds - refused - 3);
  EXPECT_GE(filed, 6);  // The sample holds both kinds.
  EXPECT_LE(filed, reeds - 6);
}
INSTANTIATE_TEST_SUITE_P(Scanners, DrawnFiling, testing::Values(ScannerKind::profilometer, ScannerKind::laser_line));

TEST(Filing, WhatMayBeFilingOrBarkThatGrewSoCannotBeTold) {
  fixtures::ReedShape shape;
  shape.filing_depth_mm = 0.065;  // 50 um are missing in the outermost lane.
  const auto m = test::measure_drawn(fixtures::Reed(shape, test::rough_cane(1)), fixtures::laser_line(), 1);
  EXPECT_EQ(m.assessment.cut.filed, Verdict::cannot_tell) << m.assessment.cut.shaved_mm.value;
}

TEST(Filing, OneShavedCornerIsNoFiling) {
  fixtures::ReedShape unfiled;
  unfiled.filed = false;
  const fixtures::Reed reed(unfiled, test::rough_cane(1));
  const fixtures::Reed knocked = reed.scraped([](double x, double y) {
    return x > 34.0 && x < 39.0 && y > 4.2 ? 0.2 : 0.0;  // A knock at the right side alone.
  });
  const auto m = test::measure_drawn(knocked, fixtures::laser_line(), 1);
  EXPECT_NE(m.assessment.cut.filed, Verdict::within);
}

}  // namespace
}  // namespace canewise
