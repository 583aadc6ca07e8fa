// A number and its standard uncertainty; NaN where the scan does not show it, which no verdict takes for a number.
#include "scanproc/assess/measured.h"

#include <gtest/gtest.h>

#include <limits>

#include "scanproc/assess/conformity.h"

namespace canewise {
namespace {

TEST(Measured, IsItsValueFirstAndThenItsStandardUncertainty) {
  constexpr Measured length{68.2, 0.03};
  EXPECT_EQ(length.value, 68.2);
  EXPECT_EQ(length.u, 0.03);
  const auto& [value, u] = length;
  EXPECT_EQ(judge(value, u, 67.0, 69.0), Verdict::within) << "k = 1: 26 of them lie between value and limit";
  EXPECT_EQ(judge(value, 20.0 * u, 67.0, 69.0), Verdict::cannot_tell);
}

TEST(Measured, WhatWasNotSeenIsWithinNoLimits) {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const Measured unseen{nan, nan};
  EXPECT_EQ(judge(unseen.value, unseen.u, -1e9, 1e9), Verdict::cannot_tell);
}

}  // namespace
}  // namespace canewise
