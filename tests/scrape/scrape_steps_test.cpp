#include "scanproc/scrape/scrape_steps.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "scanproc/words/speech.h"
#include "tests/support/reed_by_hand.h"

namespace canewise {
namespace {

std::vector<PlanPoint> rectangle(double x0, double x1, double y0, double y1) {
  return {{x0, y0}, {x0, y1}, {x1, y1}, {x1, y0}};
}
/// Straight sides 6 mm from the centreline.
Outline outline() {
  return test::reed_by_hand([](double, double) { return 1.0; }).outline;
}
Place place_of(Side side, const std::vector<PlanPoint>& polygon) {
  Place place;
  place.across = AcrossBand::flank;
  place.along = {AlongBand::front, AlongBand::middle};
  place.parts.push_back({side, polygon, {}});
  place.area_mm2 = 26.0;
  place.u95_mm = 0.0042;
  return place;
}
ScrapeStep only_step(const Place& place, double depth_mm, const Player& player) {
  const auto steps = steps_at(place, depth_mm, outline(), player);
  EXPECT_EQ(steps.size(), 1U);
  return steps.at(0);
}
int strokes(const std::vector<PlanPoint>& polygon, double tool_width_mm, double depth_mm = 0.0137) {
  Player player;
  player.depth_per_stroke_um = 2.5;
  player.tool_width_mm = tool_width_mm;
  return only_step(place_of(Side::right, polygon), depth_mm, player).strokes;
}

TEST(ScrapeSteps, AStepIsItsPlaceInWordsAndMicrometres) {
  Place place = place_of(Side::right, rectangle(12.0, 20.0, 1.0, 4.5));
  place.even_here = true;
  const ScrapeStep step = only_step(place, 0.0137, {});
  EXPECT_EQ(step.side, Side::right);
  EXPECT_EQ(step.across, AcrossBand::flank);
  EXPECT_EQ(step.along, (std::vector{AlongBand::front, AlongBand::middle}));
  EXPECT_EQ(step.from_mm, 12.0);
  EXPECT_EQ(step.to_mm, 20.0);
  EXPECT_NEAR(step.depth_um, 13.7, 1e-9);
  EXPECT_NEAR(step.u95_um, 4.2, 1e-9);
  EXPECT_NEAR(step.volume_mm3, 0.0137 * 26.0, 1e-12);
  EXPECT_TRUE(step.for_bending);
  EXPECT_EQ(phrase(step.where), "right flank, 12 to 20 mm from the tip");
  place.parts.front() = {Side::left, rectangle(12.0, 20.0, -4.5, -1.0), {}};
  EXPECT_EQ(phrase(only_step(place, 0.0137, {}).where), "left flank, 12 to 20 mm from the tip");
}

// 13.7 um at 2.5 um a stroke are 5.48 strokes; a place of 3.5 mm takes the tool side by side as often as it is wider
// than the tool, of which a twentieth may be missing.
TEST(ScrapeSteps, StrokesAreDepthByTheHandsStrokeAndWidthByTheTool) {
  const auto place = rectangle(12.0, 20.0, 1.0, 4.5);
  EXPECT_EQ(strokes(place, 4.0), 5);
  EXPECT_EQ(strokes(place, 3.4), 5) << "a twentieth is not worth a second row";
  EXPECT_EQ(strokes(place, 3.0), 11) << "two rows: 10.96";
  EXPECT_EQ(strokes(place, 1.5), 16) << "three rows: 16.44";
  EXPECT_EQ(strokes(place, 4.0, 0.0004), 1) << "never none";
  Player heavy;
  heavy.depth_per_stroke_um = 4.0;
  EXPECT_EQ(only_step(place_of(Side::left, rectangle(12.0, 20.0, -4.5, -1.0)), 0.0137, heavy).strokes, 3);
}

TEST(ScrapeSteps, OnlyWidthOnTheReedCounts) {
  // From 4.2 mm to the rim are 1.8 mm, wherever the tool's other edge hangs.
  EXPECT_EQ(strokes(rectangle(12.0, 20.0, 4.2, 9.0), 1.8), 5);
  EXPECT_EQ(strokes(rectangle(12.0, 20.0, 4.2, 9.0), 1.5), 11);
  // A place that follows the taper is 3 mm wide at every station, though it reaches over four.
  EXPECT_EQ(strokes({{12.0, 1.0}, {12.0, 4.0}, {20.0, 3.0}, {20.0, 0.0}}, 3.0), 5);
}

TEST(ScrapeSteps, APairIsOneStepForEachSideWithHalfTheCane) {
  Place place = place_of(Side::left, rectangle(12.0, 20.0, -4.5, -1.0));
  place.aim = StepAim::softer;
  place.parts.push_back({Side::right, rectangle(12.0, 20.0, 1.0, 4.5), {}});
  const auto steps = steps_at(place, 0.010, outline(), {});
  ASSERT_EQ(steps.size(), 2U);
  EXPECT_EQ(steps[0].side, Side::left);
  EXPECT_EQ(steps[1].side, Side::right);
  for (const ScrapeStep& step : steps) {
    EXPECT_NEAR(step.volume_mm3, 0.13, 1e-12);
    EXPECT_NEAR(step.depth_um, 10.0, 1e-9);
    EXPECT_EQ(step.aim, StepAim::softer);
  }
}

TEST(ScrapeSteps, AThirdOfTheStrokesAtMostFiveLieBetweenTwoTests) {
  for (const auto& [all, between] : {std::pair{1, 1}, {3, 1}, {4, 2}, {6, 2}, {7, 3}, {12, 4}, {13, 5}, {60, 5}})
    EXPECT_EQ(strokes_between_tests(all), between) << all;
  Player player;
  player.depth_per_stroke_um = 2.0;
  const ScrapeStep step = only_step(place_of(Side::right, rectangle(12.0, 20.0, 1.0, 4.5)), 0.0140, player);
  EXPECT_EQ(step.stop.id, "plan.stop");
  EXPECT_EQ(std::get<std::int64_t>(step.stop.arguments.at("strokes")), 7);
  EXPECT_EQ(std::get<std::int64_t>(step.stop.arguments.at("between")), 3);
  EXPECT_EQ(std::get<Word>(step.stop.arguments.at("aim")).key, "balance");
}

TEST(ScrapeSteps, BalanceComesBeforeTheAimTheLargestFirstAndTheTipLast) {
  const auto step = [](StepAim aim, AlongBand band, Side side, double volume_mm3, AcrossBand across) {
    ScrapeStep s;
    s.aim = aim;
    s.along = {band};
    s.side = side;
    s.across = across;
    s.from_mm = 12.0;
    s.volume_mm3 = volume_mm3;
    return s;
  };
  std::vector<ScrapeStep> steps{step(StepAim::softer, AlongBand::middle, Side::left, 0.20, AcrossBand::flank),
                                step(StepAim::softer, AlongBand::middle, Side::right, 0.21, AcrossBand::flank),
                                step(StepAim::softer, AlongBand::middle, Side::right, 0.90, AcrossBand::rail),
                                step(StepAim::balance, AlongBand::tip, Side::right, 0.80, AcrossBand::rail),
                                step(StepAim::balance, AlongBand::middle, Side::right, 0.03, AcrossBand::rail),
                                step(StepAim::balance, AlongBand::front, Side::right, 0.05, AcrossBand::rail)};
  put_in_order(steps);
  std::vector<double> volumes;
  for (const ScrapeStep& s : steps) volumes.push_back(s.volume_mm3);
  EXPECT_EQ(volumes, (std::vector{0.05, 0.03, 0.80, 0.90, 0.20, 0.21})) << "the two sides of a pair stay together";
}

TEST(ScrapeSteps, WhatStepsTakeOffTogetherAddsUpInMillimetres) {
  const Grid grid{0.25, 80, 48};
  ScrapeStep one, two;
  one.polygon = two.polygon = rectangle(6.0, 14.0, 0.0, 4.0);
  one.depth_um = 20.0;
  two.depth_um = 10.0;
  const Field removed = removal_of(grid, {one, two});
  ASSERT_EQ(removed.rows(), 80);
  ASSERT_EQ(removed.cols(), 48);
  EXPECT_NEAR(static_cast<double>(removed(40, 32)), 0.030, 1e-5);  // At 10.1 and 2.1 mm to the right.
  EXPECT_EQ(removed(40, 15), 0.0F) << "and nothing on the left";
  EXPECT_NEAR(static_cast<double>(removed.sum()) * 0.0625, 0.030 * 32.0, 0.01 * 0.96);
  EXPECT_EQ(removal_of(grid, {}).maxCoeff(), 0.0F);
}

}  // namespace
}  // namespace canewise
