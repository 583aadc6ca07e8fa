// Where a reed may lie: on the rails, below which the facing falls away, and on the tip's.
#include "scanproc/mechanics/rail_places.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "tests/support/reed_by_hand.h"

namespace canewise {
namespace {

Outline outline() {
  return test::reed_by_hand([](double, double) { return 1.0; }).outline;
}
Mouthpiece mouthpiece() {
  Mouthpiece m;
  m.left = {.tip_opening_mm = 1.0, .length_mm = 18.0};
  m.right = {.tip_opening_mm = 1.2, .length_mm = 20.0};
  return m;
}

TEST(RailPlaces, LieInTheMiddleOfTheRailsFromBehindTheTipToTheWindowsEnd) {
  const RailPlaces places = rail_places(outline(), mouthpiece(), 0.0);
  const Eigen::Index rail = places.rail_samples;
  ASSERT_EQ(places.distance_mm.size(), places.side.size());
  EXPECT_NEAR(places.distance_mm(0), 2.1, 1e-9) << "a first sample behind 2 mm";
  EXPECT_GT(places.distance_mm(rail - 1), 31.0);
  EXPECT_LT(places.distance_mm(rail - 1), 32.0);
  EXPECT_EQ(places.side(0), -1.0) << "the left rail comes first";
  EXPECT_EQ(places.side(rail), 1.0);
  EXPECT_NEAR(places.length_mm.head(rail).sum(), 29.6, 1e-9) << "as long as the rail";
  const Eigen::Index places_on_rail = rail / 4;
  for (Eigen::Index k = 0; k < places_on_rail; ++k) {
    EXPECT_NEAR(places.places_mm(1, k), -5.4, 1e-9) << "half of 1.2 mm inside the rim";
    EXPECT_NEAR(places.places_mm(1, places_on_rail + k), 5.4, 1e-9);
  }
}

TEST(RailPlaces, TheTipsRailGoesFromSideToSideBehindTheEdge) {
  const RailPlaces places = rail_places(outline(), mouthpiece(), 0.0);
  const Eigen::Index first = places.first_of_tip(), count = places.side.size() - first;
  EXPECT_NEAR(places.length_mm.tail(count).sum(), 10.8, 1e-9);
  for (Eigen::Index q = first; q < places.side.size(); ++q) {
    EXPECT_NEAR(places.distance_mm(q), 0.25, 1e-9);
    EXPECT_NEAR(places.side(q), -places.side(places.side.size() - 1 - (q - first)), 1e-9);
  }
}

TEST(RailPlaces, AClipMovesThemBackOnTheReed) {
  const RailPlaces whole = rail_places(outline(), mouthpiece(), 0.0),
                   clipped = rail_places(outline(), mouthpiece(), 0.4);
  EXPECT_LT((clipped.distance_mm - whole.distance_mm).abs().maxCoeff(), 1e-9);
  EXPECT_LT((clipped.places_mm.row(0) - whole.places_mm.row(0)).array().abs().maxCoeff() - 0.4, 1e-9);
}

TEST(RailPlaces, GapsAreEachRailsOwnAndChangeEvenlyAlongTheTips) {
  const Mouthpiece m = mouthpiece();
  const RailPlaces places = rail_places(outline(), m, 0.0);
  const Eigen::VectorXd gap = gaps_at(places, m.left, m.right);
  const Eigen::Index rail = places.rail_samples;
  for (Eigen::Index q = 0; q < rail; ++q) {
    EXPECT_NEAR(gap(q), m.left.gap_mm(places.distance_mm(q)), 1e-12);
    EXPECT_NEAR(gap(rail + q), m.right.gap_mm(places.distance_mm(rail + q)), 1e-12);
  }
  const double left = m.left.gap_mm(0.25), right = m.right.gap_mm(0.25);
  for (Eigen::Index q = places.first_of_tip(); q < gap.size(); ++q)
    EXPECT_NEAR(gap(q), left + (right - left) * 0.5 * (1.0 + std::clamp(places.side(q), -1.0, 1.0)), 1e-9);
}

TEST(RailPlaces, ItRestsFromTheFirstPlaceThatIsPressedHalfAsHardAsTheHardest) {
  const RailPlaces places = rail_places(outline(), mouthpiece(), 0.0);
  Pressed pressed;
  pressed.sample_force_n = Eigen::VectorXd::Zero(places.side.size());
  EXPECT_EQ(resting_of(places, pressed, 32.0).left_mm, 32.0) << "on nothing";
  pressed.sample_force_n(20) = 0.09;
  pressed.sample_force_n(30) = 0.11;
  pressed.sample_force_n(31) = 0.2;
  pressed.sample_force_n(places.rail_samples + 50) = 0.1;
  EXPECT_NEAR(resting_of(places, pressed, 32.0).left_mm, places.distance_mm(30), 1e-12);
  EXPECT_NEAR(resting_of(places, pressed, 32.0).right_mm, places.distance_mm(50), 1e-12);
}

}  // namespace
}  // namespace canewise
