#include "scanproc/assess/zones.h"

#include <gtest/gtest.h>

#include <cmath>
#include <set>

#include "scanproc/assess/zone_shares.h"
#include "scanproc/words/speech.h"
#include "tests/support/reed_by_hand.h"

namespace canewise {
namespace {

Outline plain_outline() {
  Outline outline;
  outline.left.offset_mm = -6.5;
  outline.right.offset_mm = 6.5;
  outline.length_mm = 68.0;
  outline.tip_edge_mm = {0.0, 0.0};
  outline.tip_edge_first_y_mm = -6.5;
  outline.tip_edge_step_mm = 13.0;
  return outline;
}

TEST(Zones, BandsScaleWithTheVampAndTheHalfWidth) {
  Grid grid{0.25, 272, 52};
  const ZoneMap zones = map_zones(grid, plain_outline(), 32.0);
  const auto label = [&](double x, double y) {
    return zones.label(static_cast<Eigen::Index>(x / 0.25), static_cast<Eigen::Index>(y / 0.25 + 26.0));
  };
  EXPECT_EQ(label(1.0, 0.2), ZoneMap::label_of(AlongBand::tip, AcrossBand::centre));
  EXPECT_EQ(label(3.3, 0.2), ZoneMap::label_of(AlongBand::front, AcrossBand::centre));
  EXPECT_EQ(label(9.0, -3.0), ZoneMap::label_of(AlongBand::middle, AcrossBand::flank));
  EXPECT_EQ(label(22.0, 5.9), ZoneMap::label_of(AlongBand::back, AcrossBand::rail));
  EXPECT_EQ(label(33.0, 0.0), -1) << "behind the shoulder there is no zone";
  std::set<int> seen(zones.label.data(), zones.label.data() + zones.label.size());
  EXPECT_EQ(seen.size(), 13U);
}

TEST(Zones, ColumnsFoldOntoEachOther) {
  const Grid grid{0.25, 10, 52};
  for (Eigen::Index c = 0; c < 52; ++c) EXPECT_EQ(grid.y_mm(c), -grid.y_mm(grid.mirrored(c)));
}

TEST(Zones, NamesAreAnatomyWithASide) {
  EXPECT_EQ(phrase(place_of(Zone{AlongBand::front, AcrossBand::rail, Side::left})), "left rail, front");
  EXPECT_EQ(phrase(place_of(Zone{AlongBand::middle, AcrossBand::centre, Side::right})), "right half of the heart");
}

/// A wedge of 50 um a millimetre, whose mean over a band is its height in the band's middle.
test::ReedByHand wedge() {
  test::ReedByHand reed = test::reed_by_hand([](double x, double) { return test::plain_wedge_mm(x); });
  reed.map.slope_x = Field::Constant(reed.map.grid.rows, reed.map.grid.columns, 0.05F);
  return reed;
}

// A row of cells is 0.25 mm: counted whole or not at all it would change the mean by 3 um.
TEST(Zones, AMeanDoesNotJumpWhereTheVampsEndMovesByAHair) {
  const test::ReedByHand reed = wedge();
  for (double vamp_mm = 37.0; vamp_mm < 38.0; vamp_mm += 0.037) {
    const ZoneMap zones = map_zones(reed.map.grid, reed.outline, vamp_mm);
    for (const Side side : {Side::left, Side::right}) {
      const double back = zone_thickness(reed.map, zones, {AlongBand::back, AcrossBand::flank, side}).mean_mm;
      EXPECT_NEAR(back, test::plain_wedge_mm(0.5 * (0.65 + 1.0) * vamp_mm), 2e-4) << vamp_mm;
    }
    const double middle = band_thickness(reed.map, zones, AlongBand::middle, AcrossBand::centre).mean_mm;
    EXPECT_NEAR(middle, test::plain_wedge_mm(0.5 * (0.25 + 0.65) * vamp_mm), 2e-4) << vamp_mm;
  }
}

// A roof that falls by 80 um a millimetre to both sides of a reed 12.3 mm wide: over a band its mean is its height in
// the band's middle. The outermost cells are not measured, and no border lies between two cells.
TEST(Zones, AMeanReachesFromBorderToBorderAndToTheEdgeWhateverTheCells) {
  constexpr double half_mm = 6.15, vamp_mm = 34.0, fall = 0.08;
  Outline outline;
  outline.left.offset_mm = -half_mm;
  outline.right.offset_mm = half_mm;
  outline.length_mm = 60.0;
  for (const double cell_mm : {0.1, 0.15, 0.25, 0.31, 0.4, 0.5}) {
    ThicknessMap map;
    const auto columns = 2 * static_cast<Eigen::Index>(std::ceil(half_mm / cell_mm));
    map.grid = {cell_mm, static_cast<Eigen::Index>(40.0 / cell_mm), columns};
    map.thickness_mm = Field::Constant(map.grid.rows, columns, std::numeric_limits<float>::quiet_NaN());
    map.slope_x = map.slope_y = Field::Zero(map.grid.rows, columns);
    for (Eigen::Index c = 0; c < columns; ++c) {
      const double y = map.grid.y_mm(c);
      map.slope_y.col(c).setConstant(static_cast<float>(y > 0.0 ? -fall : fall));
      if (std::abs(y) + 0.7 * cell_mm < half_mm)  // The rim is left out.
        map.thickness_mm.col(c).setConstant(static_cast<float>(2.0 - fall * std::abs(y)));
    }
    const ZoneMap zones = map_zones(map.grid, outline, vamp_mm);
    for (const AcrossBand across : kAcrossBands) {
      const auto k = static_cast<std::size_t>(across);
      const double middle_mm = 0.5 * (ZoneLimits::e.at(k) + ZoneLimits::e.at(k + 1)) * half_mm;
      for (const Side side : {Side::left, Side::right}) {
        EXPECT_NEAR(zone_thickness(map, zones, {AlongBand::middle, across, side}).mean_mm, 2.0 - fall * middle_mm, 1e-5)
            << cell_mm << " mm, " << name_of(across);
      }
    }
  }
}

// Where half of a rail was not seen, what was seen does not stand for it.
TEST(Zones, CellsStandForNothingFarFromThem) {
  test::ReedByHand reed = wedge();
  const ZoneMap zones = map_zones(reed.map.grid, reed.outline, 37.0);
  const Grid& grid = reed.map.grid;
  for (Eigen::Index c = 0; c < grid.columns; ++c)
    if (std::abs(grid.y_mm(c)) > 5.0) reed.map.thickness_mm.col(c).setConstant(std::numeric_limits<float>::quiet_NaN());
  const ZoneShares shares = zone_shares(reed.map, zones, AlongBand::middle, AcrossBand::rail);
  EXPECT_LE(shares.weight.maxCoeff(), 1.5F);
  EXPECT_LE(shares.shift_mm.cwiseAbs().maxCoeff(), 0.5F * static_cast<float>(grid.cell_mm));
}

// The middle's cells lie at 0.45 of the vamp on average: by so much of the end's uncertainty they lie farther back.
TEST(Zones, WhereTheVampEndsIsPartOfAMeansUncertainty) {
  const test::ReedByHand reed = wedge();
  const ZoneMap zones = map_zones(reed.map.grid, reed.outline, 40.0, 0.2);
  const ZoneMean middle = band_thickness(reed.map, zones, AlongBand::middle, AcrossBand::centre);
  EXPECT_NEAR(middle.u_place_mm, 0.05 * 0.45 * 0.2, 1e-5);
  EXPECT_NEAR(middle.u_mm, std::hypot(middle.u_local_mm, middle.u_place_mm), 1e-9);
  const ZoneMean back = zone_thickness(reed.map, zones, {AlongBand::back, AcrossBand::rail, Side::left});
  EXPECT_NEAR(back.u_place_mm, 0.05 * 0.825 * 0.2, 1e-5);
}

}  // namespace
}  // namespace canewise
