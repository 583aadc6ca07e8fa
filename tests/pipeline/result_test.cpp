#include "scanproc/pipeline/result.h"

#include <gtest/gtest.h>

namespace canewise {
namespace {

// The names stand in every result's file.
TEST(Result, EverySourceOfHandednessHasItsOwnNameAndIsInTheList) {
  EXPECT_EQ(name_of(HandednessSource::assumed), "assumed");
  EXPECT_EQ(name_of(HandednessSource::rig_file), "rig file");
  EXPECT_EQ(name_of(HandednessSource::mark), "mark");
  for (std::size_t k = 0; k < kHandednessSources.size(); ++k)
    EXPECT_EQ(static_cast<std::size_t>(kHandednessSources.at(k)), k);
}

TEST(Result, BeforeAnythingIsMeasuredNothingIsClaimed) {
  const Result result;
  EXPECT_EQ(result.state, MoistureState::unknown);
  EXPECT_EQ(result.handedness, HandednessSource::assumed);
  EXPECT_FALSE(result.registration);
  EXPECT_FALSE(result.table);
  EXPECT_FALSE(result.instrument_given);
  EXPECT_TRUE(result.headline.empty());
  EXPECT_EQ(result.plan.status, PlanStatus::cannot_tell);
  EXPECT_EQ(result.assessment.balance.verdict, Verdict::cannot_tell);
  EXPECT_FALSE(ScanSource{}.unit_guessed);
}

}  // namespace
}  // namespace canewise
