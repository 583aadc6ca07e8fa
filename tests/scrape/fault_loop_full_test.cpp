// The whole study of scrape/fault_loop.
#include <gtest/gtest.h>

#include "tests/support/fault_loop.h"

namespace canewise {
namespace {

TEST(FaultLoop, AHundredAndSixtyReedsOfAnyForm) {
  const test::FaultLoopStudy study = test::fault_loop(160, 1000);
  ASSERT_GE(study.savable, 100);
  EXPECT_GE(study.good, 0.95 * study.savable);
  EXPECT_EQ(study.given_up, 0);
  EXPECT_LE(study.cane_mm3, 2.5 * study.least_mm3);
  EXPECT_LE(study.into_heart_mm, 0.7);
  EXPECT_LE(study.into_tip_mm, 0.5);
}

}  // namespace
}  // namespace canewise
