#include "scanproc/scrape/footprint.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>

namespace canewise {
namespace {

const Grid kGrid{0.25, 80, 48};  // 20 mm along, 6 mm to either side.
/// Unlike along and across: half the slip's variance lies in each direction.
constexpr Footprint kHand{.tool_width_mm = 4.0, .edge_mm = 0.4, .run_out_mm = 2.0, .slip_mm = 0.6};

std::vector<PlanPoint> rectangle(double x0, double x1, double y0, double y1) {
  return {{x0, y0}, {x0, y1}, {x1, y1}, {x1, y0}};
}
/// By row and column, nought where the list has no cell.
struct Shares {
  std::map<Eigen::Index, double> by_cell;
  explicit Shares(const CutShare& cut) {
    for (std::size_t k = 0; k < cut.cells.size(); ++k) by_cell[cut.cells[k]] = static_cast<double>(cut.share[k]);
  }
  [[nodiscard]] double at(double x_mm, double y_mm) const {
    const auto row = static_cast<Eigen::Index>(std::floor(x_mm / 0.25)),
               column = static_cast<Eigen::Index>(std::floor(y_mm / 0.25)) + 24;
    const auto found = by_cell.find(column * kGrid.rows + row);
    return found == by_cell.end() ? 0.0 : found->second;
  }
};

TEST(Footprint, ACutIsFeltAsFarAsASlipAndHalfItsSoftBorder) {
  const Footprint hand{.edge_mm = 0.4, .run_out_mm = 1.2, .slip_mm = 0.6};
  EXPECT_NEAR(hand.reach_along_mm(), 1.2, 1e-12);
  EXPECT_NEAR(hand.reach_across_mm(), 0.8, 1e-12);
  EXPECT_NEAR(hand.reach_to_tip_mm(), 0.9, 1e-12) << "half the slip";
}

// Along: variance 2^2/12 of the run-out and 0.6^2/2 of the slip, 0.717 mm; across 0.4^2/12 and 0.6^2/2, 0.440 mm.
TEST(Footprint, BordersAreTheNormalLawOfEdgeAndSlip) {
  const Shares cut(expected_cut(kGrid, rectangle(6.0, 14.0, 0.0, 4.0), kHand));
  EXPECT_NEAR(cut.at(10.1, 2.1), 1.0, 1e-3) << "inside, its whole depth";
  EXPECT_NEAR(cut.at(10.1, 3.9) + cut.at(10.1, 4.1), 1.0, 1e-3) << "half of it at the border";
  // The cell's middle lies 0.375 mm outside: Phi(-0.375/0.440) = 0.197; beyond three deviations nothing is summed.
  EXPECT_NEAR(cut.at(10.1, 4.4), 0.197, 0.01);
  EXPECT_NEAR(cut.at(10.1, -0.4), 0.197, 0.01);
  // 0.625 mm before and behind: Phi(-0.625/0.717) = 0.192.
  EXPECT_NEAR(cut.at(14.6, 2.1), 0.192, 0.01);
  EXPECT_NEAR(cut.at(5.4, 2.1), 0.192, 0.01);
  EXPECT_EQ(cut.at(10.1, -3.0), 0.0);
}

TEST(Footprint, SoftBordersMoveNoCane) {
  const CutShare cut = expected_cut(kGrid, rectangle(6.0, 14.0, 0.0, 4.0), kHand);
  double area = 0.0, x = 0.0, y = 0.0;
  for (std::size_t k = 0; k < cut.cells.size(); ++k) {
    const double share = static_cast<double>(cut.share[k]) * 0.0625;
    EXPECT_LE(cut.share[k], 1.0F);
    EXPECT_GT(cut.share[k], 0.0F);
    area += share;
    x += share * kGrid.x_mm(cut.cells[k] % kGrid.rows);
    y += share * kGrid.y_mm(cut.cells[k] / kGrid.rows);
  }
  EXPECT_NEAR(area, 32.0, 0.3);  // Less than a hundredth of the depth is not listed.
  EXPECT_NEAR(x / area, 10.0, 0.01);
  EXPECT_NEAR(y / area, 2.0, 0.01) << "on the right";
}

TEST(Footprint, WhereTheToolHangsOverTheRimTheCutIsWholeUpToTheRim) {
  const Shares over(expected_cut(kGrid, rectangle(6.0, 14.0, 3.0, 9.0), kHand));
  EXPECT_NEAR(over.at(10.1, 5.9), 1.0, 1e-3);
  const Shares flush(expected_cut(kGrid, rectangle(6.0, 14.0, 3.0, 6.0), kHand));
  EXPECT_LT(flush.at(10.1, 5.9), 0.65);
  const Shares left(expected_cut(kGrid, rectangle(6.0, 14.0, -9.0, -3.0), kHand));
  EXPECT_NEAR(left.at(10.1, -5.9), 1.0, 1e-3);
  EXPECT_EQ(left.at(10.1, 5.9), 0.0);
}

TEST(Footprint, ASteadyHandCutsSharply) {
  const Footprint steady{.edge_mm = 0.3, .run_out_mm = 0.3, .slip_mm = 0.0};
  const Shares cut(expected_cut(kGrid, rectangle(6.0, 14.0, 0.0, 4.0), steady));
  EXPECT_NEAR(cut.at(10.1, 3.6), 1.0, 0.02);
  EXPECT_LT(cut.at(10.1, 4.4), 0.02);
}

TEST(Footprint, WhatIsNoPolygonCutsNothing) {
  EXPECT_TRUE(expected_cut(kGrid, {}).cells.empty());
  EXPECT_TRUE(expected_cut(kGrid, {{6.0, 0.0}, {14.0, 4.0}}).cells.empty());
}

}  // namespace
}  // namespace canewise
