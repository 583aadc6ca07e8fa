// The whole study of scrape/closed_loop.
#include <gtest/gtest.h>

#include "tests/support/closed_loop.h"

namespace canewise {
namespace {

TEST(ClosedLoop, TwoHundredFaultyReeds) {
  const test::LoopStudy study = test::closed_loop(200, test::Judge::matched);
  EXPECT_GE(study.good, 176);
  EXPECT_LE(study.given_up, study.savable / 10);
  EXPECT_EQ(study.heart_cut_um, 0.0);
  EXPECT_EQ(study.bark_cut_um, 0.0);
  EXPECT_LE(study.cane_mm3, 1.5 * study.perfect_cane_mm3);
}

}  // namespace
}  // namespace canewise
