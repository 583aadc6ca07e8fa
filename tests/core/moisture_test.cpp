#include "scanproc/core/moisture.h"

#include <gtest/gtest.h>

#include <set>
#include <string_view>

namespace canewise {
namespace {

// Result files and rig files hold these words.
TEST(Moisture, EachStateHasItsWord) {
  EXPECT_EQ(name_of(MoistureState::unknown), "unknown");
  EXPECT_EQ(name_of(MoistureState::dry), "dry");
  EXPECT_EQ(name_of(MoistureState::wet), "wet");
}

TEST(Moisture, EachWordIsReadBackAsItsStateAndNoOtherIs) {
  std::set<std::string_view> names;
  for (const MoistureState state : kMoistureStates) {
    EXPECT_EQ(moisture_from(name_of(state)), state);
    names.insert(name_of(state));
  }
  EXPECT_EQ(names.size(), 3U) << "every state is in the list, once";
  for (const char* other : {"", "Dry", "dry ", "damp", "dr"}) EXPECT_EQ(moisture_from(other), std::nullopt) << other;
}

TEST(Moisture, WhatNobodyStatedIsUnknown) { EXPECT_EQ(MoistureState{}, MoistureState::unknown); }

}  // namespace
}  // namespace canewise
