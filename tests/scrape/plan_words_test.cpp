#include "scanproc/scrape/plan_words.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <utility>

#include "tests/support/bent_reeds.h"
#include "tests/support/in_english.h"

namespace canewise {
namespace {

using testing::Contains;
using testing::HasSubstr;
using testing::Not;

constexpr std::size_t kFrontFlank = 4, kHeart = 6;

ScrapeStep step_on(Side side, double outer_mm = 4.5) {
  const double s = static_cast<double>(side);
  ScrapeStep step;
  step.side = side;
  step.across = AcrossBand::flank;
  step.along = {AlongBand::middle};
  step.from_mm = 12.0;
  step.to_mm = 20.0;
  step.polygon = {{12.0, 1.0 * s}, {12.0, outer_mm * s}, {20.0, outer_mm * s}, {20.0, 1.0 * s}};
  step.depth_um = 14.0;
  step.strokes = 7;
  return step;
}
Fault fault_at(AtFault at_fault) {
  Fault fault;
  fault.thicker = Side::right;
  fault.across = AcrossBand::rail;
  fault.from_mm = 8.0;
  fault.to_mm = 14.0;
  fault.at_fault = at_fault;
  return fault;
}

/// An even reed whose bending is not known, until a test says otherwise.
struct Told {
  ScrapePlan plan;
  PlanFindings findings;
  test::ReedByHand reed = test::reed_by_hand([](double x, double) { return test::plain_wedge_mm(x); });
  BentReed bent = test::not_bent();
  Player player;
  RemovalLimits limits = kUsualRemoval;
  PlanOptions options;
  Told() { bent.clipped = {{0.1, 10.5, 1.05, 0.11}, {0.2, 11.2, 1.12, 0.12}, {0.3, 12.0, 1.20, 0.13}}; }
  ScrapePlan& tell() {
    plan = in_words(std::move(plan), findings, test::plan_inputs(reed, bent, player, limits), options);
    return plan;
  }
  [[nodiscard]] bool remarked(const std::string& id) const { return remark(id) != nullptr; }
  [[nodiscard]] const Message* remark(const std::string& id) const {
    for (const Message& message : plan.remarks)
      if (message.id == id) return &message;
    return nullptr;
  }
};
double number_of(const Message& message, const char* name) {
  return std::get<Number>(message.arguments.at(name)).value;
}
double length_of(const Message& message, const char* name) {
  return std::get<Length>(message.arguments.at(name)).value;
}

TEST(PlanWords, TheFirstStepIsToldWithItsSideItsPlaceAndTheTestBeforeIt) {
  for (const Side side : {Side::left, Side::right}) {
    Told told;
    told.plan.steps = {step_on(side), step_on(side)};
    const ScrapePlan& plan = told.tell();
    EXPECT_EQ(plan.status, PlanStatus::steps);
    EXPECT_TRUE(plan.needs_rolling_test);
    const std::string words = test::in_english(plan.sentence);
    EXPECT_THAT(words, HasSubstr("scrape the " + std::string(name_of(side)) + " flank, 12 to 20 mm from the tip"));
    EXPECT_THAT(words, HasSubstr("rolling test first"));
    EXPECT_THAT(words, HasSubstr("2 steps"));
    EXPECT_NEAR(length_of(plan.sentence.front(), "depth"), 14.0, 1e-9);
    EXPECT_EQ(std::get<std::int64_t>(plan.sentence.front().arguments.at("strokes")), 7);
  }
  Told tested;
  tested.plan.steps = {step_on(Side::right)};
  tested.options.rolling_test = RollingTest::right;
  EXPECT_FALSE(tested.tell().needs_rolling_test);
  EXPECT_THAT(test::in_english(tested.plan.sentence), Not(HasSubstr("rolling test")));
}

TEST(PlanWords, WhoHasBentTheReedIsNotAskedForTheRollingTest) {
  Told told;
  told.plan.steps = {step_on(Side::right)};
  told.plan.cane_right_over_left = 0.05;
  told.bent.sides = {0.05, 0.01, true};
  EXPECT_FALSE(told.tell().needs_rolling_test);
  EXPECT_TRUE(told.remarked("plan.stiffer_cane_bent"));
  EXPECT_FALSE(told.remarked("plan.stiffer_cane")) << "nobody rolled";
}

TEST(PlanWords, AnAimAloneAsksForNoRollingTest) {
  Told told;
  told.plan.steps = {step_on(Side::left)};
  told.plan.steps.front().aim = StepAim::softer;
  EXPECT_FALSE(told.tell().needs_rolling_test);
  EXPECT_FALSE(told.remarked("plan.run_out_softly")) << "that belongs to balance";
}

TEST(PlanWords, ADoubtfulSeatingStandsBeforeEverythingElse) {
  Told told;
  told.options.seating_in_doubt = true;
  told.findings.test_contradicts = told.findings.floor_in_the_way = true;
  EXPECT_EQ(told.tell().status, PlanStatus::cannot_tell);
  EXPECT_EQ(told.plan.sentence.front().id, "plan.lay_tilted");
}

TEST(PlanWords, AContradictingTestIsAVetoThatSaysWhichWay) {
  for (const auto& [answer, id] :
       {std::pair{RollingTest::even, "plan.test_finds_even"}, {RollingTest::left, "plan.test_finds_other_side"}}) {
    Told told;
    told.findings.test_contradicts = true;
    told.options.rolling_test = answer;
    EXPECT_EQ(told.tell().status, PlanStatus::veto);
    EXPECT_EQ(told.plan.sentence.front().id, id);
  }
}

TEST(PlanWords, AReedThatCannotBeSavedIsToldWhyAndWhatElseToDo) {
  struct Case {
    bool floor, soft;
    std::optional<Fault> thin;
    const char* id;
  };
  const Fault thin = fault_at(AtFault::thinner_side), open = fault_at(AtFault::cannot_tell);
  for (const Case& c : {Case{false, true, thin, "plan.thin_and_too_soft"}, Case{false, true, open, "plan.too_soft"},
                        Case{false, true, {}, "plan.too_soft"}, Case{true, false, open, "plan.too_thin_to_save"},
                        Case{true, false, {}, "plan.cannot_save"}}) {
    Told told;
    told.findings.floor_in_the_way = c.floor;
    told.findings.softness_in_the_way = c.soft;
    told.findings.too_thin = c.thin;
    EXPECT_EQ(told.tell().status, PlanStatus::cannot_save) << c.id;
    EXPECT_EQ(told.plan.sentence.front().id, c.id);
    EXPECT_EQ(told.plan.alternatives.size(), 3U);
    if (c.thin && std::string(c.id) != "plan.too_soft") {
      EXPECT_THAT(test::in_english(told.plan.sentence), HasSubstr("the left rail between 8 and 14 mm"));
    }
  }
}

// One half harder is 1.15 times as stiff: of clips that make it 1.05, 1.12 and 1.20 times, 1.12 is nearest.
TEST(PlanWords, HarderIsAMatterOfClipping) {
  Told told;
  told.findings.wanted_halves = 1.0;
  EXPECT_EQ(told.tell().status, PlanStatus::nothing_to_do);
  EXPECT_EQ(told.plan.sentence.front().id, "plan.never_harder");
  const Message& clip = told.plan.alternatives.front();
  EXPECT_EQ(clip.id, "plan.clip");
  EXPECT_NEAR(length_of(clip, "off"), 0.2, 1e-12);
  EXPECT_NEAR(number_of(clip, "stiffer"), 12.0, 1e-9);
  EXPECT_NEAR(length_of(clip, "tip"), 0.12, 1e-12);
}

TEST(PlanWords, NothingToDoIsSaidOnlyWhereEverythingIsInOrder) {
  Told even;
  EXPECT_EQ(even.tell().status, PlanStatus::nothing_to_do);
  EXPECT_EQ(even.plan.sentence.front().id, "plan.agree_everywhere");
  Told chipped;
  chipped.reed.outline.chipped = true;
  EXPECT_EQ(chipped.tell().sentence.front().id, "plan.agree_but_chipped");
  EXPECT_TRUE(chipped.remarked("plan.chipped"));
  Told out_of_reach;
  out_of_reach.findings.zones_off = true;
  EXPECT_EQ(out_of_reach.tell().status, PlanStatus::cannot_tell);
  EXPECT_EQ(out_of_reach.plan.sentence.front().id, "plan.where_cane_must_stay");
}

TEST(PlanWords, BarkThatLiesToASideIsSaidAndNotBlamedOnTheCut) {
  for (const double sign : {-1.0, 1.0}) {
    Told told;
    Balance& balance = told.reed.assessment.balance;
    balance.verdict = Verdict::cannot_tell;
    balance.zones[11].verdict = Verdict::cannot_tell;
    balance.zones[11].difference.mean_mm = sign * 0.040;
    told.findings.bark_crown_mm = sign * 0.12;
    told.findings.off_by_bark[11] = true;
    told.tell();
    const std::string words = test::in_english(*told.remark("plan.bark_off_centre"));
    EXPECT_THAT(words,
                HasSubstr(sign > 0.0 ? "the right side is higher, because the bark's crown lies 0.12 mm to the right"
                                     : "the left side is higher, because the bark's crown lies 0.12 mm to the left"));
    EXPECT_EQ(told.plan.sentence.size(), 1U) << "the likeliest fault is none of the cut's";
  }
  Told centred;
  centred.tell();
  EXPECT_FALSE(centred.remarked("plan.bark_off_centre"));
}

TEST(PlanWords, WhereTheScanCannotTellTheLikeliestFaultIsNamedOnItsThickSide) {
  for (const double sign : {-1.0, 1.0}) {
    Told told;
    Balance& balance = told.reed.assessment.balance;
    balance.verdict = Verdict::cannot_tell;
    balance.zones[kFrontFlank].verdict = Verdict::cannot_tell;
    balance.zones[kFrontFlank].difference.mean_mm = sign * 0.013;  // Of 15 um.
    balance.zones[2].verdict = Verdict::cannot_tell;
    balance.zones[2].difference.mean_mm = -sign * 0.006;  // Of 8 um: three quarters are no fault yet.
    EXPECT_EQ(told.tell().status, PlanStatus::cannot_tell);
    ASSERT_EQ(told.plan.sentence.size(), 2U);
    const std::string words = test::in_english(told.plan.sentence);
    EXPECT_THAT(words,
                HasSubstr(sign > 0.0 ? "the right flank, front, thick by 13" : "the left flank, front, thick by 13"));
  }
}

TEST(PlanWords, RemarksNameTheSideThatTheyMean) {
  for (const double sign : {-1.0, 1.0}) {
    const std::string side = sign > 0.0 ? "right" : "left";
    Told told;
    ZoneBalance& heart = told.reed.assessment.balance.zones[kHeart];
    heart.verdict = Verdict::outside;
    heart.difference.mean_mm = sign * 0.025;
    told.plan.steps = {step_on(Side::right)};
    told.plan.cane_right_over_left = sign * 0.04;
    told.tell();
    const auto remarks = test::each_in_english(told.plan.remarks);
    EXPECT_THAT(remarks, Contains(HasSubstr("heart sits towards the " + side + " side")));
    EXPECT_THAT(remarks, Contains(HasSubstr("4 % stiffer on the " + side)));
  }
}

TEST(PlanWords, WhichSideIsAtFaultIsSaidBesideTheSteps) {
  Told thin;
  thin.plan.steps = {step_on(Side::right)};
  thin.findings.levelled = {fault_at(AtFault::thinner_side)};
  thin.tell();
  EXPECT_THAT(test::each_in_english(thin.plan.remarks),
              Contains(HasSubstr("The fault is the left rail: it is thin between 8 and 14 mm")));
  EXPECT_EQ(thin.plan.sentence.back().id, "plan.thin_side");
  Told open;
  open.plan.steps = {step_on(Side::right)};
  open.findings.levelled = {fault_at(AtFault::cannot_tell)};
  open.tell();
  EXPECT_THAT(test::each_in_english(open.plan.remarks),
              Contains(HasSubstr("whether the right rail is thick or the left rail is thin")));
  Told thick;
  thick.plan.steps = {step_on(Side::right)};
  thick.findings.levelled = {fault_at(AtFault::thicker_side)};
  thick.tell();
  EXPECT_FALSE(thick.remarked("plan.fault_is_thin"));
  EXPECT_FALSE(thick.remarked("plan.thick_or_thin"));
  EXPECT_EQ(thick.plan.sentence.size(), 1U);
}

TEST(PlanWords, AToolThatHangsOverIsToldOfWhereItDoes) {
  Told inside;
  inside.plan.steps = {step_on(Side::left)};
  inside.tell();
  EXPECT_FALSE(inside.remarked("plan.hang_over"));
  EXPECT_TRUE(inside.remarked("plan.bending_unknown"));
  Told over;
  over.plan.steps = {step_on(Side::left, 6.8)};
  over.tell();
  EXPECT_TRUE(over.remarked("plan.hang_over"));
}

TEST(PlanWords, ADeepFaultAndADeepAimAreToldApart) {
  Told balance;
  balance.plan.steps = {step_on(Side::right)};
  balance.limits.most_depth_um = 45.0;
  balance.findings.deep = balance.findings.aim_is_deep = true;
  balance.tell();
  ASSERT_TRUE(balance.remarked("plan.far_out"));
  EXPECT_FALSE(balance.remarked("plan.never_in_one_go"));
  EXPECT_NEAR(length_of(*balance.remark("plan.far_out"), "depth"), 45.0, 1e-12);
  Told aim;
  aim.plan.steps = {step_on(Side::right)};
  aim.findings.aim_is_deep = true;
  aim.tell();
  EXPECT_TRUE(aim.remarked("plan.never_in_one_go"));
  EXPECT_FALSE(aim.remarked("plan.far_out"));
}

TEST(PlanWords, AFacingThatExplainsTheTestComesFirstAndNothingIsScraped) {
  Told told;
  told.plan.steps = {step_on(Side::right)};
  told.findings.facing_explains = {0.09, -0.01};
  told.findings.test_contradicts = true;
  const ScrapePlan& plan = told.tell();
  EXPECT_EQ(plan.status, PlanStatus::veto);
  ASSERT_EQ(plan.sentence.size(), 1U);
  EXPECT_EQ(plan.sentence.front().id, "plan.facing_explains");
  EXPECT_EQ(std::get<Word>(plan.sentence.front().arguments.at("side")).key, "right");
  EXPECT_NEAR(std::get<Number>(plan.sentence.front().arguments.at("facing")).value, 9.0, 1e-9);
}

}  // namespace
}  // namespace canewise
