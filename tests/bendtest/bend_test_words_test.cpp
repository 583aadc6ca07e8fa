#include "scanproc/bendtest/bend_test_words.h"

#include <gtest/gtest.h>

#include "scanproc/core/statistics.h"
#include "scanproc/words/speech.h"

namespace canewise {
namespace {

BendTest known(double left_right, double u_sides, double e_l_mpa = 10000.0) {
  BendTest test;
  test.cane.left_right = left_right;
  test.cane.cane.e_l_mpa = e_l_mpa;
  test.cane.covariance(0, 0) = square(0.02);
  test.cane.covariance(5, 5) = square(u_sides);
  test.told = {true, false, false, false, false, true};
  return test;
}

TEST(BendTestWords, TheStifferSideIsNamedWithHowSureThatIs) {
  EXPECT_EQ(sentence(learned_words(known(0.041, 0.01)).front()),
            "The cane of the right side is 4.1 ± 2.0 % stiffer than the left.");
  EXPECT_EQ(sentence(learned_words(known(-0.041, 0.01)).front()),
            "The cane of the left side is 4.1 ± 2.0 % stiffer than the right.");
}

TEST(BendTestWords, ADifferenceWithinItsIntervalIsNone) {
  EXPECT_EQ(sentence(learned_words(known(0.015, 0.01)).front()), "The cane of both sides is alike, to within 2.0 %.");
}

TEST(BendTestWords, ABluntTestDoesNotCallTheSidesAlike) {
  EXPECT_EQ(learned_words(known(0.015, 0.025)).front().id, "bendtest.sides_unseen");
}

TEST(BendTestWords, WhatTheTestCannotTellItSays) {
  BendTest test = known(0.041, 0.045);
  test.told.back() = false;
  EXPECT_EQ(learned_words(test).back().id, "bendtest.sides_not_told");
}

TEST(BendTestWords, StiffnessIsComparedWithUsualCane) {
  EXPECT_EQ(sentence(learned_words(known(0.0, 0.01, 13000.0)).at(1)),
            "Along the fibre the cane is 30 % stiffer than usual, known to within 3.9 %.");
  EXPECT_EQ(sentence(learned_words(known(0.0, 0.01, 10300.0)).at(1)),
            "Along the fibre the cane is about as stiff as usual, known to within 3.9 %.");
  EXPECT_EQ(sentence(learned_words(known(0.0, 0.01, 7000.0)).at(1)),
            "Along the fibre the cane is 30 % softer than usual, known to within 3.9 %.");
}

}  // namespace
}  // namespace canewise
