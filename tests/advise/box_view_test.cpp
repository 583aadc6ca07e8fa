#include "scanproc/advise/box_view.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <random>

#include "scanproc/core/error.h"
#include "scanproc/ledger/file_result.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

struct BoxViewTest : testing::Test {
  test::TempFolder folder;
  Ledger ledger{folder.path() / "ledger.sqlite", Ledger::Access::make};

  void box(const std::string& name, int holds) {
    if (!ledger.has("player", "Anna")) ledger.insert("player", {{"name", "Anna"}});
    ledger.insert("box", {{"name", name}, {"player", "Anna"}, {"strength", "3"}, {"holds", std::int64_t{holds}}});
    for (int k = 1; k <= holds; ++k) add_reed(ledger, name + "-" + std::to_string(k));
  }
  void scanned(const std::string& reed, const std::string& plan, double stiffness = 40.0) {
    ledger.insert("result", {{"folder", reed},
                             {"reed", reed},
                             {"measured_at", "2026-12-01T10:00:00Z"},
                             {"state", "dry"},
                             {"instrument", "clarinet-bb"},
                             {"plan", plan}});
    ledger.insert("figure", {{"folder", reed}, {"name", "stiffness"}, {"value", stiffness}, {"u", 0.2}});
  }
  void played(const std::string& reed, int mark) {
    TrialRecord trial;
    trial.reed = reed, trial.played_at = "2026-12-02T10:00:00Z";
    trial.response = trial.evenness = trial.tone = mark;
    ledger.insert("trial", row_of(trial));
  }
};

TEST_F(BoxViewTest, ThePlanTellsTheShelf) {
  box("B3", 5);
  scanned("B3-1", "nothing to do");
  scanned("B3-2", "steps");
  scanned("B3-3", "cannot save");
  scanned("B3-4", "cannot tell");
  const BoxView view = view_box(ledger, "B3");
  std::vector<std::string> shelves;
  for (const ReedOfBox& reed : view.reeds) shelves.emplace_back(name_of(reed.shelf));
  EXPECT_THAT(shelves, ElementsAre("play now", "worth work", "lay aside", "not known", "not known"));
  EXPECT_EQ(view.tried, 3);
  EXPECT_EQ(view.suited, 2);
  EXPECT_EQ(view.rest.rest, 2);
}

TEST_F(BoxViewTest, EveryStatusOfAPlanIsOnAShelfOrNotKnown) {
  for (const PlanStatus status : {PlanStatus::nothing_to_do, PlanStatus::cannot_tell, PlanStatus::steps,
                                  PlanStatus::cannot_save, PlanStatus::veto}) {
    ResultRecord record;
    record.plan = name_of(status);
    const bool is_known = shelf_of(record) != Shelf::not_known;
    EXPECT_EQ(is_known, status != PlanStatus::cannot_tell && status != PlanStatus::veto);
  }
  EXPECT_EQ(shelf_of(std::optional<ResultRecord>()), Shelf::not_known);
}

TEST_F(BoxViewTest, PlayingCountsMoreThanTheScan) {
  box("B3", 10);
  scanned("B3-1", "nothing to do");
  played("B3-1", 2);
  scanned("B3-2", "cannot save");
  played("B3-2", 5);
  const BoxView view = view_box(ledger, "B3");
  EXPECT_EQ(view.tried, 2);
  EXPECT_EQ(view.suited, 1);
  EXPECT_EQ(view.suited_with_work, 0);
  EXPECT_EQ(view.reeds[0].shelf, Shelf::lay_aside) << "the scan knows no work that would help";
  EXPECT_EQ(view.reeds[1].shelf, Shelf::play_now) << "whatever the scan says";
}

TEST_F(BoxViewTest, WhatIsRetiredLiesAsideAndWhatNeedsWorkIsSaid) {
  box("B3", 4);
  for (const char* reed : {"B3-1", "B3-2", "B3-3"}) scanned(reed, "steps");
  played("B3-2", 1);
  ledger.update("reed", "B3-3", {{"stage", "retired"}});
  const BoxView view = view_box(ledger, "B3");
  EXPECT_EQ(view.reeds[0].shelf, Shelf::worth_work);
  EXPECT_EQ(view.reeds[1].shelf, Shelf::worth_work);
  EXPECT_EQ(view.reeds[2].shelf, Shelf::lay_aside);
  EXPECT_EQ(view.tried, 3);
  EXPECT_EQ(view.suited, 2);
  EXPECT_EQ(view.suited_with_work, 2);
}

TEST_F(BoxViewTest, TheRestAreThoseThatAreThere) {
  box("B3", 3);
  played("B3-1", 4);
  played("B3-2", 4);
  EXPECT_EQ(view_box(ledger, "B3").rest.rest, 1);
  ledger.update("reed", "B3-3", {{"binned_at", "2026-12-02T10:00:00Z"}});
  EXPECT_EQ(view_box(ledger, "B3").rest.rest, 0);
  EXPECT_EQ(view_box(ledger, "B3").rest.advice, BoxAdvice::nothing_left);
}

TEST_F(BoxViewTest, BadReedsInTheBinStayInTheSample) {
  box("B3", 10);
  for (int k = 1; k <= 6; ++k) played("B3-" + std::to_string(k), k <= 2 ? 5 : 1);
  const RestOfBox before = view_box(ledger, "B3").rest;
  for (int k = 3; k <= 6; ++k)
    ledger.update("reed", "B3-" + std::to_string(k), {{"binned_at", "2026-12-03T10:00:00Z"}});
  const BoxView after = view_box(ledger, "B3");
  EXPECT_EQ(after.tried, 6);
  EXPECT_EQ(after.reeds.size(), 6U);
  EXPECT_EQ(after.rest.rest, 4);
  EXPECT_DOUBLE_EQ(after.rest.next_suits, before.next_suits);
}

