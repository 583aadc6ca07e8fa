#include "scanproc/scrape/plan_options.h"

#include <gtest/gtest.h>

#include "scanproc/core/error.h"

namespace canewise {
namespace {

TEST(PlanOptions, AnAimIsBalanceTheTargetOrAStrength) {
  const auto balance = aim_from("balance");
  ASSERT_TRUE(balance);
  EXPECT_FALSE(balance->target);
  EXPECT_FALSE(balance->halves);
  const auto target = aim_from("target");
  ASSERT_TRUE(target);
  EXPECT_TRUE(target->target);
  EXPECT_FALSE(target->halves);
  // 'Half' is half a strength, a quarter is half of that; softer is negative.
  for (const auto& [words, halves] : {std::pair{"a quarter softer", -0.5},
                                      {"a half softer", -1.0},
                                      {"a half harder", 1.0},
                                      {"one and a half strengths softer", -3.0}}) {
    const auto aim = aim_from(words);
    ASSERT_TRUE(aim) << words;
    EXPECT_FALSE(aim->target) << words;
    EXPECT_EQ(aim->halves.value(), halves) << words;
  }
}

TEST(PlanOptions, WhatIsNoAimIsNone) {
  for (const char* words : {"", "nicer", "Balance ", "softer", "reference", "a quarter"})
    EXPECT_FALSE(aim_from(words)) << words;
}

TEST(PlanOptions, OneToFiftyStepsAreAllowedAndWhatLiesBeyondIsRefusedWithTheLimits) {
  EXPECT_NO_THROW(validate({})) << "the defaults are good";
  for (const int steps : {1, 50}) EXPECT_NO_THROW(validate({.most_steps = steps})) << steps;
  for (const int steps : {-3, 0, 51}) {
    try {
      validate({.most_steps = steps});
      ADD_FAILURE() << steps;
    } catch (const UsageError& error) {
      EXPECT_EQ(error.message().id, "plan.steps_out_of_range");
      EXPECT_EQ(error.exit_code(), ExitCode::usage);
      const auto number = [&](const char* name) { return std::get<Number>(error.message().arguments.at(name)).value; };
      EXPECT_EQ(number("least"), 1.0);
      EXPECT_EQ(number("most"), 50.0);
      EXPECT_EQ(number("got"), steps);
    }
  }
}

// Design: the rolling test first; balance unless the player says otherwise.
TEST(PlanOptions, DefaultsAreTheCarefulOnes) {
  const PlanOptions options;
  EXPECT_EQ(options.rolling_test, RollingTest::not_done);
  EXPECT_FALSE(options.aim);
  EXPECT_FALSE(options.seating_in_doubt);
}

}  // namespace
}  // namespace canewise
