#include "scanproc/core/md5.h"

#include <gtest/gtest.h>

#include <string>
#include <string_view>

namespace canewise {
namespace {

TEST(Md5, AgreesWithTheStandardsTestSuite) {
  // RFC 1321, appendix A.5.
  EXPECT_EQ(md5(std::string_view("")), "d41d8cd98f00b204e9800998ecf8427e");
  EXPECT_EQ(md5(std::string_view("a")), "0cc175b9c0f1b6a831c399e269772661");
  EXPECT_EQ(md5(std::string_view("message digest")), "f96b697d7cb7938d525a2f31aaf161d0");
  // Eighty bytes: more than one block.
  std::string digits;
  for (int i = 0; i < 8; ++i) digits += "1234567890";
  EXPECT_EQ(md5(digits), "57edf4a22be3c955ac49da2e2107b67a");
}

TEST(Md5, ABinaryNoughtCountsAsAByte) {
  EXPECT_EQ(md5(std::string_view("\0", 1)), "93b885adfe0da089cdf634904fd59f71");  // md5sum of one zero byte.
}

}  // namespace
}  // namespace canewise
