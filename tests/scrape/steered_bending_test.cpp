#include "scanproc/scrape/steered_bending.h"

#include <gtest/gtest.h>

#include <cmath>

#include "scanproc/scrape/footprint.h"
#include "tests/support/bent_reeds.h"

namespace canewise {
namespace {

/// A rectangle 4 to 10 mm from the tip on one rail.
Place rail_place(const Grid& grid, Side side) {
  const double s = static_cast<double>(side);
  const std::vector<PlanPoint> polygon{{4.0, 3.5 * s}, {4.0, 8.0 * s}, {10.0, 8.0 * s}, {10.0, 3.5 * s}};
  Place place;
  place.parts.push_back({side, polygon, expected_cut(grid, polygon)});
  return place;
}
Field removal(const Grid& grid, const Place& place, double depth_mm) {
  Field removed = Field::Zero(grid.rows, grid.columns);
  for (const Place::Part& part : place.parts) {
    for (std::size_t k = 0; k < part.cut.cells.size(); ++k)
      removed.data()[part.cut.cells[k]] += part.cut.share[k] * static_cast<float>(depth_mm);
  }
  return removed;
}
SteeredValues steered(const BendingValues& values) {
  SteeredValues result{};
  for (std::size_t f = 0; f < kSteered.size(); ++f) result.at(f) = values.value.at(index_of(kSteered.at(f)));
  return result;
}

const test::ReedByHand& reed() {
  static const test::ReedByHand wedge = test::reed_by_hand([](double x, double) { return test::plain_wedge_mm(x); });
  return wedge;
}
const BentReed& bent() {
  static const BentReed figures = test::bent(reed(), {}, {.spacing_mm = 1.2, .modes = 1});
  return figures;
}

TEST(SteeredBending, ImbalancesComeFirstAndThenTheStiffnessUnderTheLip) {
  EXPECT_EQ(kSteered.at(0), BendingFigure::imbalance_tip);
  EXPECT_EQ(kSteered.at(1), BendingFigure::imbalance_lip);
  EXPECT_EQ(kSteered.at(2), BendingFigure::stiffness_lip);
  const SteeredBending bending(bent(), reed().map);
  ASSERT_TRUE(bending.known());
  for (std::size_t f = 0; f < kSteered.size(); ++f)
    EXPECT_NEAR(bending.value().at(f), bent().mechanics.figure(kSteered.at(f)).value, 1e-9) << f;
}

TEST(SteeredBending, DepthOffAPlaceDoesWhatItForetells) {
  const SteeredBending bending(bent(), reed().map);
  constexpr double depth_mm = 0.004;
  for (const auto& [side, sign] : {std::pair{Side::right, 1.0}, {Side::left, -1.0}}) {
    const Place place = rail_place(reed().map.grid, side);
    const SteeredValues told = bending.by_depth(place),
                        after = steered(bending.after(removal(reed().map.grid, place, depth_mm)));
    for (std::size_t f = 0; f < kSteered.size(); ++f) {
      const double change = after.at(f) - bending.value().at(f);
      // Thickness counts by its cube: 4 um of 0.35 mm and more.
      EXPECT_NEAR(told.at(f) * depth_mm / change, 1.0, 0.04) << f;
      // The lip's patch lies behind this place, so that its halves hardly feel it.
      if (kSteered.at(f) == BendingFigure::imbalance_lip) continue;
      EXPECT_LT(f < kSteeredImbalances ? sign * change : change, 0.0) << f << ": cane off the right softens the right";
    }
  }
}

TEST(SteeredBending, BothSidesAlikeSoftenWithoutTilting) {
  const SteeredBending bending(bent(), reed().map);
  Place pair = rail_place(reed().map.grid, Side::left);
  pair.parts.push_back(rail_place(reed().map.grid, Side::right).parts.front());
  const SteeredValues one = bending.by_depth(rail_place(reed().map.grid, Side::right)), both = bending.by_depth(pair);
  // The mesh is its own mirror image but for which diagonal of a trapezoid is taken.
  EXPECT_NEAR(both.at(0), 0.0, 0.1 * std::abs(one.at(0)));
  EXPECT_NEAR(both.at(2) / one.at(2), 2.0, 0.1);
}

TEST(SteeredBending, LinearisedElsewhereItStartsFromThere) {
  SteeredBending bending(bent(), reed().map);
  const Field removed = removal(reed().map.grid, rail_place(reed().map.grid, Side::right), 0.030);
  const SteeredValues there = steered(bending.after(removed));
  const double slope_before = bending.by_depth(rail_place(reed().map.grid, Side::right)).at(2);
  bending.linearise_at(removed);
  for (std::size_t f = 0; f < kSteered.size(); ++f)
    EXPECT_NEAR(bending.value().at(f), there.at(f), 1e-9 * std::abs(there.at(f)) + 1e-12) << f;
  EXPECT_LT(bending.value().at(0), -0.004) << "by shape the left is now the stiffer one";
  EXPECT_NE(bending.by_depth(rail_place(reed().map.grid, Side::right)).at(2), slope_before);
}

TEST(SteeredBending, StifferCaneOnTheRightCountsForTheRightAndHardlyForBothTogether) {
  const SteeredBending bending(bent(), reed().map);
  for (std::size_t f = 0; f < kSteeredImbalances; ++f) {
    EXPECT_GT(bending.by_cane(f), 0.1) << f;
    EXPECT_LT(bending.by_cane(f), 1.05) << f << ": no more than the moduli differ";
  }
  EXPECT_NEAR(bending.by_cane(2), 0.0, 0.02 * bending.value().at(2));
}

TEST(SteeredBending, WhereNothingIsKnownEverythingIsNought) {
  const BentReed unknown;
  SteeredBending bending(unknown, reed().map);
  EXPECT_FALSE(bending.known());
  bending.linearise_at(Field::Constant(240, 48, 0.01F));
  for (std::size_t f = 0; f < kSteered.size(); ++f) {
    EXPECT_EQ(bending.value().at(f), 0.0);
    EXPECT_EQ(bending.by_cane(f), 0.0);
    EXPECT_EQ(bending.by_depth(rail_place(reed().map.grid, Side::right)).at(f), 0.0);
  }
}

}  // namespace
}  // namespace canewise
