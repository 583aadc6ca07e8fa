#include "scanproc/assess/zones.h"

#include <gtest/gtest.h>

#include <set>

#include "scanproc/words/speech.h"

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

}  // namespace
}  // namespace canewise
