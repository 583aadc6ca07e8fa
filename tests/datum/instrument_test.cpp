#include "scanproc/datum/instrument.h"

#include <gtest/gtest.h>

namespace canewise {
namespace {

TEST(Instrument, EachIsFoundByItsOwnMiddleDimensions) {
  for (const char* name : {"clarinet-bb", "clarinet-eb", "sax-tenor", "sax-baritone"}) {
    const Instrument* instrument = find_instrument(name);
    ASSERT_NE(instrument, nullptr);
    const Instrument* guess = guess_instrument(instrument->length_mm.middle(), instrument->tip_width_mm.middle());
    ASSERT_NE(guess, nullptr);
    EXPECT_EQ(guess->name, name);
  }
}

TEST(Instrument, WhatFitsNoneIsNotGuessed) {
  EXPECT_EQ(guess_instrument(30.0, 13.0), nullptr);
  EXPECT_EQ(guess_instrument(68.0, 30.0), nullptr);
  EXPECT_EQ(find_instrument("kazoo"), nullptr);
}

}  // namespace
}  // namespace canewise
