// The linear program behind the plan on reeds of one or two places, whose answers can be done in the head.
#include "scanproc/scrape/least_cane.h"

#include <gtest/gtest.h>

#include <cmath>

namespace canewise {
namespace {

constexpr double kExact_mm = 1e-9;
const auto kRail = static_cast<std::size_t>(ZoneMap::label_of(AlongBand::middle, AcrossBand::rail));
const auto kFlank = static_cast<std::size_t>(ZoneMap::label_of(AlongBand::middle, AcrossBand::flank));

/// On the right, over the whole of one zone: a millimetre off lowers its right minus left by one.
Place place_over(std::size_t zone, AlongBand along = AlongBand::middle) {
  Place place;
  place.across = AcrossBand::rail;
  place.from_mm = 10.0;
  place.to_mm = 20.0;
  place.parts.push_back({Side::right, {}, {}});
  place.along = {along};
  place.area_mm2 = 20.0;
  place.difference.fill(0.0);
  place.half_zone.fill(0.0);
  place.difference.at(zone) = -1.0;
  place.half_zone.at(half_zone_index(zone, Side::right)) = -1.0;
  return place;
}

struct Program {
  std::vector<Place> places;
  std::vector<PlaceLimits> limits;
  CaneNow now;
  CaneGoal goal;
  Program() {
    now.zone_area_mm2.fill(20.0);
    goal.most_removed_mm.fill(1.0);
  }
  void add(Place place, PlaceLimits limit = {.surplus_mm = 0.1, .most_mm = 0.1}) {
    places.push_back(std::move(place));
    limits.push_back(limit);
  }
  /// The right rail is so much over the left one, of which `tolerated` may stay.
  void heavy_rail(double over_mm, double tolerated_mm) {
    now.difference_mm.at(kRail) = over_mm;
    goal.difference_mm.at(kRail) = {-tolerated_mm, tolerated_mm};
  }
  [[nodiscard]] LeastCane solve() const { return least_cane(places, limits, now, goal); }
  [[nodiscard]] std::vector<double> depths() const { return solve().depth_mm; }
};

TEST(LeastCane, TakesWhatIsBeyondToleranceAndNoMore) {
  Program reed;
  reed.add(place_over(kRail));
  reed.heavy_rail(0.040, 0.010);
  const LeastCane found = reed.solve();
  EXPECT_NEAR(found.depth_mm.at(0), 0.030, kExact_mm);
  EXPECT_NEAR(found.cost, 20.0 * 0.030, 1e-6) << "cubic millimetres of cane that is too thick";
  reed.heavy_rail(0.009, 0.010);
  EXPECT_NEAR(reed.depths().at(0), 0.0, kExact_mm);
  reed.heavy_rail(-0.040, 0.010);
  EXPECT_NEAR(reed.depths().at(0), 0.0, kExact_mm) << "cane cannot be put on";
}

TEST(LeastCane, ComesAsNearAsTheFloorLets) {
  Program reed;
  reed.add(place_over(kRail), {.surplus_mm = 0.012, .most_mm = 0.012});
  reed.heavy_rail(0.040, 0.010);
  EXPECT_NEAR(reed.depths().at(0), 0.012, kExact_mm);
}

// Common practice: nobody touches the tip if another place does.
TEST(LeastCane, LeavesTheTipAloneIfAnotherPlaceDoesTheSame) {
  for (const bool tip_first : {true, false}) {
    Program reed;
    reed.add(place_over(kRail, tip_first ? AlongBand::tip : AlongBand::middle));
    reed.add(place_over(kRail, tip_first ? AlongBand::middle : AlongBand::tip));
    reed.places.at(0).across = AcrossBand::flank;  // Not over each other.
    reed.heavy_rail(0.040, 0.010);
    const auto depths = reed.depths();
    EXPECT_NEAR(depths.at(tip_first ? 0 : 1), 0.0, kExact_mm);
    EXPECT_NEAR(depths.at(tip_first ? 1 : 0), 0.030, kExact_mm);
  }
}

TEST(LeastCane, CutsWhereItIsTooThickFirst) {
  Program reed;
  reed.add(place_over(kRail), {.surplus_mm = 0.0, .most_mm = 0.1});
  reed.add(place_over(kRail), {.surplus_mm = 0.020, .most_mm = 0.1});
  reed.places.at(0).across = AcrossBand::flank;
  // A little more effect for its cane does not make up for going below what is too thick.
  reed.places.at(0).area_mm2 = 0.5 * reed.places.at(1).area_mm2;
  reed.heavy_rail(0.030, 0.010);
  EXPECT_NEAR(reed.depths().at(0), 0.0, kExact_mm);
  EXPECT_NEAR(reed.depths().at(1), 0.020, kExact_mm);
}

TEST(LeastCane, NeverTakesMoreOffAHalfZoneThanItHasToSpare) {
  Program reed;
  reed.add(place_over(kRail));
  reed.heavy_rail(0.040, 0.010);
  reed.goal.most_removed_mm.at(half_zone_index(kRail, Side::right)) = 0.007;
  EXPECT_NEAR(reed.depths().at(0), 0.007, kExact_mm);
  reed.goal.most_removed_mm.at(half_zone_index(kRail, Side::right)) = -0.001;
  EXPECT_NEAR(reed.depths().at(0), 0.0, kExact_mm) << "a half zone that is too thin already";
}

TEST(LeastCane, NeverBringsAnotherZoneOutOfItsTolerance) {
  Program reed;
  reed.add(place_over(kRail));
  reed.places.at(0).difference.at(kFlank) = -0.5;
  reed.heavy_rail(0.040, 0.010);
  reed.goal.difference_held_mm.at(kFlank) = {-0.006, 0.006};
  EXPECT_NEAR(reed.depths().at(0), 0.012, kExact_mm);
  reed.goal.difference_held_mm.at(kFlank) = {};
  EXPECT_NEAR(reed.depths().at(0), 0.030, kExact_mm);
}

TEST(LeastCane, AZoneThatTheScanDidNotSeeAsksForNothing) {
  Program reed;
  reed.add(place_over(kRail));
  reed.heavy_rail(std::nan(""), 0.010);
  EXPECT_NEAR(reed.depths().at(0), 0.0, kExact_mm);
}

TEST(LeastCane, CountsBendingFromWhereItWasLinearised) {
  Program reed;
  // With 20 um off the imbalance is 3 %, and every further micrometre takes 0.1 %: 1 % is left at 40 um.
  reed.add(place_over(kRail), {.surplus_mm = 0.1, .most_mm = 0.1, .at_mm = 0.020, .by_depth = {-1.0, 0.0, 0.0}});
  reed.goal.bending_known = true;
  reed.now.figure = {0.03, 0.0, 10.0};
  reed.goal.figure.at(0) = {-0.01, 0.01};
  EXPECT_NEAR(reed.depths().at(0), 0.040, kExact_mm);
  reed.goal.bending_known = false;
  EXPECT_NEAR(reed.depths().at(0), 0.0, kExact_mm);
}

TEST(LeastCane, KeepsTheStiffnessRatherThanTheBalance) {
  Program reed;
  reed.add(place_over(kRail), {.surplus_mm = 0.1, .most_mm = 0.1, .at_mm = 0.0, .by_depth = {0.0, 0.0, -50.0}});
  reed.heavy_rail(0.040, 0.010);
  reed.goal.bending_known = true;
  reed.now.figure = {0.0, 0.0, 10.0};
  reed.goal.figure.at(2) = {9.0, 11.0};
  EXPECT_NEAR(reed.depths().at(0), 0.020, kExact_mm) << "20 um off is 1 N/mm less";
}

TEST(LeastCane, TakesASurplusOffAsFarAsItCan) {
  Program reed;
  reed.add(place_over(kRail));
  reed.goal.surplus_mm.at(half_zone_index(kRail, Side::right)) = 0.025;
  EXPECT_NEAR(reed.depths().at(0), 0.025, kExact_mm);
  reed.limits.at(0).most_mm = 0.015;
  EXPECT_NEAR(reed.depths().at(0), 0.015, kExact_mm);
}

/// One place that takes all of one block off.
Program block_of(double difference_mm) {
  Program reed;
  Place place = place_over(kRail);
  place.difference.fill(0.0);
  place.fault = 0;
  place.block = {-1.0};
  reed.add(place, {.surplus_mm = 0.2, .most_mm = 0.2});
  reed.goal.blocks = {{difference_mm, 20.0, {-0.008, 0.008}, {-0.012, 0.012}}};
  return reed;
}

TEST(LeastCane, LevelsABlockAsFarAsIsWantedButNotBeyondTheOtherSideByAHeavyHand) {
  EXPECT_NEAR(block_of(0.040).depths().at(0), 0.032, kExact_mm);
  EXPECT_NEAR(block_of(0.006).depths().at(0), 0.0, kExact_mm);
  EXPECT_NEAR(block_of(-0.040).depths().at(0), 0.0, kExact_mm) << "cane cannot be put on";
  Program heavy = block_of(0.040);
  heavy.goal.heavy_hand = 1.4;
  EXPECT_NEAR(heavy.depths().at(0), 0.032, kExact_mm) << "1.4 times that is 45 um, and 48 are still good";
  heavy = block_of(0.100);
  heavy.goal.heavy_hand = 1.4;
  EXPECT_NEAR(heavy.depths().at(0), 0.112 / 1.4, kExact_mm)
      << "up to what is borne on the other side; the rest is left for another session";
}

TEST(LeastCane, LayersOfAFaultAddUpAndSpareTheTip) {
  Program reed = block_of(0.100);
  reed.add(reed.places.front(), reed.limits.front());
  reed.goal.most_at_fault_mm = 0.060;
  auto depths = reed.depths();
  EXPECT_NEAR(depths.at(0) + depths.at(1), 0.060, kExact_mm);
  // A slip takes half of their depth off the tip: no more than 5 um may come off there.
  reed.places.at(0).share_at_tip = reed.places.at(1).share_at_tip = 0.5;
  reed.goal.most_at_tip_mm = 0.005;
  depths = reed.depths();
  EXPECT_NEAR(depths.at(0) + depths.at(1), 0.010, kExact_mm);
}

TEST(LeastCane, PlacesOverEachOtherShareTheirDepth) {
  Program reed;
  for (int k = 0; k < 2; ++k) reed.add(place_over(kRail), {.surplus_mm = 0.020, .most_mm = 0.020});
  reed.heavy_rail(0.100, 0.010);
  const auto over = reed.depths();
  EXPECT_NEAR(over.at(0) + over.at(1), 0.020, kExact_mm);
  // Behind each other, or on the other side, they do not.
  reed.places.at(1).from_mm = 20.0;
  reed.places.at(1).to_mm = 30.0;
  const auto behind = reed.depths();
  EXPECT_NEAR(behind.at(0) + behind.at(1), 0.040, kExact_mm);
  reed.places.at(1) = place_over(kRail);
  reed.places.at(1).parts.at(0).side = Side::left;
  const auto beside = reed.depths();
  EXPECT_NEAR(beside.at(0) + beside.at(1), 0.040, kExact_mm);
}

}  // namespace
}  // namespace canewise
