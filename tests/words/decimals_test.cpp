#include "scanproc/words/decimals.h"

#include <gtest/gtest.h>

#include <limits>

namespace canewise {
namespace {

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();

TEST(Decimals, AStatedNumberHasAsManyAsWereWritten) {
  EXPECT_EQ(decimals_of(500.0), 0);
  EXPECT_EQ(decimals_of(19.98), 2);
  EXPECT_EQ(decimals_of(0.1), 1);
  EXPECT_EQ(decimals_of(-2.375), 3) << "the sign is none";
  EXPECT_EQ(decimals_of(0.0005), 4) << "noughts behind the point count";
  EXPECT_EQ(decimals_of(0.0), 0);
}

TEST(Decimals, RoundingOfTheMachineIsNotShown) {
  EXPECT_EQ(decimals_of(0.1 + 0.2), 1) << "0.30000000000000004";
  EXPECT_EQ(decimals_of(static_cast<double>(0.15F)), 2) << "0.15000000596, a single-precision number";
  EXPECT_EQ(decimals_of(3.0 * 1.1), 1) << "3.3000000000000003";
}

TEST(Decimals, ThereAreNeverMoreThanTheMost) {
  EXPECT_EQ(decimals_of(1.0 / 3.0), 6);
  EXPECT_EQ(decimals_of(1.0 / 3.0, 2), 2);
  EXPECT_EQ(decimals_of(0.125, 2), 2);
  EXPECT_EQ(decimals_of(0.125, 3), 3) << "the most is allowed";
  EXPECT_EQ(decimals_of(0.5, 0), 0);
}

TEST(Decimals, AFoundValueHasThatManySignificantDigits) {
  EXPECT_EQ(significant_decimals(0.01234, 2), 3) << "0.012: noughts before the first digit do not count";
  EXPECT_EQ(significant_decimals(12.34, 3), 1) << "12.3";
  EXPECT_EQ(significant_decimals(-0.0456, 2), 3) << "-0.046";
  EXPECT_EQ(significant_decimals(1234.5, 2), 0) << "there is no fewer than none";
}

TEST(Decimals, AFoundValueHasNoNoughtsAtItsEnd) {
  EXPECT_EQ(significant_decimals(0.5, 3), 1) << "0.5, not 0.500";
  EXPECT_EQ(significant_decimals(2.004, 3), 0) << "2, for it would be 2.00";
  EXPECT_EQ(significant_decimals(2.006, 3), 2) << "2.01";
  EXPECT_EQ(significant_decimals(9.996, 3), 0) << "10, though its first digit is in the tenth place";
}

TEST(Decimals, WhatIsNoNumberHasNone) {
  EXPECT_EQ(significant_decimals(0.0, 3), 0);
  EXPECT_EQ(significant_decimals(kNone, 3), 0);
  EXPECT_EQ(significant_decimals(-std::numeric_limits<double>::infinity(), 3), 0);
}

}  // namespace
}  // namespace canewise
