// Faults that know nothing of zones (bumps anywhere, wedges, thick edges, two at once, faults across a zone's border)
// on cuts that no target was made from: scan, truthful rolling test, plan, scrape by a hand that is off by 40 % and 0.7
// mm, scan again. Judged by the cells of the true surface.
#include "tests/support/fault_loop.h"

#include <gtest/gtest.h>

namespace canewise {
namespace {

TEST(FaultLoop, FaultsOfAnyFormEndInToleranceWithLittleCane) {
  const test::FaultLoopStudy study = test::fault_loop(24);
  ASSERT_GE(study.savable, 12);
  EXPECT_GE(study.good, study.savable - 1) << "95 of 100";
  EXPECT_EQ(study.given_up, 0);
  EXPECT_LE(study.cane_mm3, 2.5 * study.least_mm3);
  EXPECT_LE(study.into_heart_mm, fixtures::Hand{.slip_mm = 0.7}.slip_mm);
  EXPECT_LE(study.into_tip_mm, 0.5);
}

}  // namespace
}  // namespace canewise
