#include "scanproc/scrape/fault_layers.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "tests/support/reed_by_hand.h"

namespace canewise {
namespace {

/// A round hill on one rail, its peak 18 mm from the tip and 1 mm from the rim; tolerance there is 15 um.
test::ReedByHand hill(double height_um, Side side) {
  return test::reed_by_hand([=](double x, double y) {
    const double across = static_cast<double>(side) * y - 5.0;
    return test::plain_wedge_mm(x) +
           1e-3 * height_um * std::exp(-std::pow((x - 18.0) / 3.0, 2) - std::pow(across / 1.2, 2));
  });
}
/// Keeps what the ground only refers to.
struct Bench {
  test::ReedByHand reed;
  ScrapeField field;
  PlaceMaker maker;
  FaultGround ground;
  explicit Bench(test::ReedByHand r)
      : reed(std::move(r)),
        field(reed.map, reed.outline, reed.assessment, {.footprint = {}, .tip_margin_mm = 0.5}),
        maker(reed.map, reed.assessment, field, 0.05),
        ground{reed.map, reed.assessment, field, maker,
               felt_difference_mm({reed.map, reed.assessment.zones, reed.outline, {}})} {}
};

// Felt over the tool's width the hill keeps about 44 of its 50 um, of which 7.5 may stay: more than four times 7 um,
// and more than four layers nobody scrapes.
TEST(FaultLayers, AHighHillIsCutInFourLayersOneInsideTheOther) {
  for (const Side side : {Side::left, Side::right}) {
    const Bench bench(hill(50.0, side));
    ASSERT_EQ(bench.reed.assessment.faults.size(), 1U);
    ASSERT_EQ(bench.reed.assessment.faults.front().thicker, side);
    const std::vector<Place> layers = fault_layers(bench.ground, 0);
    ASSERT_EQ(layers.size(), 4U);
    for (std::size_t k = 0; k < layers.size(); ++k) {
      EXPECT_EQ(layers[k].fault, 0);
      ASSERT_EQ(layers[k].parts.size(), 1U);
      EXPECT_EQ(layers[k].parts.front().side, side) << "off the thicker side";
      EXPECT_TRUE(holds(layers[k].parts.front().polygon, 18.0, 5.0 * static_cast<double>(side))) << "about the peak";
      if (k == 0) continue;
      EXPECT_GT(layers[k].from_mm, layers[k - 1].from_mm);
      EXPECT_LT(layers[k].to_mm, layers[k - 1].to_mm);
      EXPECT_LT(layers[k].area_mm2, layers[k - 1].area_mm2);
    }
    // Averaged over the tool's reach it is 3.16 mm wide; the lowest contour lies a little over the 7.5 um that may
    // stay, where the 44 um have fallen to 10: 3.16 sqrt(ln 4.4) mm before and behind its peak. Cells are 0.25 mm.
    EXPECT_NEAR(layers.front().from_mm, 18.0 - 3.85, 0.3);
    EXPECT_NEAR(layers.front().to_mm, 18.0 + 3.85, 0.3);
  }
}

TEST(FaultLayers, ALowHillIsOnePlace) {
  const Bench bench(hill(16.0, Side::right));
  ASSERT_EQ(bench.reed.assessment.faults.size(), 1U);
  EXPECT_EQ(fault_layers(bench.ground, 0).size(), 1U);
}

// Four cells of the right half are one block: rows 0 and 1 of columns 2 and 3; columns 1 and 0 are their mirror images.
TEST(FaultLayers, APlaceChangesABlockByItsShareOfTheBlocksCellsOnEitherSide) {
  CaneBlocks blocks;
  blocks.blocks.resize(2);
  blocks.owner.setConstant(3, 4, -1);
  blocks.owner.block(0, 2, 2, 2).setConstant(0);
  blocks.owner(2, 3) = 1;
  const auto cell = [](Eigen::Index row, Eigen::Index column) { return column * 3 + row; };
  Place right;
  right.parts.push_back({Side::right, {}, {{cell(0, 2), cell(1, 3), cell(2, 2)}, {1.0F, 0.5F, 1.0F}}});
  blocks.count(right);
  ASSERT_EQ(right.block.size(), 2U);
  EXPECT_NEAR(right.block[0], -(1.0 + 0.5) / 4.0, 1e-6);
  EXPECT_EQ(right.block[1], 0.0);
  Place left;
  left.parts.push_back({Side::left, {}, {{cell(1, 1), cell(2, 0)}, {0.75F, 0.5F}}});
  blocks.count(left);
  EXPECT_NEAR(left.block[0], 0.75 / 4.0, 1e-6) << "cane off the left makes the right more";
  EXPECT_NEAR(left.block[1], 0.5, 1e-6);
}

TEST(FaultLayers, BlocksAreTheMapInPiecesOfAToolsReach) {
  const Bench bench(hill(50.0, Side::right));
  const CaneBlocks blocks = cane_blocks(bench.ground, {true}, fault_layers(bench.ground, 0));
  ASSERT_GT(blocks.blocks.size(), 10U);
  ASSERT_EQ(blocks.owner.rows(), 240);
  ASSERT_EQ(blocks.owner.cols(), 48);
  EXPECT_EQ(blocks.owner.leftCols(24).maxCoeff(), -1) << "right minus left is told on the right";
  for (std::size_t b = 0; b < blocks.blocks.size(); ++b) {
    double sum = 0.0, cells = 0.0;
    for (Eigen::Index i = 0; i < blocks.owner.size(); ++i) {
      if (blocks.owner.data()[i] != static_cast<int>(b)) continue;
      sum += static_cast<double>(bench.reed.assessment.balance.difference_mm.data()[i]);
      cells += 1.0;
    }
    EXPECT_NEAR(blocks.blocks[b].difference_mm, sum / cells, 1e-7);
    EXPECT_NEAR(blocks.blocks[b].area_mm2, 0.0625 * cells, 1e-9);
    EXPECT_LE(cells, 6.0 * 4.0) << "1.5 by 0.9 mm";
  }
}

// Half of the tolerance of 15 um may stay; up to four fifths are borne.
TEST(FaultLayers, OfAFaultThatActsWhatPlacesReachMustGo) {
  const Bench bench(hill(50.0, Side::right));
  const CaneBlocks blocks = cane_blocks(bench.ground, {true}, fault_layers(bench.ground, 0));
  int to_go = 0;
  for (const CaneBlock& block : blocks.blocks) {
    EXPECT_EQ(block.wanted.lower, -block.wanted.upper);
    EXPECT_EQ(block.borne.lower, -block.borne.upper);
    EXPECT_GE(block.borne.upper, block.wanted.upper);
    if (block.difference_mm < 0.025) continue;  // About the peak, where every layer lies.
    ++to_go;
    EXPECT_NEAR(block.wanted.upper, 0.0075, 1e-9);
    EXPECT_NEAR(block.borne.upper, 0.0120, 1e-9);
  }
  EXPECT_GE(to_go, 3);
}

TEST(FaultLayers, WhatDoesNotActOrIsNotReachedMayStay) {
  const Bench bench(hill(50.0, Side::right));
  const CaneBlocks idle = cane_blocks(bench.ground, {false}, fault_layers(bench.ground, 0));
  const CaneBlocks out_of_reach = cane_blocks(bench.ground, {true}, {});
  ASSERT_FALSE(idle.blocks.empty());
  ASSERT_FALSE(out_of_reach.blocks.empty());
  for (const CaneBlocks* blocks : {&idle, &out_of_reach}) {
    for (const CaneBlock& block : blocks->blocks) {
      EXPECT_GE(block.wanted.upper, block.difference_mm);
      EXPECT_GE(block.borne.upper, block.difference_mm);
      EXPECT_GE(block.wanted.upper, 0.0075 - 1e-9) << "and half of the tolerance anyway";
    }
  }
  EXPECT_TRUE(cane_blocks(bench.ground, {false}, {}).blocks.empty());
}

}  // namespace
}  // namespace canewise
