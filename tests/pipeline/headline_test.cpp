// The first sentence: which side, where, by how much. It names the side that is at fault, and the place that the plan
// scrapes.
#include "scanproc/pipeline/headline.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "fixtures/cane_faults.h"
#include "tests/support/bent_reeds.h"
#include "tests/support/in_english.h"

namespace canewise {
namespace {

using testing::HasSubstr;
using testing::Not;

Result result_of(const fixtures::Reed& reed, std::uint64_t seed) {
  const auto m = test::measure_drawn(reed, fixtures::profilometer(), seed);
  Result result;
  result.instrument = "clarinet-bb";
  result.outline = m.aligned.outline;
  result.map = m.map;
  result.assessment = m.assessment;
  result.plan = plan_scrape(test::plan_inputs(m, test::bent(m), result.player));
  return result;
}

fixtures::Reed reed_with(const fixtures::CaneFault& fault) {
  return fixtures::with_faults(fixtures::Reed({}, test::rough_cane(5)), {fault});
}

fixtures::CaneFault fault_of_height(double height_um) {
  fixtures::CaneFault fault;
  fault.side = -1;
  fault.height_um = height_um;
  fault.from_mm = 10.0;
  fault.to_mm = 17.0;
  return fault;
}

// Above half the tolerance, 7.5 um, this fault reaches 1.5 mm beyond its ends: from 8.5 to 18.5 mm.
TEST(Headline, NamesTheThickSideWhereThatIsAtFault) {
  const std::string headline = test::in_english(headline_of(result_of(reed_with(fault_of_height(50.0)), 5)));
  EXPECT_THAT(headline, HasSubstr("the left rail is "));
  EXPECT_THAT(headline, HasSubstr("thicker than the right between 8 and 19 mm from the tip"));
  EXPECT_THAT(headline, Not(HasSubstr("thin")));
}

// Scraping the sound rail down to a thin one may be all that can be done, but nobody is sent there unawares.
TEST(Headline, NamesTheThinSideWhereThatIsAtFaultAndSoDoesThePlan) {
  const Result result = result_of(reed_with(fault_of_height(-50.0)), 5);
  const std::string headline = test::in_english(headline_of(result));
  EXPECT_THAT(headline, HasSubstr("the left rail is "));
  EXPECT_THAT(headline, HasSubstr("thinner than the right between 8 and 19 mm from the tip"));
  EXPECT_THAT(headline, HasSubstr("this side is thin, not the other thick"));
  ASSERT_FALSE(result.plan.steps.empty()) << result.plan.sentence;
  for (const ScrapeStep& step : result.plan.steps) EXPECT_EQ(step.side, Side::right);
  EXPECT_THAT(test::each_in_english(result.plan.remarks),
              testing::Contains(HasSubstr("The fault is the left rail: it is thin between 8 and 19 mm")));
}

TEST(Headline, StepAndHeadlineNameOnePlace) {
  for (const double height_um : {50.0, -50.0}) {
    const Result result = result_of(reed_with(fault_of_height(height_um)), 5);
    ASSERT_FALSE(result.plan.steps.empty());
    const Fault& fault = result.assessment.faults.front();
    const ScrapeStep& first = result.plan.steps.front();
    EXPECT_EQ(first.side, fault.thicker);
    EXPECT_EQ(first.across, fault.across);
    // A stroke begins where there is enough to take.
    EXPECT_NEAR(first.from_mm, fault.from_mm, 1.5);
    EXPECT_NEAR(first.to_mm, fault.to_mm, 1.5);
  }
}

// A difference that is surely there, but not surely too large: the plan may ask to scrape it, so the first sentence
// must not say that nothing is off.
TEST(Headline, NamesADifferenceThatIsThereButNotProvedTooLarge) {
  Result result = result_of(fixtures::Reed({}, test::rough_cane(1)), 1);
  Balance& balance = result.assessment.balance;
  ZoneBalance& rail = balance.zones.at(8);
  balance.verdict = rail.verdict = Verdict::cannot_tell;
  rail.tolerance_mm = 0.015;
  rail.difference.u_mm = 0.004;
  const auto headline_with = [&](double difference_mm) {
    rail.difference.mean_mm = difference_mm;
    return test::in_english(headline_of(result));
  };
  EXPECT_THAT(headline_with(0.016), HasSubstr("the right rail, middle is 16 ± 8 µm thicker than the other side. This "
                                              "scan cannot prove that this is more than the tolerance of 15 µm."));
  EXPECT_THAT(headline_with(-0.016), HasSubstr("the left rail, middle is 16 ± 8 µm thicker"));
  EXPECT_THAT(headline_with(0.006), HasSubstr("shows nothing out of balance, but it cannot tell everywhere"));
}

TEST(Headline, SaysSoWhereNothingIsOff) {
  EXPECT_THAT(test::in_english(headline_of(result_of(fixtures::Reed({}, test::rough_cane(1)), 1))),
              HasSubstr("left and right agree within tolerance everywhere."));
}

}  // namespace
}  // namespace canewise
