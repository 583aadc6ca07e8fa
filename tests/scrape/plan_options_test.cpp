#include "scanproc/scrape/plan_options.h"

#include <gtest/gtest.h>

#include <cmath>

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

/// The option that is refused; empty if none is.
std::string refused(const PlanOptions& options) {
  try {
    validate(options);
  } catch (const UsageError& error) {
    EXPECT_EQ(error.message().id, "plan.option_out_of_range");
    EXPECT_EQ(error.exit_code(), ExitCode::usage);
    return std::get<Word>(error.message().arguments.at("option")).key;
  }
  return {};
}

TEST(PlanOptions, LimitsAreAllowedAndWhatLiesBeyondThemIsRefusedByName) {
  EXPECT_EQ(refused({}), "") << "the defaults are good";
  const double nan = std::nan("");
  for (const double margin : {0.0, 5.0}) EXPECT_EQ(refused({.tip_margin_mm = margin}), "") << margin;
  for (const double margin : {-0.01, 5.01, nan}) EXPECT_EQ(refused({.tip_margin_mm = margin}), "tip_margin") << margin;
  for (const double floor : {0.0, 1.0}) EXPECT_EQ(refused({.floor_tip_mm = floor}), "") << floor;
  for (const double floor : {-0.01, 1.01, nan}) EXPECT_EQ(refused({.floor_tip_mm = floor}), "floor") << floor;
  for (const double floor : {0.0, 100.0}) EXPECT_EQ(refused({.floor_in_tolerances = floor}), "") << floor;
  for (const double floor : {-0.01, 100.5, nan})
    EXPECT_EQ(refused({.floor_in_tolerances = floor}), "floor_in_tolerances") << floor;
  for (const int steps : {1, 50}) EXPECT_EQ(refused({.most_steps = steps}), "") << steps;
  for (const int steps : {0, 51}) EXPECT_EQ(refused({.most_steps = steps}), "steps") << steps;
  for (const double depth : {1.0, 1000.0}) EXPECT_EQ(refused({.most_depth_um = depth}), "") << depth;
  for (const double depth : {0.9, 1001.0, nan}) EXPECT_EQ(refused({.most_depth_um = depth}), "depth") << depth;
}

TEST(PlanOptions, TheRefusalGivesTheLimitsAndWhatWasGiven) {
  try {
    validate({.most_depth_um = 1500.25});
    FAIL();
  } catch (const UsageError& error) {
    const auto number = [&](const char* name) { return std::get<Number>(error.message().arguments.at(name)); };
    EXPECT_EQ(number("least").value, 1.0);
    EXPECT_EQ(number("most").value, 1000.0);
    EXPECT_EQ(number("got").value, 1500.25);
    EXPECT_EQ(number("got").decimals, 2) << "as it was given";
  }
}

// Design: never the last half millimetre of the tip; the rolling test first; balance unless the player says otherwise.
TEST(PlanOptions, DefaultsAreTheCarefulOnes) {
  const PlanOptions options;
  EXPECT_EQ(options.tip_margin_mm, 0.5);
  EXPECT_EQ(options.rolling_test, RollingTest::not_done);
  EXPECT_FALSE(options.aim);
  EXPECT_FALSE(options.seating_in_doubt);
}

}  // namespace
}  // namespace canewise
