// The reed's rim as the later stages ask for it.
#include "scanproc/datum/aligned.h"

#include <gtest/gtest.h>

#include <set>
#include <string_view>

namespace canewise {
namespace {

/// 60 mm long, lopsided; its tip's edge lies farther back at the left than at the right.
Outline lopsided() {
  Outline outline;
  outline.left = {-6.4, 0.010, 0.0, 0.0};
  outline.right = {6.6, -0.020, 0.0, 0.0};
  outline.length_mm = 60.0;
  outline.tip_edge_mm = {3.0, 1.0, 0.0, 0.5};
  outline.tip_edge_first_y_mm = -6.0;
  outline.tip_edge_step_mm = 4.0;  // At y = -6, -2, 2 and 6.
  return outline;
}

TEST(Aligned, ASideIsALineAndTheHalfWidthHalfOfWhatLiesBetween) {
  const Outline outline = lopsided();
  EXPECT_NEAR(outline.left.at(30.0), -6.1, 1e-12);
  EXPECT_NEAR(outline.right.at(30.0), 6.0, 1e-12);
  EXPECT_NEAR(outline.half_width_mm(30.0), 6.05, 1e-12);
}

TEST(Aligned, TheTipsEdgeIsReadBetweenItsSamplesAndHeldBeyondThem) {
  const Outline outline = lopsided();
  EXPECT_NEAR(outline.tip_edge_at(-6.0), 3.0, 1e-12);
  EXPECT_NEAR(outline.tip_edge_at(-3.0), 1.5, 1e-12);  // Three quarters of the way from 3 to 1.
  EXPECT_NEAR(outline.tip_edge_at(3.0), 0.125, 1e-12);
  EXPECT_NEAR(outline.tip_edge_at(-20.0), 3.0, 1e-12);
  EXPECT_NEAR(outline.tip_edge_at(20.0), 0.5, 1e-12);
  EXPECT_EQ(Outline{}.tip_edge_at(1.0), 0.0) << "without samples the apex is all that is known";
}

TEST(Aligned, WhatLiesInsideTheRimIsHeldAndNothingElse) {
  const Outline outline = lopsided();
  // At x = 30 the sides lie at -6.1 and 6.0.
  EXPECT_TRUE(outline.holds(30.0, -6.05));
  EXPECT_FALSE(outline.holds(30.0, -6.15));
  EXPECT_TRUE(outline.holds(30.0, 5.95));
  EXPECT_FALSE(outline.holds(30.0, 6.05));
  EXPECT_TRUE(outline.holds(59.9, 0.0));
  EXPECT_FALSE(outline.holds(60.1, 0.0));
  // The edge lies at 1.5 where y = -3 and at 0.125 where y = 3.
  EXPECT_FALSE(outline.holds(1.4, -3.0));
  EXPECT_TRUE(outline.holds(1.6, -3.0));
  EXPECT_TRUE(outline.holds(0.2, 3.0));
  EXPECT_FALSE(outline.holds(0.1, 3.0));
}

TEST(Aligned, AMarginCountsFromEverySide) {
  const Outline outline = lopsided();
  constexpr double margin = 0.4;
  EXPECT_FALSE(outline.holds(30.0, -5.75, margin));
  EXPECT_TRUE(outline.holds(30.0, -5.65, margin));
  EXPECT_FALSE(outline.holds(30.0, 5.65, margin));
  EXPECT_TRUE(outline.holds(30.0, 5.55, margin));
  EXPECT_FALSE(outline.holds(59.65, 0.0, margin));
  EXPECT_TRUE(outline.holds(59.55, 0.0, margin));
  // The edge rises by 0.5 a millimetre at y = -3: 0.4 mm towards the corner it lies at 1.7, and 0.4 mm behind that at
  // 2.1. Along x alone 1.9 would do.
  EXPECT_FALSE(outline.holds(2.05, -3.0, margin));
  EXPECT_TRUE(outline.holds(2.15, -3.0, margin));
}

TEST(Aligned, EveryDatumModeHasANameOfItsOwn) {
  std::set<std::string_view> names;
  for (const DatumMode mode : {DatumMode::plate, DatumMode::pads, DatumMode::two_sided}) names.insert(name_of(mode));
  EXPECT_EQ(names, (std::set<std::string_view>{"plate", "pads", "two-sided"}));
}

}  // namespace
}  // namespace canewise
