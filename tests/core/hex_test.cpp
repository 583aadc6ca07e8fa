#include "scanproc/core/hex.h"

#include <gtest/gtest.h>

#include <array>

namespace canewise {
namespace {

TEST(Hex, WritesTwoLowerCaseDigitsAByte) {
  const std::array<unsigned char, 6> bytes{0x00, 0x0f, 0xf0, 0xa5, 0x1c, 0xff};
  EXPECT_EQ(hex_of(bytes), "000ff0a51cff");
}

TEST(Hex, NoBytesAreNoDigits) { EXPECT_EQ(hex_of({}), ""); }

}  // namespace
}  // namespace canewise
