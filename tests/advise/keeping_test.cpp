#include "scanproc/advise/keeping.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "scanproc/ledger/file_result.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

struct Keeping : testing::Test {
  test::TempFolder folder;
  Ledger ledger{folder.path() / "ledger.sqlite", Ledger::Access::make};

  void reed(const std::string& label, const std::string& stage, const std::string& player = {}) {
    if (!player.empty() && !ledger.has("player", player)) ledger.insert("player", {{"name", player}});
    add_reed(ledger, label);
    ledger.update("reed", label, {{"stage", stage}, {"player", player.empty() ? Cell() : Cell(player)}});
  }
  void played(const std::string& label, const std::string& day, double minutes = 20.0) {
    ledger.insert("playing", {{"reed", label}, {"played_on", day}, {"minutes", minutes}});
  }
  void scanned(const std::string& label, const std::string& day, double stiffness = 40.0) {
    const std::string name = label + "-" + day;
    ledger.insert("result", {{"folder", name}, {"reed", label}, {"measured_at", day + "T10:00:00Z"}, {"state", "dry"}});
    ledger.insert("figure", {{"folder", name}, {"name", "stiffness"}, {"value", stiffness}, {"u", 0.4}});
  }
  [[nodiscard]] std::vector<std::string> on(const std::string& day, const std::string& player = {}) const {
    std::vector<std::string> said;
    for (const ChoreOfDay& chore : chores_of(ledger, player, day))
      said.push_back(std::string(name_of(chore.chore)) + " " + chore.reed + ": " + chore.what.id);
    return said;
  }
};

TEST_F(Keeping, TheReedThatRestedLongestPlaysNext) {
  for (const char* label : {"A", "B", "C"}) {
    reed(label, "playing", "Anna");
    scanned(label, "2026-12-01");
  }
  played("A", "2026-12-01");
  played("B", "2026-12-03");
  played("C", "2026-12-02");
  EXPECT_THAT(on("2026-12-04"), ElementsAre("play A: chore.play"));
  played("A", "2026-12-04");
  EXPECT_THAT(on("2026-12-04"), IsEmpty()) << "one reed a day";
  EXPECT_THAT(on("2026-12-05"), ElementsAre("play C: chore.play"));
}

TEST_F(Keeping, EveryPlayerHasARotationOfTheirOwn) {
  reed("A", "playing", "Anna");
  reed("B", "playing", "Ben");
  scanned("A", "2026-12-01");
  scanned("B", "2026-12-01");
  EXPECT_THAT(on("2026-12-04"), ElementsAre("play A: chore.play", "play B: chore.play"));
  EXPECT_THAT(on("2026-12-04", "Ben"), ElementsAre("play B: chore.play"));
}

// Common practice: a new reed needs breaking in, a little each day.
TEST_F(Keeping, ANewReedIsPlayedALittleMoreEachDay) {
  reed("A", "breaking in");
  const auto minutes = [&](const std::string& day) {
    for (const ChoreOfDay& chore : chores_of(ledger, {}, day))
      if (chore.what.id == "chore.break_in") return std::get<std::int64_t>(chore.what.arguments.at("minutes"));
    return std::int64_t{0};
  };
  EXPECT_EQ(minutes("2026-12-01"), 5);
  played("A", "2026-12-01", 2.0);
  played("A", "2026-12-01", 3.0);
  EXPECT_EQ(minutes("2026-12-01"), 0) << "enough for today";
  EXPECT_EQ(minutes("2026-12-02"), 10);
  for (const char* day : {"2026-12-02", "2026-12-04", "2026-12-05", "2026-12-06"}) played("A", day);
  EXPECT_THAT(on("2026-12-07"), ElementsAre("break in A: chore.broken_in"));
}

