#include "scanproc/report/season_page.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "scanproc/ledger/file_result.h"
#include "scanproc/ledger/records.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::Not;

struct SeasonPage : testing::Test {
  test::TempFolder folder;
  Ledger ledger{folder.path() / "ledger.sqlite", Ledger::Access::make};
};

TEST_F(SeasonPage, SaysTheDayAndLeadsToEveryBox) {
  ledger.insert("box", {{"name", "Änne's <b>"}});
  add_reed(ledger, "A");
  ledger.update("reed", "A", {{"stage", "breaking in"}});
  const std::string page = season_page(ledger, "2026-12-01", {.in_one_file = false}, {});
  EXPECT_THAT(page, AllOf(HasSubstr("Today, 2026-12-01"), HasSubstr("Break in A: day 1, 5 minutes"),
                          HasSubstr("href=\"/box/%C3%84nne%27s%20%3Cb%3E/\""), Not(HasSubstr("<b>"))));
}

TEST_F(SeasonPage, AnEmptyLedgerHasNothingToDo) {
  EXPECT_THAT(season_page(ledger, "2026-12-01", {.in_one_file = false}, {}),
              AllOf(HasSubstr("Nothing to do today"), HasSubstr("No box is known yet")));
}

TEST_F(SeasonPage, AReedsSectionHoldsItsTrialsAndWhatLetsThePageWrite) {
  EXPECT_EQ(ledger_section(ledger, "B3-7", {}, {}), "");
  add_reed(ledger, "B3-7");
  TrialRecord trial;
  trial.reed = "B3-7", trial.played_at = "2026-12-01T18:00:00Z", trial.words = "<script>alert(1)</script>";
  trial.response = 2, trial.evenness = 3, trial.tone = 4;
  ledger.insert("trial", row_of(trial));
  ledger.update("reed", "B3-7", {{"is_keeper", std::int64_t{1}}});
  const std::string section = ledger_section(ledger, "B3-7", {.token = "secret"}, {});
  EXPECT_THAT(section,
              AllOf(HasSubstr("response 2, evenness 3, tone 4"), HasSubstr("data-token=\"secret\""),
                    HasSubstr("data-reed=\"B3-7\""), HasSubstr("data-keeper=\"1\""), Not(HasSubstr("<script"))));
  EXPECT_EQ(ledger_section(ledger, "", {}, {}), "");
}

}  // namespace
}  // namespace canewise
