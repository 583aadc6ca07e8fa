#include "scanproc/report/print_sheets.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstdlib>

#include "scanproc/report/reed_card.h"
#include "tests/support/results.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

using testing::HasSubstr;
using testing::Not;

/// What one of poppler's tools writes about a sheet, blanks made one.
std::string said_by(const std::string& tool, const std::string& pdf, const std::string& to) {
  const test::TempFolder folder;
  const auto path = folder.file("sheet.pdf", pdf), said = folder.path() / "said.txt";
  EXPECT_EQ(std::system((tool + " " + path.string() + to + said.string()).c_str()), 0);
  std::ifstream stream(said);
  std::string text, all;
  while (stream >> text) all += text + " ";
  return all;
}

TEST(PrintSheets, EveryReedHasALabelAndASheetHolds24) {
  const BoxRecord box{.name = "B3",
                      .player = "Anna",
                      .instrument = {},
                      .strength = "3 1/2",
                      .cut = {},
                      .blank = {},
                      .bought_on = {},
                      .note = {},
                      .holds = 25,
                      .is_set_aside = false};
  std::vector<ReedRecord> reeds;
  for (int k = 1; k <= 25; ++k) {
    ReedRecord reed;
    reed.label = "B3-" + std::to_string(k);
    reeds.push_back(reed);
  }
  reeds[1].label = "the old one that Ben gave back, worn but still warm";
  reeds[1].player = "Ben";
  const std::string pdf = labels_pdf(box, reeds, {});
  const std::string text = said_by("pdftotext", pdf, " ");
  for (const ReedRecord& reed : reeds) EXPECT_THAT(text, HasSubstr(reed.label));
  EXPECT_THAT(text, HasSubstr("box B3, strength 3 1/2, Anna"));
  EXPECT_THAT(text, HasSubstr("box B3, strength 3 1/2, Ben"));
  EXPECT_THAT(said_by("pdfinfo", pdf, " >"), HasSubstr("Pages: 2 "));
  reeds.resize(24);
  EXPECT_THAT(said_by("pdfinfo", labels_pdf(box, reeds, {}), " >"), HasSubstr("Pages: 1 "));
}

TEST(PrintSheets, ACardSaysWhoseItIsWhatToDoWithCautionsAndHowItPlayed) {
  const Result result = test::heavy_rail_result();
  ASSERT_FALSE(result.plan.steps.empty());
  ReedRecord reed;
  reed.label = "B3-7";
  reed.player = "Anna";
  TrialRecord trial;
  trial.played_at = "2026-12-01T18:00:00Z", trial.words = "stuffy";
  trial.response = 2, trial.evenness = 3, trial.tone = 4;
  const std::string text = said_by("pdftotext -layout", reed_card_pdf(reed, result, {trial}, {}), " ");
  EXPECT_THAT(text, HasSubstr("B3-7, Anna, new"));
  EXPECT_THAT(text, HasSubstr("response 2, evenness 3, tone 4; stuffy"));
  EXPECT_THAT(text, HasSubstr("Blades are sharp"));
  EXPECT_THAT(text, HasSubstr("To do:"));
  EXPECT_THAT(said_by("pdfinfo", reed_card_pdf(reed, result, {}, {}), " >"), HasSubstr("Pages: 1 "));
  Result even = result;
  even.plan = {};
  even.plan.status = PlanStatus::nothing_to_do;
  even.clipped.clear();
  even.plan.sentence = {Message("chore.none")};
  EXPECT_THAT(said_by("pdftotext", reed_card_pdf(reed, even, {}, {}), " "), Not(HasSubstr("Blades are sharp")));
}

}  // namespace
}  // namespace canewise
