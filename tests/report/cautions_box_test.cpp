#include "scanproc/report/cautions_box.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>
#include <utility>

#include "scanproc/report/page_frame.h"
#include "scanproc/scrape/scrape_plan.h"
#include "tests/support/plain_result.h"

namespace canewise {
namespace {

using testing::HasSubstr;

std::size_t count_of(const std::string& text, const std::string& part) {
  std::size_t count = 0;
  for (auto at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++count;
  return count;
}

TEST(CautionsBox, HoldsEveryCautionOnceInItsOrder) {
  for (const Language language : kLanguages) {
    const std::string box = cautions_box({language});
    EXPECT_EQ(count_of(box, "<li>"), kCautions.size());
    std::size_t last = 0;
    for (const MessageId caution : kCautions) {
      const std::size_t at = box.find(escaped(sentence(Message(caution), {language})));
      ASSERT_NE(at, std::string::npos) << caution.text;
      EXPECT_GT(at, last);
      last = at;
    }
  }
}

// What must be said wherever a person is told to scrape: design of the tool, section on safety.
TEST(CautionsBox, NamesBladesDustMouldAndWhomToAsk) {
  const std::string box = cautions_box({});
  for (const char* words : {"away from your fingers", "cane dust", "mask", "mouldy", "unwashed reeds", "Local rules",
                            "teacher or technician"})
    EXPECT_THAT(box, HasSubstr(words));
}

TEST(TellsToCut, ByAStepByAnotherWayOutOrByClippingAReedThatIsTooSoft) {
  Result result = test::plain_result();
  EXPECT_FALSE(tells_to_cut(result));
  result.plan.steps = {test::plain_step("here")};
  EXPECT_TRUE(tells_to_cut(result));
  result = test::plain_result();
  result.plan.alternatives = {{"plan.clip_a_little"}};
  EXPECT_TRUE(tells_to_cut(result));
  result = test::plain_result();
  for (const auto& [advice, cuts] :
       {std::pair{"strength.too_soft", true}, {"strength.as_wanted", false}, {"strength.too_hard", false}}) {
    result.mechanics.strength.advice.id = advice;
    EXPECT_EQ(tells_to_cut(result), cuts) << advice;
  }
}

TEST(CautionsBox, TheRollingTestComesWithWhatToDoIfItSaysNo) {
  const std::string words = rolling_test_words({});
  EXPECT_LT(words.find("First the rolling test."), words.find("roll the mouthpiece"));
  EXPECT_LT(words.find("roll the mouthpiece"), words.find("take nothing off"));
}

TEST(CautionsBox, SidesAreCheckedUnlessTheyAreAssumed) {
  Result result;
  EXPECT_FALSE(handedness_is_checked(result)) << "nobody looked";
  for (const HandednessSource source : kHandednessSources) {
    result.handedness = source;
    EXPECT_EQ(handedness_is_checked(result), source != HandednessSource::assumed) << name_of(source);
  }
  EXPECT_THAT(unchecked_handedness_words({}), HasSubstr("tape on the right rail"));
}

TEST(CautionsBox, AfterTheLastStepOneScansAgain) {
  EXPECT_THAT(sentence(Message(kThenScan)), HasSubstr("let the reed dry as it was and scan it again"));
}

}  // namespace
}  // namespace canewise
