#include "scanproc/report/box_screen.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <sstream>

namespace canewise {
namespace {

using testing::AllOf;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::Not;

ReedOfBox reed(const std::string& label, Shelf shelf) {
  ReedOfBox reed;
  reed.reed.label = label;
  reed.shelf = shelf;
  return reed;
}

BoxView box() {
  BoxView box;
  box.box.name = "B3";
  box.box.strength = "3 1/2";
  box.box.holds = 10;
  box.reeds = {reed("B3-1", Shelf::play_now), reed("B3-2", Shelf::lay_aside), reed("B3-3", Shelf::not_known)};
  ResultRecord result;
  result.figures = {{"stiffness", 42.0, 0.5}, {"imbalance tip", -0.031, 0.002}, {"tip", 101.0, 3.0}};
  box.reeds[0].result = result;
  box.reeds[0].likeness = Likeness{.label = "B3-1", .distance = 0.4, .u = 0.1, .rank = 2, .farthest = {}, .by = 0.0};
  TrialRecord trial;
  trial.response = 5, trial.evenness = 4, trial.tone = 3;
  box.reeds[1].trial = trial;
  box.tried = 2;
  box.suited = 1;
  box.rest = rest_of_box({10, 2, 1}, {});
  return box;
}

TEST(BoxScreen, SaysWhatIsKnownAndWhatThatIsWorth) {
  EXPECT_THAT(
      sentences(box_sentences(box())),
      AllOf(HasSubstr("Box B3, strength 3 1/2: 3 reeds, 1 scanned, 1 played."), HasSubstr("1 of 2 tried reeds suit."),
            HasSubstr("Of the 8 not tried, "), HasSubstr("90 % sure"), HasSubstr("50 %"),
            HasSubstr("these reeds alone"), HasSubstr("Try one more."), Not(HasSubstr("Counting alone"))));
  BoxView good = box();
  good.suited = 2;
  good.rest = rest_of_box({10, 2, 2}, {});
  EXPECT_THAT(sentences(box_sentences(good)), HasSubstr("2 good ones leave up to 7 bad ones of 10 possible"));
  BoxView fresh = box();
  fresh.tried = 0;
  EXPECT_THAT(sentences(box_sentences(fresh)), HasSubstr("Try two reeds first"));
}

TEST(BoxScreen, HasALineForEachReed) {
  std::istringstream lines(box_screen(box(), {}));
  std::vector<std::string> of_reeds;
  for (std::string line; std::getline(lines, line);)
    if (line.starts_with("  B3-")) of_reeds.push_back(line);
  EXPECT_THAT(of_reeds, ElementsAre(AllOf(HasSubstr("play now"), HasSubstr(" 2 "), HasSubstr("42.00 ±0.98"),
                                          HasSubstr("-3.1 ±0.4"), HasSubstr("101 ±6")),
                                    AllOf(HasSubstr("lay aside"), HasSubstr("5 4 3")), HasSubstr("not known")));
}

TEST(BoxScreen, NamesTheReedsOfEachShelf) {
  EXPECT_EQ(sentences(shelf_sentences(box())), "Play now: B3-1. Lay aside: B3-2.");
}

TEST(BoxScreen, NamesWhatStandsApartAndSaysWhatTheRankIs) {
  BoxView odd = box();
  FigureSpread spread;
  spread.name = "heart";
  spread.stand_apart = {"B3-2"};
  odd.spreads = {spread};
  EXPECT_THAT(sentences(spread_sentences(odd)), AllOf(HasSubstr("B3-2 stands apart: thickness of the heart."),
                                                      HasSubstr("Mark the reeds that you like")));
  odd.keepers = {{"B1-1", {}}};
  EXPECT_THAT(sentences(spread_sentences(odd)), HasSubstr("to 1 reference reed;"));
}

TEST(BoxScreen, SignsComeWithTheirReasonsAndWhatToDo) {
  TrialRecord trial;
  trial.response = trial.evenness = trial.tone = 4;
  EXPECT_THAT(signs_screen(read_signs({.trial = trial, .figures = {}, .halves = {}}), {}), HasSubstr("show no fault"));
  trial.high_register = HighRegister::drops;
  EXPECT_THAT(sentences(signs_sentences(read_signs({.trial = trial, .figures = {}, .halves = {}}))),
              AllOf(HasSubstr("Too soft, possible. The high register drops"), HasSubstr("a quarter strength harder")));
}

TEST(BoxScreen, WhatWasLearnedIsSaidWithItsError) {
  Learned learned;
  learned.reeds = 3;
  learned.missing = 5;
  EXPECT_THAT(sentences(learned_sentences(learned)), HasSubstr("With 5 more"));
  learned = Learned();
  learned.reeds = 12;
  EXPECT_THAT(sentences(learned_sentences(learned)), HasSubstr("better than chance"));
  learned.is_claimed = true;
  learned.error_marks = 0.42, learned.spread_marks = 0.91, learned.by_chance = 0.012;
  learned.weights = {{"worst difference", -0.6}};
  EXPECT_THAT(sentences(learned_sentences(learned)),
              AllOf(HasSubstr("better marks go with less of this: largest difference of the sides"), HasSubstr("±0.4"),
                    HasSubstr("±0.9"), HasSubstr("1.2 of 100")));
}

}  // namespace
}  // namespace canewise
