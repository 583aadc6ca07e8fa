#include "scanproc/mechanics/mechanics.h"

#include <gtest/gtest.h>

namespace canewise {
namespace {

TEST(Mechanics, NothingIsKnownAsSoonAsItSaysWhyNot) {
  Mechanics mechanics;
  mechanics.why_not = {"bending.no_tip"};
  EXPECT_FALSE(mechanics.known());
  mechanics.why_not = {};
  EXPECT_TRUE(mechanics.known());
}

TEST(Mechanics, AFigureIsFoundByItsName) {
  Mechanics mechanics;
  mechanics.figures = {SpreadValue{1.5, 0.1, 0.2}, {2.5, 0.1, 0.2},    {3.5, 0.1, 0.2}, {4.5, 0.1, 0.2},
                       {0.05, 0.01, 0.02},         {-0.03, 0.03, 0.04}};
  EXPECT_EQ(mechanics.figure(BendingFigure::stiffness_left).value, 1.5);
  EXPECT_EQ(mechanics.figure(BendingFigure::stiffness_centre).value, 2.5);
  EXPECT_EQ(mechanics.figure(BendingFigure::stiffness_right).value, 3.5);
  EXPECT_EQ(mechanics.figure(BendingFigure::stiffness_lip).value, 4.5);
  EXPECT_EQ(mechanics.figure(BendingFigure::imbalance_tip).value, 0.05);
  EXPECT_EQ(mechanics.figure(BendingFigure::imbalance_lip).u_scan, 0.03);
  EXPECT_EQ(mechanics.figure(BendingFigure::imbalance_lip).u_cane, 0.04);
}

// What nobody has computed is neither in order nor at fault.
TEST(Mechanics, BeforeItIsComputedNoVerdictIsGiven) {
  for (const BendingFigure figure : kBendingFigures)
    EXPECT_EQ(Mechanics{}.verdicts.at(index_of(figure)), Verdict::cannot_tell) << index_of(figure);
  EXPECT_TRUE(Mechanics{}.modes.empty());
  EXPECT_TRUE(Mechanics{}.sentence.empty());
  EXPECT_FALSE(Mechanics{}.strength.known);
}

}  // namespace
}  // namespace canewise
