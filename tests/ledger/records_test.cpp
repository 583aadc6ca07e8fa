#include "scanproc/ledger/records.h"

#include <gtest/gtest.h>

#include "scanproc/core/error.h"
#include "scanproc/ledger/file_result.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

struct RecordsTest : testing::Test {
  test::TempFolder folder;
  Ledger ledger{folder.path() / "ledger.sqlite", Ledger::Access::make};
};

TEST_F(RecordsTest, ATrialComesBackAsItWasKept) {
  add_reed(ledger, "A");
  TrialRecord trial;
  trial.reed = "A";
  trial.played_at = "2026-12-01T18:00:00Z";
  trial.words = "dark";
  trial.response = 2, trial.evenness = 3, trial.tone = 5;
  trial.articulation = 1, trial.dynamic_range = 4, trial.airiness = 5, trial.resistance = 2;
  trial.high_register = HighRegister::flat;
  trial.freer_side = FreerSide::right;
  trial.minutes = 7.5, trial.suction_s = 2.5;
  trial.is_blind = true;
  trial.id = std::get<std::int64_t>(ledger.insert("trial", row_of(trial)));
  const TrialRecord read = trials_of(ledger, "A").front();
  Row written = row_of(read);
  std::erase_if(written, [](const auto& entry) { return !is_known(entry.second); });
  EXPECT_EQ(written, ledger.row("trial", trial.id));
  EXPECT_EQ(read.reed, trial.reed);
  EXPECT_EQ(read.words, trial.words);
  EXPECT_EQ(read.articulation, 1);
  EXPECT_EQ(read.high_register, HighRegister::flat);
  EXPECT_EQ(read.freer_side, FreerSide::right);
  EXPECT_EQ(read.suction_s, 2.5);
  EXPECT_TRUE(read.is_blind);
}

TEST_F(RecordsTest, EveryStageHasAName) {
  for (const ReedStage stage : {ReedStage::fresh, ReedStage::breaking_in, ReedStage::playing, ReedStage::concert,
                                ReedStage::resting, ReedStage::retired})
    EXPECT_EQ(stage_from(name_of(stage)), stage);
  EXPECT_EQ(stage_from("lost"), std::nullopt);
}

TEST_F(RecordsTest, ReedsOfABoxStandInTheirOrderWithoutTheBin) {
  ledger.insert("box", {{"name", "B3"}});
  for (const char* label : {"B3-10", "B3-2", "B3-1"}) add_reed(ledger, label);
  ledger.update("reed", "B3-2", {{"binned_at", "2026-12-01T18:00:00Z"}});
  const auto reeds = reeds_of_box(ledger, "B3");
  ASSERT_EQ(reeds.size(), 2U);
  EXPECT_EQ(reeds[0].label, "B3-1");
  EXPECT_EQ(reeds[1].label, "B3-10");
  EXPECT_TRUE(find_reed(ledger, "B3-2").is_binned());
}

TEST_F(RecordsTest, TheLatestResultCounts) {
  add_reed(ledger, "A");
  for (const char* day : {"03", "01", "02"})
    ledger.insert("result", {{"folder", std::string("f") + day},
                             {"reed", "A"},
                             {"measured_at", std::string("2026-12-") + day + "T10:00:00Z"},
                             {"state", "dry"}});
  ledger.insert("figure", {{"folder", "f03"}, {"name", "tip"}, {"value", 101.0}, {"u", 4.0}});
  ledger.insert("figure", {{"folder", "f02"}, {"name", "tip"}, {"value", 102.0}});
  const auto latest = latest_result(ledger, "A");
  ASSERT_TRUE(latest);
  EXPECT_EQ(latest->folder, "f03");
  ASSERT_EQ(latest->figures.size(), 1U);
  EXPECT_EQ(latest->figures[0].value, 101.0);
  EXPECT_FALSE(latest_result(ledger, "B"));
}

TEST_F(RecordsTest, MinutesOfTrialsCountAsPlaying) {
  add_reed(ledger, "A");
  ledger.insert("playing", {{"reed", "A"}, {"played_on", "2026-12-01"}, {"minutes", 20.0}});
  TrialRecord trial;
  trial.reed = "A", trial.played_at = "2026-12-02T10:00:00Z";
  trial.response = trial.evenness = trial.tone = 3;
  ledger.insert("trial", row_of(trial));
  trial.minutes = 5.5;
  ledger.insert("trial", row_of(trial));
  EXPECT_DOUBLE_EQ(minutes_played(ledger, "A"), 25.5);
}

TEST_F(RecordsTest, SayWhatIsNotThere) {
  EXPECT_THROW((void)find_box(ledger, "B3"), UsageError);
  EXPECT_THROW((void)find_reed(ledger, "B3-1"), UsageError);
}

}  // namespace
}  // namespace canewise
