#include "scanproc/compare/comparison_words.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <utility>

#include "tests/support/in_english.h"

namespace canewise {
namespace {

using testing::Contains;
using testing::HasSubstr;
using testing::IsEmpty;

Message on(const char* side) {
  return {"plan.where", {{"side", word(side)}, {"across", word("rail")}, {"from", mm(12.0)}, {"to", mm(20.0)}}};
}
RemovedStep step(const char* side, double planned_um, double removed_um, double u_um, Verdict verdict) {
  return {on(side), planned_um, removed_um, u_um, verdict};
}
/// Both scans dry and on a plate, before with a plan, unless a test says otherwise.
struct Told {
  Comparison comparison;
  Result before, after;
  Told() {
    before.state = after.state = MoistureState::dry;
    before.plan.steps.resize(1);
    after.plan.sentence = {Message{"plan.agree_everywhere"}};
  }
  Comparison& tell() {
    comparison = in_words(std::move(comparison), before, after);
    return comparison;
  }
  std::string first() { return tell().sentence.front().id; }
};
double length_of(const Message& message, const char* name) {
  return std::get<Length>(message.arguments.at(name)).value;
}
double number_of(const Message& message, const char* name) {
  return std::get<Number>(message.arguments.at(name)).value;
}

// Off by 8 um too much on the right and by 18 too little on the left: the left is named.
TEST(ComparisonWords, TheStepFarthestOffThePlanIsNamedWithWhichWay) {
  Told told;
  told.comparison.steps = {step("right", 20.0, 28.0, 1.5, Verdict::outside),
                           step("left", 30.0, 12.0, 2.0, Verdict::outside),
                           step("right", 40.0, 10.0, 30.0, Verdict::cannot_tell)};
  const Message sentence = told.tell().sentence.front();
  EXPECT_EQ(sentence.id, "comparison.off_plan");
  EXPECT_NEAR(length_of(sentence, "over"), 18.0, 1e-12);
  EXPECT_EQ(std::get<Word>(sentence.arguments.at("how")).key, "less");
  EXPECT_NEAR(length_of(sentence, "removed"), 12.0, 1e-12);
  EXPECT_NEAR(length_of(sentence, "planned"), 30.0, 1e-12);
  EXPECT_NEAR(length_of(sentence, "u"), 3.92, 1e-3) << "95 of 100 times";
  EXPECT_THAT(test::in_english(sentence), HasSubstr("left rail, 12 to 20 mm from the tip"));
  Told more;
  more.comparison.steps = {step("right", 20.0, 28.0, 0.1, Verdict::outside)};
  const Message much = more.tell().sentence.front();
  EXPECT_EQ(std::get<Word>(much.arguments.at("how")).key, "more");
  EXPECT_EQ(length_of(much, "u"), 1.0) << "no less than the last digit";
}

TEST(ComparisonWords, AsPlannedIsSaidOnlyOfAllPlaces) {
  Told all;
  all.comparison.steps = {step("right", 20.0, 21.0, 1.0, Verdict::within),
                          step("left", 30.0, 29.0, 1.0, Verdict::within)};
  EXPECT_EQ(all.first(), "comparison.as_planned");
  EXPECT_EQ(std::get<std::int64_t>(all.comparison.sentence.front().arguments.at("places")), 2);
  Told some;
  some.comparison.steps = {step("right", 20.0, 21.0, 1.0, Verdict::within),
                           step("left", 30.0, 29.0, 9.0, Verdict::cannot_tell)};
  EXPECT_EQ(some.first(), "comparison.cannot_tell_everywhere");
}

TEST(ComparisonWords, WithoutAPlanTheVolumeIsTold) {
  Told told;
  told.comparison.volume_mm3 = 1.25;
  told.comparison.u_volume_mm3 = 0.2;
  const Message sentence = told.tell().sentence.front();
  EXPECT_EQ(sentence.id, "comparison.no_plan");
  EXPECT_EQ(number_of(sentence, "volume"), 1.25);
  EXPECT_NEAR(number_of(sentence, "u"), 0.392, 1e-3);
  Told one_side;
  one_side.comparison.left_right_only = true;
  EXPECT_EQ(one_side.first(), "comparison.no_plan_one_side");
}

TEST(ComparisonWords, WhatIsLeftToDoIsThePlanOfTheScanAfter) {
  Told told;
  told.before.plan.sentence = {Message{"plan.too_soft"}};
  EXPECT_EQ(told.tell().left, told.after.plan.sentence);
  EXPECT_THAT(told.comparison.remarks, IsEmpty());
}

TEST(ComparisonWords, TwoStatesAndTwoWaysOfScanningAreRemarkedOn) {
  Told states;
  states.after.state = MoistureState::wet;
  states.comparison.left_right_only = true;
  states.comparison.steps = {step("left", 30.0, std::nan(""), std::nan(""), Verdict::cannot_tell)};
  const auto& remarks = states.tell().remarks;
  ASSERT_EQ(remarks.size(), 2U);
  EXPECT_EQ(remarks[0].id, "comparison.two_states");
  EXPECT_EQ(std::get<Word>(remarks[0].arguments.at("before")).key, "dry");
  EXPECT_EQ(std::get<Word>(remarks[0].arguments.at("after")).key, "wet");
  EXPECT_EQ(remarks[1].id, "comparison.both_sides_alike");
  Told ways;
  ways.before.datum = DatumMode::two_sided;
  EXPECT_THAT(ways.tell().remarks, testing::ElementsAre(Message{"comparison.two_ways"}));
  Told pads;
  pads.before.datum = DatumMode::pads;
  EXPECT_THAT(pads.tell().remarks, IsEmpty()) << "plate and pads measure the same";
  Told unknown;
  unknown.before.state = unknown.after.state = MoistureState::unknown;
  EXPECT_THAT(unknown.tell().remarks, testing::ElementsAre(Message{"comparison.states_unknown"}));
}

// Worth saying from half a per cent on, if it is surely there.
TEST(ComparisonWords, SwellingIsSaidWhereItIsSureAndLarge) {
  const auto said = [](double swelling, double u) {
    Told told;
    told.comparison.swelling_rel = swelling;
    told.comparison.u_swelling_rel = u;
    return told.tell().remarks;
  };
  EXPECT_THAT(said(0.004, 0.0005), IsEmpty());
  EXPECT_THAT(said(0.008, 0.0045), IsEmpty()) << "1.96 times 0.45 % is more";
  const Messages swollen = said(0.008, 0.003), dried = said(-0.012, 0.003);
  ASSERT_EQ(swollen.size(), 1U);
  ASSERT_EQ(dried.size(), 1U);
  EXPECT_NEAR(number_of(swollen[0], "percent"), 0.8, 1e-9);
  EXPECT_EQ(std::get<Word>(swollen[0].arguments.at("how")).key, "swollen");
  EXPECT_NEAR(number_of(dried[0], "percent"), 1.2, 1e-9);
  EXPECT_EQ(std::get<Word>(dried[0].arguments.at("how")).key, "dried");
}

TEST(ComparisonWords, AClippedTipIsToldWithItsUncertainty) {
  Told told;
  told.comparison.clipped_mm = 0.31;
  told.comparison.u_clipped_mm = 0.02;
  const Messages remarks = told.tell().remarks;
  ASSERT_EQ(remarks.size(), 1U);
  EXPECT_NEAR(length_of(remarks[0], "by"), 0.31, 1e-12);
  EXPECT_NEAR(length_of(remarks[0], "u"), 0.0392, 1e-4);
}

TEST(ComparisonWords, WhatWentElsewhereIsNamedWithItsSide) {
  for (const Side side : {Side::left, Side::right}) {
    Told told;
    told.comparison.elsewhere = LostElsewhere{{AlongBand::back, AcrossBand::flank, side}, 17.0};
    const std::string place = "the " + std::string(name_of(side)) + " flank, back";
    EXPECT_EQ(told.tell().remarks.front().id, "comparison.gone_elsewhere");
    EXPECT_THAT(test::each_in_english(told.comparison.remarks), Contains(HasSubstr(place)));
    EXPECT_NEAR(length_of(told.comparison.remarks.front(), "lost"), 17.0, 1e-12);
    Told without_plan;
    without_plan.before.plan.steps.clear();
    without_plan.comparison.elsewhere = told.comparison.elsewhere;
    EXPECT_EQ(without_plan.tell().remarks.front().id, "comparison.most_came_off");
  }
}

}  // namespace
}  // namespace canewise
