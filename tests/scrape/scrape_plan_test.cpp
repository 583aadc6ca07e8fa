#include "scanproc/scrape/scrape_plan.h"

#include <gtest/gtest.h>

#include <set>

#include "scanproc/words/speech.h"

namespace canewise {
namespace {

TEST(ScrapePlan, EveryStatusHasItsOwnName) {
  EXPECT_EQ(name_of(PlanStatus::nothing_to_do), "nothing to do");
  EXPECT_EQ(name_of(PlanStatus::cannot_tell), "cannot tell");
  EXPECT_EQ(name_of(PlanStatus::steps), "steps");
  EXPECT_EQ(name_of(PlanStatus::cannot_save), "cannot save");
  EXPECT_EQ(name_of(PlanStatus::veto), "veto");
}

TEST(ScrapePlan, BeforeItIsMadeItTellsNobodyToScrapeNorThatAllIsWell) {
  const ScrapePlan plan;
  EXPECT_EQ(plan.status, PlanStatus::cannot_tell);
  EXPECT_TRUE(plan.steps.empty());
  EXPECT_EQ(plan.cane_right_over_left, 0.0);
  EXPECT_EQ(ScrapeStep{}.depth_um, 0.0);
  EXPECT_EQ(ScrapeStep{}.strokes, 0);
}

// Design: sharp blades, dust, mould, unwashed reeds, ask when unsure; wherever a person is told to scrape.
TEST(ScrapePlan, EveryCautionIsASentenceOfItsOwnInEveryLanguage) {
  for (const Language language : kLanguages) {
    std::set<std::string> said;
    for (const MessageId caution : kCautions) {
      const std::string words = sentence(Message(caution), {language});
      EXPECT_GT(words.size(), 20U) << caution.text;
      EXPECT_EQ(words.find(caution.text), std::string::npos) << "a bare id";
      said.insert(words);
    }
    EXPECT_EQ(said.size(), kCautions.size()) << code_of(language);
  }
}

}  // namespace
}  // namespace canewise
