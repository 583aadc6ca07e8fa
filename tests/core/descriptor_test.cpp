// A descriptor is closed once, by who has it last.
#include "scanproc/core/descriptor.h"

#include <fcntl.h>
#include <gtest/gtest.h>

namespace canewise {
namespace {

bool is_open(int number) { return ::fcntl(number, F_GETFD) >= 0; }
int open_one() { return ::open("/dev/null", O_RDONLY | O_CLOEXEC); }

TEST(Descriptor, IsClosedAtTheEndOfItsLife) {
  const int number = open_one();
  {
    const Descriptor one(number);
    EXPECT_TRUE(one.is_open());
    EXPECT_EQ(one.number(), number);
  }
  EXPECT_FALSE(is_open(number));
}

TEST(Descriptor, IsHandedOnAndNotClosedTwice) {
  const int number = open_one();
  {
    Descriptor one(number);
    const Descriptor other(std::move(one));
    EXPECT_FALSE(one.is_open());  // NOLINT(bugprone-use-after-move): what is left is nothing.
    EXPECT_TRUE(is_open(number));
  }
  EXPECT_FALSE(is_open(number));
}

TEST(Descriptor, ClosedBeforeItIsNobodysToCloseAgain) {
  Descriptor one(open_one());
  const int number = one.number();
  one.close();
  EXPECT_FALSE(one.is_open());
  const int next = open_one();
  EXPECT_EQ(next, number) << "the system gives the number to the next";
  one.close();
  EXPECT_TRUE(is_open(next));
  ::close(next);
  EXPECT_FALSE(Descriptor(-1).is_open());
}

}  // namespace
}  // namespace canewise
