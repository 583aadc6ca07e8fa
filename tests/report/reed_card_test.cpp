#include "scanproc/report/reed_card.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "scanproc/core/error.h"
#include "scanproc/ledger/file_result.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::Not;

TEST(ReedCard, SaysWhoseReedItIsHowItWasFoundAndHowItPlayed) {
  const test::TempFolder folder;
  Ledger ledger(folder.path() / "ledger.sqlite", Ledger::Access::make);
  ledger.insert("player", {{"name", "Anna"}});
  ledger.insert("place", {{"name", "drawer"}});
  ledger.insert("box", {{"name", "B3"}, {"player", "Anna"}});
  add_reed(ledger, "B3-7");
  EXPECT_THAT(reed_screen(ledger, "B3-7", {}),
              AllOf(HasSubstr("B3-7, box B3, Anna, new"), HasSubstr("ot scanned yet")));
  ledger.update("reed", "B3-7",
                {{"stage", "concert"}, {"is_keeper", std::int64_t{1}}, {"place", "drawer"}, {"note", "for the Weber"}});
  ledger.insert("result", {{"folder", "B3-7-a"},
                           {"reed", "B3-7"},
                           {"measured_at", "2026-12-01T10:00:00Z"},
                           {"state", "dry"},
                           {"plan", "steps"}});
  ledger.insert("playing", {{"reed", "B3-7"}, {"played_on", "2026-12-01"}, {"minutes", 25.0}});
  TrialRecord trial;
  trial.reed = "B3-7", trial.played_at = "2026-12-02T10:00:00Z", trial.words = "warm";
  trial.response = 5, trial.evenness = 4, trial.tone = 3;
  ledger.insert("trial", row_of(trial));
  EXPECT_THAT(reed_screen(ledger, "B3-7", {}),
              AllOf(HasSubstr("for concerts, reference reed, lies in drawer"), HasSubstr("for the Weber"),
                    HasSubstr("2026-12-01 (dry), worth work: B3-7-a"), HasSubstr("25 minutes"),
                    HasSubstr("2026-12-02: response 5, evenness 4, tone 3; warm"), Not(HasSubstr("bin"))));
  ledger.update("reed", "B3-7", {{"binned_at", "2026-12-02T10:00:00Z"}});
  EXPECT_THAT(reed_line(find_reed(ledger, "B3-7"), {}), HasSubstr("in the bin"));
  EXPECT_THROW((void)reed_screen(ledger, "B3-8", {}), UsageError);
}

}  // namespace
}  // namespace canewise
