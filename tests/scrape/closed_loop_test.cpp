// Scan, rolling test, plan, scrape by a hand that is off, scan again: does the reed end in balance? Judged by a solver
// and a net of its own, on the true surface, with a difference of the cane that no scan shows.
#include "tests/support/closed_loop.h"

#include <gtest/gtest.h>

namespace canewise {
namespace {

/// Nothing protected is cut, and hardly a reed is given up that could be saved.
void expect_harmless(const test::LoopStudy& study) {
  EXPECT_LE(study.given_up, 1);
  EXPECT_EQ(study.worse, 0);
  EXPECT_EQ(study.heart_cut_um, 0.0);
  EXPECT_EQ(study.bark_cut_um, 0.0);
  EXPECT_LE(study.cane_mm3, 1.5 * study.perfect_cane_mm3);
}

// The whole study runs as scrape/closed_loop_full; with 12 the limits leave room for the sample.
TEST(ClosedLoop, FaultyReedsEndInBalanceAndNothingProtectedIsCut) {
  const test::LoopStudy study = test::closed_loop(12, test::Judge::matched);
  EXPECT_GE(study.good, 10);
  expect_harmless(study);
}

TEST(ClosedLoop, ItHoldsWhereCaneMouthpieceLipAndEarAreOthersThanThePlannerAssumes) {
  const test::LoopStudy study = test::closed_loop(12, test::Judge::mismatched);
  EXPECT_GE(study.good, 9);
  expect_harmless(study);
}

TEST(ClosedLoop, TheJudgeAndThePlannersPlateAgreeOnOneReed) {
  fixtures::ReedFaults faults = test::rough_cane(1);
  faults.heavy_rail_um = 80.0;
  const fixtures::Reed reed({}, faults);
  const test::Measurement m =
      test::measured(fixtures::scan_reed(reed, fixtures::profilometer(), test::plain_scene(3), 3));
  const BentReed bent = test::bent(m);
  const test::TrueBending judged = test::judge_bending(reed, m.assessment.cut.bark, 0.0);
  const auto planner = [&](BendingFigure f) { return bent.mechanics.figure(f).value; };
  const double free =
      bent.figures->free_of(bent.figures->plate(), false).value.at(index_of(BendingFigure::stiffness_lip));
  EXPECT_NEAR(free / judged.free_stiffness_lip, 1.0, 0.003);
  EXPECT_NEAR(planner(BendingFigure::stiffness_lip) / judged.stiffness_lip, 1.0, 0.02)
      << "the judge's rails have no tops";
  EXPECT_NEAR(planner(BendingFigure::imbalance_tip), judged.imbalance_tip, 0.002);
  EXPECT_NEAR(planner(BendingFigure::imbalance_lip), judged.imbalance_lip, 0.001);
}

}  // namespace
}  // namespace canewise