TEST_F(BoxViewTest, WetReedsAreNotHeldAgainstDryOnes) {
  box("B3", 3);
  scanned("B3-1", "nothing to do", 40.0);
  ledger.update("reed", "B3-1", {{"is_keeper", std::int64_t{1}}});
  scanned("B3-2", "nothing to do", 41.0);
  scanned("B3-3", "nothing to do", 25.0);
  ledger.update("result", "B3-3", {{"state", "wet"}});
  const BoxView view = view_box(ledger, "B3");
  EXPECT_TRUE(view.reeds[1].likeness);
  EXPECT_FALSE(view.reeds[2].likeness);
  EXPECT_EQ(view.spreads.front().reeds, 2);
}

TEST_F(BoxViewTest, EarlierBoxesOfTheSameKindCount) {
  box("B1", 10);
  for (int k = 1; k <= 10; ++k) played("B1-" + std::to_string(k), 5);
  box("B2", 10);
  played("B2-1", 4);
  EXPECT_EQ(view_box(ledger, "B2").earlier_boxes, 1);
  EXPECT_GT(view_box(ledger, "B2").rest.next_suits, view_box(ledger, "B2").rest.with_no_memory);
  for (const auto& [column, other] :
       {std::pair{"strength", Cell("4")}, {"strength", Cell()}, {"instrument", Cell("sax_alto")}}) {
    ledger.update("box", "B1", {{"strength", "3"}, {"instrument", Cell()}});
    ledger.update("box", "B1", {{column, other}});
    EXPECT_EQ(view_box(ledger, "B2").earlier_boxes, 0) << column;
  }
}

TEST_F(BoxViewTest, ReedsAreRankedByThePlayersKeepers) {
  box("B1", 2);
  scanned("B1-1", "nothing to do", 40.0);
  ledger.update("reed", "B1-1", {{"is_keeper", std::int64_t{1}}});
  box("B2", 3);
  scanned("B2-1", "nothing to do", 60.0);
  scanned("B2-2", "nothing to do", 41.0);
  const BoxView view = view_box(ledger, "B2");
  ASSERT_EQ(view.keepers.size(), 1U);
  EXPECT_EQ(view.reeds[1].likeness->rank, 1);
  EXPECT_EQ(view.reeds[0].likeness->rank, 2);
  EXPECT_FALSE(view.reeds[2].likeness);
  EXPECT_THAT(keepers_of(ledger, "Anna", "sax-alto"), IsEmpty());
  EXPECT_THAT(keepers_of(ledger, "", ""), IsEmpty());
  EXPECT_THROW((void)view_box(ledger, "B9"), UsageError);
}

TEST_F(BoxViewTest, SpreadLeavesOutWhatTheScansAdd) {
  // By hand: values 1, 3, 5, 7 have the variance 20 / 3.
  std::vector<NamedFigures> reeds;
  for (const double value : {1.0, 3.0, 5.0, 7.0}) reeds.push_back({std::to_string(value), {{"tip", value, 1.0}}});
  const FigureSpread spread = spread_of("tip", reeds);
  EXPECT_DOUBLE_EQ(spread.mean, 4.0);
  EXPECT_DOUBLE_EQ(spread.sd, std::sqrt(20.0 / 3.0 - 1.0));
  EXPECT_EQ(spread.lowest, 1.0);
  EXPECT_EQ(spread.highest, 7.0);
  for (NamedFigures& reed : reeds) reed.figures.front().u = 10.0;
  EXPECT_EQ(spread_of("tip", reeds).sd, 0.0);
  EXPECT_EQ(spread_of("heart", reeds).reeds, 0);
}

TEST_F(BoxViewTest, OneOfMany) {
  std::vector<NamedFigures> reeds;
  for (const double value : {10.0, 10.5, 9.5, 10.2, 9.9, 10.1}) reeds.push_back({"like", {{"tip", value, 0.1}}});
  reeds.push_back({"odd", {{"tip", 14.0, 0.1}}});
  EXPECT_THAT(spread_of("tip", reeds).stand_apart, ElementsAre("odd"));
  reeds.back().figures.front().u = 3.0;
  EXPECT_THAT(spread_of("tip", reeds).stand_apart, IsEmpty()) << "the scan does not know";
  reeds.resize(3);
  reeds.push_back({"odd", {{"tip", 14.0, 0.1}}});
  EXPECT_THAT(spread_of("tip", reeds).stand_apart, IsEmpty()) << "three others are not enough to tell";
}

// One box in twenty of like reeds may show one by chance, whatever their number.
TEST_F(BoxViewTest, LikeReedsSeldomStandApart) {
  std::mt19937_64 random(11);
  std::normal_distribution<double> normal;
  for (const int count : {4, 10}) {
    int boxes = 0;
    constexpr int all = 2000;
    for (int k = 0; k < all; ++k) {
      std::vector<NamedFigures> reeds;
      for (int r = 0; r < count; ++r) reeds.push_back({"r", {{"tip", 100.0 + 5.0 * normal(random), 0.0}}});
      boxes += !spread_of("tip", reeds).stand_apart.empty();
    }
    EXPECT_GT(boxes, 0.03 * all) << count;
    EXPECT_LT(boxes, 0.07 * all) << count;
  }
}

}  // namespace
}  // namespace canewise
