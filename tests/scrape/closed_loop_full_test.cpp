// The whole study of scrape/closed_loop.
#include <gtest/gtest.h>

#include "tests/support/closed_loop.h"

namespace canewise {
namespace {

void expect_harmless(const test::LoopStudy& study) {
  EXPECT_LE(study.given_up, study.savable / 10);
  EXPECT_EQ(study.worse, 0);
  EXPECT_EQ(study.heart_cut_um, 0.0);
  EXPECT_EQ(study.bark_cut_um, 0.0);
  EXPECT_LE(study.cane_mm3, 1.5 * study.perfect_cane_mm3);
}

TEST(ClosedLoop, SixtyFaultyReedsInTheWorldThatThePlannerAssumes) {
  const test::LoopStudy study = test::closed_loop(60, test::Judge::matched);
  EXPECT_GE(study.good, 54);
  expect_harmless(study);
}

TEST(ClosedLoop, SixtyFaultyReedsInOtherWorlds) {
  const test::LoopStudy study = test::closed_loop(60, test::Judge::mismatched);
  EXPECT_GE(study.good, 45);
  expect_harmless(study);
}

// Nobody plays between two scans, so nobody hears when to stop; the cane's own sides are known instead.
TEST(ClosedLoop, WithABendTestInPlaceOfTheEar) {
  const test::LoopStudy ear = test::closed_loop(60, test::Judge::matched, test::Told::by_ear);
  const test::LoopStudy bent = test::closed_loop(60, test::Judge::matched, test::Told::by_bend_test);
  const test::LoopStudy elsewhere = test::closed_loop(60, test::Judge::mismatched, test::Told::by_bend_test);
  EXPECT_GE(bent.good, ear.good - 4);
  EXPECT_GE(elsewhere.good, 45);
  EXPECT_EQ(bent.heart_cut_um, 0.0);
  EXPECT_EQ(bent.bark_cut_um, 0.0);
}

}  // namespace
}  // namespace canewise
