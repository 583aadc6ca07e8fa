// Plans for more than balance: a target, a softer reed.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "scanproc/scrape/scrape_steps.h"
#include "tests/scrape/planned.h"
#include "tests/support/in_english.h"

namespace canewise {
namespace {

using fixtures::Reed;
using fixtures::ReedFaults;
using test::after;
using test::before;
using test::plan_for;
using testing::HasSubstr;

// A target that the player chose is another matter.
TEST(PlanAims, AChosenTargetIsAFloor) {
  ReedFaults faults = test::rough_cane(3);
  faults.heavy_rail_um = -70.0;
  auto m = test::measure_drawn(Reed({}, faults), fixtures::profilometer(), 3);
  EXPECT_NE(plan_for(m).status, PlanStatus::cannot_save);
  m.assessment.target->chosen_by_user = true;
  for (ZoneDeviation& zone : m.assessment.target->zones) {
    // So thick a target that its floor lies 20 um under what the thick side has.
    const double has = zone.deviation.mean_mm + zone.target_mm;
    if (zone.zone.across == AcrossBand::rail) zone.target_mm = has + 2.0 * zone.tolerance_mm - 0.020;
  }
  EXPECT_EQ(plan_for(m).status, PlanStatus::cannot_save);
}

TEST(PlanAims, TheTargetIsWorkedTowardsOnlyIfThePlayerChoseIt) {
  fixtures::ReedShape thick;
  thick.profile_linear = 0.72;  // Thicker than the built-in all along the front and middle.
  const auto scan = [&] {
    return fixtures::scan_reed(Reed(thick, test::rough_cane(3)), fixtures::profilometer(), {}, 3);
  };
  auto m = test::measured(scan());
  EXPECT_TRUE(plan_for(m).steps.empty());
  m.assessment.target->chosen_by_user = true;
  const ScrapePlan plan = plan_for(m);
  ASSERT_FALSE(plan.steps.empty());
  double left = 0.0, right = 0.0;
  for (const auto& step : plan.steps) {
    EXPECT_EQ(step.aim, StepAim::target);
    (step.side == Side::left ? left : right) += step.volume_mm3;
  }
  EXPECT_NEAR(left / right, 1.0, 0.1) << "the same from both sides";
  EXPECT_LE(plan.steps.size(), 8U);
}

TEST(PlanAims, SofterIsSofterByWhatWasAskedAndStaysEven) {
  const auto m = test::measure_drawn(Reed({}, test::rough_cane(2)), fixtures::profilometer(), 2);
  const ScrapePlan plan = plan_for(m, {.aim = aim_from("a quarter softer")});
  ASSERT_FALSE(plan.steps.empty());
  EXPECT_LE(plan.steps.size(), 8U);
  for (const auto& step : plan.steps) EXPECT_EQ(step.aim, StepAim::softer);
  const double ratio = after(plan, BendingFigure::stiffness_lip) / before(plan, BendingFigure::stiffness_lip);
  // A quarter is half a half: kStiffnessPerHalf^-0.5, within an eighth to either side.
  EXPECT_LT(ratio, std::pow(kStiffnessPerHalf, -0.25));
  EXPECT_GE(ratio, std::pow(kStiffnessPerHalf, -0.75));
  EXPECT_NEAR(after(plan, BendingFigure::imbalance_tip), before(plan, BendingFigure::imbalance_tip), 0.01);
}

TEST(PlanAims, HarderIsRefusedWithAdvice) {
  const auto m = test::measure_drawn(Reed({}, test::rough_cane(2)), fixtures::profilometer(), 2);
  const ScrapePlan plan = plan_for(m, {.aim = aim_from("a half harder")});
  EXPECT_TRUE(plan.steps.empty());
  EXPECT_THAT(test::in_english(plan.sentence), HasSubstr("never harder"));
  EXPECT_THAT(test::each_in_english(plan.alternatives), testing::Contains(HasSubstr("Clip")));
  EXPECT_FALSE(aim_from("nicer"));
  EXPECT_FALSE(aim_from("reference"));
}

TEST(PlanAims, NeverSofterThanThePlayerWants) {
  fixtures::ReedFaults faults = test::rough_cane(6);
  faults.heavy_rail_um = 130.0;
  const auto m = test::measure_drawn(Reed({}, faults), fixtures::profilometer(), 6);
  const double now = before(plan_for(m), BendingFigure::stiffness_lip);
  // This reed lies a quarter below the reference already: every stroke makes it worse.
  Player player;
  player.known = {{"reference", 0.0, now * std::pow(kStiffnessPerHalf, 0.52)}};
  player.wanted_halves = 0.0;
  const ScrapePlan plan = plan_for(m, {}, player);
  EXPECT_EQ(plan.status, PlanStatus::cannot_save);
  EXPECT_THAT(test::in_english(plan.sentence), HasSubstr("softer than you want"));
  EXPECT_FALSE(plan.alternatives.empty());
  // Towards a target it stops at the same line.
  fixtures::ReedShape thick;
  thick.profile_linear = 0.72;
  auto t = test::measured(fixtures::scan_reed(Reed(thick, test::rough_cane(3)), fixtures::profilometer(), {}, 3));
  t.assessment.target->chosen_by_user = true;
  const double thick_now = before(plan_for(t), BendingFigure::stiffness_lip);
  player.known = {{"reference", 0.0, thick_now * 0.99 * std::pow(kStiffnessPerHalf, 0.5)}};
  const ScrapePlan towards = plan_for(t, {}, player);
  EXPECT_GE(after(towards, BendingFigure::stiffness_lip), 0.985 * thick_now);
  EXPECT_LT(after(towards, BendingFigure::stiffness_lip), thick_now);
  EXPECT_THAT(test::each_in_english(towards.remarks), testing::Contains(HasSubstr("softer than you want")));
}

TEST(PlanAims, AnAimAtATargetThatNobodyChoseScrapesToNone) {
  // One of the built-in cuts is always the nearest; no reed is led there unasked.
  const auto m = test::measure_drawn(Reed({}, test::rough_cane(3)), fixtures::profilometer(), 3);
  PlanOptions options;
  options.aim = aim_from("target");
  EXPECT_TRUE(plan_for(m, options).steps.empty());
}

TEST(PlanAims, SofterThanAScanCanSteerIsSaid) {
  fixtures::ScannerModel coarse = fixtures::structured_light();
  coarse.noise_um = 90.0;
  coarse.along_mm = 0.15;
  coarse.between_mm = 0.25;
  const auto m = test::measure_drawn(Reed({}, test::rough_cane(3)), coarse, 3);
  PlanOptions options;
  options.aim = aim_from("a quarter softer");
  RemovalLimits shallow = kUsualRemoval;
  shallow.most_depth_um = 4.0;  // One session may take less than such a scan can see.
  const Player nobody;
  const ScrapePlan plan = plan_scrape(test::plan_inputs(m, test::bent(m), nobody, shallow), options);
  EXPECT_TRUE(plan.steps.empty()) << plan.sentence;
  EXPECT_EQ(plan.status, PlanStatus::cannot_tell);
  EXPECT_THAT(test::in_english(plan.sentence), HasSubstr("softer"));
  EXPECT_THAT(test::each_in_english(plan.remarks),
              testing::Not(testing::Contains(HasSubstr("One session makes it no softer"))));
}

}  // namespace
}  // namespace canewise
