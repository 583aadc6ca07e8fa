#include "scanproc/report/numbers.h"

#include <gtest/gtest.h>

#include <cmath>

namespace canewise {
namespace {

const Speech kThou{Language::english, SmallUnit::thou};
const Speech kGerman{Language::german, SmallUnit::um};

TEST(Numbers, ASmallLengthIsTheNumberAloneInTheReadersUnit) {
  EXPECT_EQ(phrase(small_number(24.4)), "24");
  EXPECT_EQ(phrase(small_number(24.4, 1)), "24.4");
  EXPECT_EQ(phrase(small_number(24.4, 1), kGerman), "24,4");
  EXPECT_EQ(phrase(small_number(50.8), kThou), "2.00") << "a thousandth of an inch is 25.4 um";
}

TEST(Numbers, ASignStandsWhereThereIsSomethingToSign) {
  EXPECT_EQ(phrase(signed_small_number(12.2)), "+12");
  EXPECT_EQ(phrase(signed_small_number(-3.0)), "-3");
  EXPECT_EQ(phrase(signed_small_number(0.4)), "0");
  EXPECT_EQ(phrase(signed_small_number(-0.4)), "0");
  EXPECT_EQ(phrase(signed_small_number(-0.4, 1)), "-0.4");
  EXPECT_EQ(phrase(small_number(12.0)), "12");
}

TEST(Numbers, AnIntervalFollowsItsValue) {
  EXPECT_EQ(phrase(small_interval(12.0, 3.0)), "12 ±3");
  EXPECT_EQ(phrase(signed_small_interval(12.0, 3.0)), "+12 ±3") << "the interval has no sign";
  EXPECT_EQ(phrase(signed_small_interval(-12.0, 3.0)), "-12 ±3");
  EXPECT_EQ(phrase(small_interval(25.4, 2.54), kThou), "1.00 ±0.10");
}

TEST(Numbers, WhatWasNotSeenIsSaidInWords) {
  const double none = std::nan("");
  for (const Message& message : {small_number(none), signed_small_number(none, 1), small_interval(none, 3.0),
                                 signed_small_interval(none, 3.0), plain_number(none, 2)})
    EXPECT_EQ(phrase(message), "not seen");
}

TEST(Numbers, OtherNumbersKnowNoUnit) {
  EXPECT_EQ(phrase(plain_number(-12.34, 1)), "-12.3");
  EXPECT_EQ(phrase(plain_number(12.34, 1), kThou), "12.3");
  EXPECT_EQ(phrase(plain_number(12.34, 1), kGerman), "12,3");
}

TEST(Numbers, AHeadingNamesTheReadersUnit) {
  const Message heading = in_small_unit({"verbatim", {{"text", text("tolerance")}}});
  EXPECT_EQ(phrase(heading), "tolerance, µm");
  EXPECT_EQ(phrase(heading, kThou), "tolerance, thou");
}

TEST(Numbers, AShortNumberHasAtMostTwoDecimals) {
  EXPECT_EQ(short_number(2.0, {}), "2");
  EXPECT_EQ(short_number(0.5, kGerman), "0,5");
  EXPECT_EQ(short_number(-19.98, {}), "-19.98");
  EXPECT_EQ(short_number(1.0 / 3.0, {}), "0.33");
}

}  // namespace
}  // namespace canewise
