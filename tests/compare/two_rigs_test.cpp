// Light that two rigs see differently, on flat maps where the fit to untouched cane can be done by hand.
#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "scanproc/compare/comparison.h"
#include "scanproc/scrape/scrape_steps.h"
#include "tests/support/reed_by_hand.h"

namespace canewise {
namespace {

constexpr double kLight_mm = 0.008;  ///< By so much more the second scan sees everywhere.

/// One millimetre everywhere, with noise of 60 um in a difference of two cells; nothing else is unsure of the scan but
/// how deep light enters cane.
Result flat(const std::string& rig, double penetration_um) {
  const test::ReedByHand reed = test::reed_by_hand([](double, double) { return 1.0; }, 60.0 / std::sqrt(2.0));
  Result result;
  result.state = MoistureState::dry;
  result.outline = reed.outline;
  result.map = reed.map;
  result.assessment = reed.assessment;
  for (const PriorKey& prior : kPriorKeys) result.rig.priors.*prior.member = 0.0;
  result.rig.priors.penetration_um = penetration_um;
  result.rig.name = rig;
  return result;
}

/// 30 um planned and taken off 12 to 20 mm from the tip; of the untouched cane 100 cells of the stock are seen.
Comparison compared(const std::string& second_rig) {
  Result before = flat("one", 6.0), after = flat(second_rig, 8.0);
  ScrapeStep step;
  step.side = Side::right;
  step.along = {AlongBand::middle};
  step.from_mm = 12.0;
  step.to_mm = 20.0;
  step.polygon = {{12.0, 1.0}, {12.0, 4.5}, {20.0, 4.5}, {20.0, 1.0}};
  step.depth_um = 30.0;
  step.volume_mm3 = 0.030 * 28.0;
  step.strokes = 15;
  before.plan.steps = {step};
  const Field taken = removal_of(before.map.grid, before.plan.steps), whole = after.map.thickness_mm;
  after.map.thickness_mm.setConstant(std::numeric_limits<float>::quiet_NaN());
  const auto see = [&](Eigen::Index row, Eigen::Index column, Eigen::Index rows, Eigen::Index columns) {
    after.map.thickness_mm.block(row, column, rows, columns) =
        (whole - taken).block(row, column, rows, columns) + static_cast<float>(kLight_mm);
  };
  see(48, 28, 32, 14);   // The place: 448 cells.
  see(180, 19, 10, 10);  // Stock, 45 to 47.5 mm from the tip.
  return compare(before, after);
}

// The untouched cells say -8 um with a variance of 60^2/100 = 36 um2. What may lie behind that: swelling, 0.3 % of a
// millimetre, 9 um2; and between two rigs the light of both, 6^2 + 8^2 = 100 um2. Least squares believe 109/145 of it,
// and leave 8 x 36/145 = 1.99 um.
TEST(TwoRigs, BetweenTwoRigsADifferenceInLightIsTakenOut) {
  const RemovedStep step = compared("other").steps.at(0);
  EXPECT_NEAR(step.removed_um - step.planned_um, -8.0 * 36.0 / 145.0, 0.02);
  // What is left of it, 1/(1/109 + 1/36) = 27.1 um2; the place's own noise, 60^2/448; light into a fresh cut, a third
  // of both rigs', 100/9.
  EXPECT_NEAR(step.u_um, std::sqrt(27.06 + 8.04 + 11.11), 0.02);
}

// One rig's light is the same in both scans: only swelling is left to explain -8 um, 9/45 of it.
TEST(TwoRigs, OneRigsLightIsTheSameInBothScans) {
  const RemovedStep step = compared("one").steps.at(0);
  EXPECT_NEAR(step.removed_um - step.planned_um, -8.0 * 36.0 / 45.0, 0.02);
  EXPECT_NEAR(step.u_um, std::sqrt(7.20 + 8.04 + 11.11), 0.02);
}

TEST(TwoRigs, ACellOfTwoRigsIsLessCertainAlsoWhereNothingWasPlanned) {
  const Comparison same = compared("one"), other = compared("other");
  // Root of 27.1, and beside it the scatter of the untouched cells, which is what the fit leaves of 8 um.
  EXPECT_GT(static_cast<double>(other.u_mm(184, 24)), 5.2e-3);
  EXPECT_LT(static_cast<double>(other.u_mm(184, 24)), 6.2e-3);
  EXPECT_GT(static_cast<double>(other.u_mm(60, 32)), static_cast<double>(other.u_mm(184, 24)) + 0.5e-3)
      << "a fresh cut";
  EXPECT_TRUE(std::isnan(same.u_mm(100, 24))) << "where nothing was seen";
}

}  // namespace
}  // namespace canewise
