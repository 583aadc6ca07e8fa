#include "scanproc/advise/signs.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace canewise {
namespace {

using testing::ElementsAre;

TrialRecord good() {
  TrialRecord trial;
  trial.reed = "A";
  trial.response = trial.evenness = trial.tone = 4;
  return trial;
}

std::vector<std::string> names_of(const PlayingAdvice& advice) {
  std::vector<std::string> names;
  for (const Finding& finding : advice.findings)
    names.push_back(std::string(name_of(finding.complaint)) +
                    (finding.likelihood == Likelihood::likely ? ", likely" : ", possible"));
  return names;
}

std::vector<std::string> ids_of(const Messages& messages) {
  std::vector<std::string> ids;
  for (const Message& message : messages) ids.push_back(message.id);
  return ids;
}

PlayingAdvice read(const TrialRecord& trial) { return read_signs({.trial = trial, .figures = {}, .halves = {}}); }

// Common practice.
TEST(Signs, ASoftReedDropsOutArticulatesPoorlyAndHasNoDynamics) {
  TrialRecord trial = good();
  trial.high_register = HighRegister::drops;
  EXPECT_THAT(names_of(read(trial)), ElementsAre("too soft, possible"));
  trial.articulation = 2;
  trial.dynamic_range = 1;
  const PlayingAdvice advice = read(trial);
  EXPECT_THAT(names_of(advice), ElementsAre("too soft, likely"));
  EXPECT_EQ(advice.findings.front().reasons.size(), 3U);
  EXPECT_THAT(ids_of(advice.what_to_do), ElementsAre("advice.harder"));
  EXPECT_EQ(advice.what_to_do.front().arguments.at("sure"), word("likely"));
}

// Common practice.
TEST(Signs, AHardReedIsAiryAndResists) {
  TrialRecord trial = good();
  trial.airiness = 4;
  trial.response = 2;
  EXPECT_THAT(names_of(read(trial)), ElementsAre("too hard, likely"));
  EXPECT_THAT(ids_of(read(trial).what_to_do), ElementsAre("advice.softer"));
}

TEST(Signs, ALateResponseAloneHasManyCauses) {
  TrialRecord trial = good();
  trial.response = 1;
  EXPECT_TRUE(read(trial).findings.empty());
}

TEST(Signs, ContradictionsAreSaidAndNothingIsAdvised) {
  TrialRecord trial = good();
  trial.high_register = HighRegister::flat;
  trial.airiness = 5;
  const PlayingAdvice advice = read(trial);
  EXPECT_TRUE(advice.contradicts_itself);
  EXPECT_THAT(ids_of(advice.what_to_do), ElementsAre("advice.signs_contradict"));
}

TEST(Signs, TheMapSpeaksOnlyWhereItIsSure) {
  TrialRecord trial = good();
  SignInputs inputs{.trial = trial, .figures = {}, .halves = FigureValue{"halves", -1.0, 0.7}};
  EXPECT_TRUE(read_signs(inputs).findings.empty()) << "a half softer, give or take one";
  inputs.halves->u = 0.3;
  EXPECT_THAT(names_of(read_signs(inputs)), ElementsAre("too soft, possible"));
  inputs.halves->value = 1.0;
  EXPECT_THAT(names_of(read_signs(inputs)), ElementsAre("too hard, possible"));
}

TEST(Signs, AFreerSideThatIsTheThickerOneIsNotTheCut) {
  TrialRecord trial = good();
  trial.freer_side = FreerSide::right;
  SignInputs inputs{.trial = trial, .figures = {{"imbalance tip", 0.08, 0.01}}, .halves = {}};
  const PlayingAdvice against = read_signs(inputs);
  EXPECT_TRUE(against.contradicts_the_map);
  EXPECT_THAT(ids_of(against.what_to_do), ElementsAre("advice.feels_otherwise"));
  trial.freer_side = FreerSide::left;
  EXPECT_FALSE(read_signs(inputs).contradicts_the_map);
  EXPECT_THAT(ids_of(read_signs(inputs).what_to_do), ElementsAre("advice.balance"));
  trial.freer_side = FreerSide::right;
  inputs.figures.front() = {"imbalance tip", 0.08, 0.06};
  EXPECT_FALSE(read_signs(inputs).contradicts_the_map) << "the map does not know";
  trial.freer_side = FreerSide::alike;
  EXPECT_TRUE(read_signs(inputs).findings.empty());
}

TEST(Signs, ASoftReedIsNotBalancedByTakingMoreOff) {
  TrialRecord trial = good();
  trial.evenness = 2;
  EXPECT_EQ(read(trial).what_to_do.front().arguments.at("side"), word("no")) << "nobody felt a side yet";
  trial.high_register = HighRegister::drops;
  EXPECT_THAT(ids_of(read(trial).what_to_do), ElementsAre("advice.harder"));
}

TEST(Signs, SuctionThatDoesNotHoldIsALeak) {
  TrialRecord trial = good();
  trial.suction_s = 3.0;
  EXPECT_TRUE(read(trial).findings.empty());
  trial.suction_s = 1.5;
  EXPECT_THAT(names_of(read(trial)), ElementsAre("leaks, possible"));
  EXPECT_THAT(ids_of(read(trial).what_to_do), ElementsAre("advice.leaks"));
}

TEST(Signs, WhereEveryReedPlaysBadlyItIsNotTheReed) {
  TrialRecord trial = good();
  trial.response = trial.tone = 1;
  SignInputs inputs{.trial = trial, .figures = {}, .halves = {}, .map_is_even = true, .others_that_day = {2.0, 2.3}};
  EXPECT_THAT(names_of(read_signs(inputs)), ElementsAre("elsewhere, likely"));
  EXPECT_THAT(ids_of(read_signs(inputs).what_to_do), ElementsAre("advice.not_the_reed"));
  inputs.others_that_day = {2.0, 4.0};
  EXPECT_TRUE(read_signs(inputs).findings.empty());
  inputs.others_that_day = {2.0};
  EXPECT_TRUE(read_signs(inputs).findings.empty()) << "one other reed is not every reed";
}

TEST(Signs, AReedSuitsWithoutAMarkBelowThree) {
  TrialRecord trial = good();
  EXPECT_TRUE(suits(trial));
  EXPECT_DOUBLE_EQ(overall_mark(trial), 4.0);
  trial.evenness = 3;
  EXPECT_TRUE(suits(trial));
  for (int TrialRecord::*mark : {&TrialRecord::response, &TrialRecord::evenness, &TrialRecord::tone}) {
    TrialRecord one = good();
    one.*mark = 2;
    EXPECT_FALSE(suits(one));
  }
}

}  // namespace
}  // namespace canewise