TEST_F(Keeping, AReedInReserveIsKeptAlive) {
  reed("A", "concert");
  scanned("A", "2026-12-01");
  played("A", "2026-12-01");
  EXPECT_THAT(on("2026-12-14"), IsEmpty());
  EXPECT_THAT(on("2026-12-15"), ElementsAre("refresh A: chore.refresh"));
}

TEST_F(Keeping, AnOldScanIsMadeAnew) {
  reed("A", "playing");
  played("A", "2026-12-01");
  EXPECT_THAT(on("2026-12-01"), ElementsAre("scan A: chore.never_scanned"));
  scanned("A", "2026-12-01");
  played("A", "2027-01-11");
  EXPECT_THAT(on("2027-01-11"), IsEmpty());
  played("A", "2027-01-12");
  EXPECT_THAT(on("2027-01-12"), ElementsAre("scan A: chore.scan"));
}

TEST_F(Keeping, WhatChangedByItselfIsSaidAndWhatWasScrapedNot) {
  reed("A", "concert");
  played("A", "2026-12-20");
  scanned("A", "2026-12-01", 40.0);
  scanned("A", "2026-12-20", 42.0);
  EXPECT_THAT(on("2026-12-20"), IsEmpty()) << "less than a quarter strength";
  scanned("A", "2026-12-21", 50.0);
  EXPECT_THAT(on("2026-12-21"), ElementsAre("changed A: chore.changed"));
  ledger.insert("work", {{"reed", "A"}, {"done_at", "2026-12-20T12:00:00Z"}});
  EXPECT_THAT(on("2026-12-21"), IsEmpty());
  scanned("A", "2026-12-22", 60.0);
  EXPECT_THAT(on("2026-12-22"), ElementsAre("changed A: chore.changed")) << "since it was scraped";
}

TEST_F(Keeping, AReedThatWasPlayedLongMayRetire) {
  reed("A", "concert");
  scanned("A", "2026-12-01");
  played("A", "2026-12-01", 1400.0);
  EXPECT_THAT(on("2026-12-02"), IsEmpty());
  played("A", "2026-12-01", 100.0);
  EXPECT_THAT(on("2026-12-02"), ElementsAre("retire A: chore.retire"));
  ledger.update("reed", "A", {{"stage", "retired"}});
  EXPECT_THAT(on("2026-12-02"), IsEmpty());
}

TEST_F(Keeping, PlacesMayBeTooDryOrTooDamp) {
  ledger.insert("place", {{"name", "drawer"}});
  const auto read = [&](const std::string& at, double percent) {
    ledger.insert("humidity", {{"place", "drawer"}, {"read_at", at}, {"percent", percent}});
  };
  read("2026-12-01T10:00:00Z", 30.0);
  EXPECT_THAT(on("2026-12-01"), ElementsAre("air drawer: chore.air"));
  read("2026-12-02T10:00:00Z", 55.0);
  EXPECT_THAT(on("2026-12-02"), IsEmpty());
  read("2026-12-03T10:00:00Z", 80.0);
  EXPECT_THAT(on("2026-12-03"), ElementsAre("air drawer: chore.air"));
  EXPECT_THAT(on("2026-12-02"), IsEmpty()) << "what is read tomorrow says nothing today";
  EXPECT_THAT(on("2026-12-17"), ElementsAre("air drawer: chore.air"));
  EXPECT_THAT(on("2026-12-18"), IsEmpty()) << "an old reading says nothing";
}

TEST_F(Keeping, AClockThatWasSetBackBreaksNothing) {
  reed("A", "playing");
  scanned("A", "2027-05-01");
  played("A", "2027-05-01");
  EXPECT_THAT(on("2026-12-01"), ElementsAre("play A: chore.play")) << "days to come say nothing";
}

TEST_F(Keeping, TheBinHasNoChores) {
  reed("A", "playing");
  ledger.update("reed", "A", {{"binned_at", "2026-12-01T10:00:00Z"}});
  EXPECT_THAT(on("2026-12-01"), IsEmpty());
}

}  // namespace
}  // namespace canewise
