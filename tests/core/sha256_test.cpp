#include "scanproc/core/sha256.h"

#include <gtest/gtest.h>

#include <string>

namespace canewise {
namespace {

// FIPS 180-4 example vectors: the empty message, 'abc', and 'abc' fed in pieces.
TEST(Sha256, AgreesWithTheStandardsExamples) {
  EXPECT_EQ(Sha256().hex(), "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
  Sha256 whole;
  whole.add(std::string("abc"));
  EXPECT_EQ(whole.hex(), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  Sha256 pieces;
  for (const char c : {'a', 'b', 'c'}) pieces.add(std::string(1, c));
  EXPECT_EQ(pieces.hex(), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
}

}  // namespace
}  // namespace canewise
