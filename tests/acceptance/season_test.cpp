// A box from the shop to a better target, on the terminal: new box, two scans, advice, trial, plan, scrape, scan,
// compare, keeper, target.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <chrono>
#include <thread>

#include "fixtures/hand.h"
#include "scanproc/assess/target_file.h"
#include "scanproc/pipeline/result_json.h"
#include "tests/support/command_run.h"

namespace canewise {
namespace {

namespace fs = std::filesystem;
using test::content;
using testing::AllOf;
using testing::HasSubstr;
using testing::Not;

class SeasonRun : public test::CommandRun {
 protected:
  /// Runs, must end well, and gives what was printed.
  std::string done(const std::string& arguments) {
    const test::Outcome outcome = run(arguments);
    EXPECT_EQ(outcome.code, 0) << arguments << ": " << outcome.err;
    return outcome.out;
  }
  /// The only folder that begins so.
  [[nodiscard]] std::string folder_of(const std::string& beginning) const {
    std::string found;
    for (const auto& entry : fs::directory_iterator(folder_.path()))
      if (entry.is_directory() && entry.path().filename().string().starts_with(beginning))
        found = entry.path().filename().string();
    EXPECT_FALSE(found.empty()) << beginning;
    return found;
  }
};

TEST_F(SeasonRun, FromANewBoxToABetterTarget) {
  EXPECT_THAT(run("box show B3").err, HasSubstr("there is no ledger here"));
  EXPECT_THAT(done("player add Anna --is-teacher yes"), HasSubstr("A new ledger was begun"));
  EXPECT_THAT(done("box add B3 --player Anna --strength '3 1/2' --holds 10 --bought-on 2026-11-20"),
              AllOf(HasSubstr("10 reeds"), Not(HasSubstr("new ledger"))));
  EXPECT_THAT(done("box show B3"), HasSubstr("Try two reeds first"));

  EXPECT_THAT(done("measure " + scan("good.ply", {}, 0.0) + " --reed B3-1 --state dry"),
              HasSubstr("B3-1, box B3, Anna, 20"));
  (void)done("measure " + scan("heavy.ply", {}, 80.0) + " --reed B3-2 --state dry");
  EXPECT_THAT(done("box show B3 --out b3"),
              AllOf(HasSubstr("2 of 2 tried reeds suit"), HasSubstr("Worth work: B3-2"), HasSubstr("Go on")));
  EXPECT_THAT(content(folder_.path() / "b3/box.html"), HasSubstr("box.png"));
  EXPECT_TRUE(fs::exists(folder_.path() / "b3/box.png"));

  EXPECT_THAT(done("trial B3-2 --response 2 --evenness 2 --tone 4 --freer-side left"),
              AllOf(HasSubstr("Unbalanced, likely"), HasSubstr("With 7 more")));
  const std::string before = folder_of("B3-2-");
  const Result measured = read_result(folder_.path() / before);
  fixtures::ReedFaults faults = test::rough_cane(1);
  faults.heavy_rail_um = 80.0;
  fixtures::Reed scraped({}, faults);
  fixtures::Hand hand;
  std::mt19937_64 random(1);
  for (const ScrapeStep& step : measured.plan.steps) scraped = scraped.scraped(fixtures::cut_of(step, hand, random));
  (void)folder_.file("after.ply",
                     fixtures::ply_binary(fixtures::scan_reed(scraped, fixtures::profilometer(), {}, 2).cloud));
  (void)done("measure after.ply --reed B3-2 --state dry");
  const std::string after = before + "-2";
  EXPECT_THAT(done("compare " + before + " " + after), HasSubstr("came off"));
  EXPECT_THAT(done("reed show B3-2"), HasSubstr(after)) << "the latest scan counts";

  (void)done("trial B3-2 --response 5 --evenness 4 --tone 4");
  EXPECT_THAT(run("target make best --keepers Anna").err, HasSubstr("no reference reed"));
  (void)done("reed change B3-1 --is-keeper yes --stage playing");
  (void)done("target make one --keepers Anna");
  (void)done("reed change B3-2 --is-keeper yes --stage playing");
  (void)done("target make two --keepers Anna");
  const Target one = load_target((folder_.path() / "one.target.json").string()),
               two = load_target((folder_.path() / "two.target.json").string());
  EXPECT_EQ(one.reeds, 1);
  EXPECT_EQ(two.reeds, 2) << "it improves as keepers join";
  EXPECT_THAT(done("box show B3"), HasSubstr("2 reference reeds"));
  EXPECT_THAT(done("today"), HasSubstr("Nothing to do")) << "one was tried today";
  EXPECT_THAT(done("today --day 2090-01-01"), HasSubstr("Play B3-1, which has not been played yet"));
  (void)done("reed played B3-1 --minutes 20");
  EXPECT_THAT(done("ledger check"), HasSubstr("sound"));
}

TEST_F(SeasonRun, TwoMeasurementsOfOneReedAtOnceBothStay) {
  (void)done("reed add B3-1");
  const std::string file = scan();
  const std::string both = "measure " + file + " --reed B3-1 --state dry";
  const test::Outcome last = run(both, "( " CANEWISE_COMMAND " " + both + " >one.txt 2>&1 & ) ; ");
  EXPECT_EQ(last.code, 0) << last.err;
  const auto results = [&] {
    int folders = 0;
    for (const auto& entry : fs::directory_iterator(folder_.path()))
      folders += entry.is_directory() && fs::exists(entry.path() / "result.json");
    return folders;
  };
  for (int k = 0; k < 100 && results() < 2; ++k) std::this_thread::sleep_for(std::chrono::milliseconds(100));
  EXPECT_EQ(results(), 2);
  EXPECT_EQ(run("measure nothing.ply --reed B3-1").code, 3);
  for (const auto& entry : fs::directory_iterator(folder_.path()))
    EXPECT_FALSE(entry.is_directory() && fs::is_empty(entry.path())) << entry.path();
}

TEST_F(SeasonRun, ATrayOfReedsFillsABox) {
  (void)done("box add B3 --holds 3");
  fixtures::SceneOptions tray;
  tray.neighbours = {fixtures::Reed({}, test::rough_cane(7))};
  (void)scan("tray.ply", tray, 0.0);
  EXPECT_THAT(done("measure tray.ply --each --reed B3 --state dry"), AllOf(HasSubstr("B3-1"), HasSubstr("B3-2")));
  EXPECT_THAT(done("box show B3"), HasSubstr("3 reeds, 2 scanned"));
}

TEST_F(SeasonRun, OlderResultsAreAdoptedAndTheLedgerTravels) {
  (void)done("measure " + scan() + " --out 'lent to Ben' --state dry");
  EXPECT_THAT(done("ledger adopt ."), AllOf(HasSubstr("filed under lent to Ben"), HasSubstr("1 result was filed")));
  (void)done("ledger export a.json");
  (void)done("ledger import a.json --ledger other.sqlite");
  (void)done("ledger export b.json --ledger other.sqlite");
  EXPECT_EQ(content(folder_.path() / "a.json"), content(folder_.path() / "b.json"));
  (void)done("ledger csv tables");
  EXPECT_THAT(content(folder_.path() / "tables/reed.csv"), HasSubstr("lent to Ben"));
  (void)folder_.file("mine.txt", "mine");
  EXPECT_EQ(run("ledger export mine.txt").code, 6);
  EXPECT_EQ(run("ledger export ledger.sqlite").code, 6) << "not over itself";
  EXPECT_EQ(content(folder_.path() / "mine.txt"), "mine");
  (void)done("ledger csv tables");
  (void)folder_.file("tables/reed.csv", "mine");
  EXPECT_EQ(run("ledger csv tables").code, 6);
  EXPECT_EQ(content(folder_.path() / "tables/reed.csv"), "mine");
  EXPECT_EQ(run("ledger import mine.txt --ledger new.sqlite").code, 3);
  EXPECT_FALSE(fs::exists(folder_.path() / "new.sqlite"));
  (void)done("ledger backup copy.sqlite");
  EXPECT_EQ(run("ledger backup copy.sqlite").code, 6);
  (void)done("reed bin 'lent to Ben'");
  EXPECT_THAT(done("reed list"), Not(HasSubstr("Ben")));
  EXPECT_THAT(done("reed list --all"), HasSubstr("in the bin"));
  (void)done("reed restore 'lent to Ben'");
  (void)done("reed change 'lent to Ben' --label Ben --note 'warm, a little flat'");
  EXPECT_THAT(done("reed list --find WARM"), HasSubstr("Ben"));
  (void)done("reed bin Ben");
  EXPECT_THAT(done("reed empty-bin"), HasSubstr("1 reed was deleted"));
  EXPECT_TRUE(fs::exists(folder_.path() / "lent to Ben/result.json"));
}

TEST_F(SeasonRun, WhatDoesNotFitIsRefusedAndChangesNothing) {
  (void)done("box add B3 --holds 2");
  const std::string before = [&] {
    (void)done("ledger export a.json");
    return content(folder_.path() / "a.json");
  }();
  for (const char* no :
       {"box add B3", "box add ../B4", "box add B4 --holds ten", "box add B4 --player Nobody", "reed add B3-1",
        "reed change B3-9 --note x", "reed change B3-1 --stage lost", "trial B3-9 --response 3 --evenness 3 --tone 3",
        "trial B3-1 --response 3 --evenness 3", "trial B3-1 --response 6 --evenness 3 --tone 3", "today --day tomorrow",
        "reed played B3-1 --minutes -5", "measure a.json --reed ../B3", "reed list --order colour"})
    EXPECT_EQ(run(no).code, 2) << no;
  EXPECT_EQ(run("measure nothing.ply --reed B3-3").code, 3);
  EXPECT_EQ(run("ledger import a.json").code, 2) << "not into one that holds something";
  (void)done("ledger export b.json");
  EXPECT_EQ(content(folder_.path() / "b.json"), before);
  (void)folder_.file("ledger.sqlite", std::string(5000, 'x'));
  EXPECT_EQ(run("today").code, 3);
}

}  // namespace
}  // namespace canewise
