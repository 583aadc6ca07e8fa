// Damaged but usable reeds are measured with a remark and their gaps stay empty; several reeds are told apart.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "scanproc/core/error.h"
#include "scanproc/datum/place_reed.h"
#include "tests/support/two_sided_scans.h"

namespace canewise {
namespace {

using testing::HasSubstr;
using namespace test;

class MissingStrip : public testing::TestWithParam<fixtures::Hidden> {};

TEST_P(MissingStrip, StaysEmptyAndTheRestIsMeasured) {
  const fixtures::Hidden hidden = GetParam();
  const fixtures::Reed reed({}, rough_cane(1));
  auto scene = plain_scene(1);
  scene.hidden = {hidden};
  const Measurement m = measured(fixtures::scan_reed(reed, fixtures::laser_line(), scene, 1));
  EXPECT_LT(std::abs(map_errors(m.map, reed).mean_um), 2.0);
  EXPECT_GT(map_errors(m.map, reed).covered, 0.98);
  std::size_t inside = 0, filled = 0;
  for (Eigen::Index r = 0; r < m.map.grid.rows; ++r) {
    for (Eigen::Index c = 0; c < m.map.grid.columns; ++c) {
      const double x = m.map.grid.x_mm(r), y = m.map.grid.y_mm(c);
      constexpr double reach_mm = 0.45;  // One cell of 0.25 mm and what the frame may be off.
      if (!m.aligned.outline.holds(x, y, 0.2)) continue;
      if (x < hidden.x_low_mm + reach_mm || x > hidden.x_high_mm - reach_mm) continue;
      if (y < hidden.y_low_mm + reach_mm || y > hidden.y_high_mm - reach_mm) continue;
      ++inside;
      filled += m.map.measured(r, c);
    }
  }
  EXPECT_GT(inside, 40U);
  EXPECT_EQ(filled, 0U);
  EXPECT_LT(covered_share(m.map, m.aligned.outline), 0.98);
  // A zone says how much of it was seen.
  double least = 1.0;
  for (const auto& zone : m.assessment.zone_thickness) least = std::min(least, zone.thickness.covered);
  EXPECT_LT(least, 0.95);
}
INSTANTIATE_TEST_SUITE_P(Places, MissingStrip,
                         testing::Values(fixtures::Hidden{10, 12, -30, 30}, fixtures::Hidden{20, 26, -30, 30},
                                         fixtures::Hidden{-20, 90, 2, 4}, fixtures::Hidden{12, 24, -3, 3}));

TEST(Damage, AReedWhoseTipButtOrSideIsOutOfViewIsRefusedWithTheReason) {
  const fixtures::Reed reed({}, rough_cane(1));
  const auto refused = [&](const fixtures::Hidden& hidden) -> std::string {
    auto scene = plain_scene(1);
    scene.hidden = {hidden};
    try {
      (void)measured(fixtures::scan_reed(reed, fixtures::laser_line(), scene, 1));
    } catch (const NotMeasurable& error) {
      return error.what();
    }
    return "measured";
  };
  EXPECT_THAT(refused({-20, 3, -30, 30}), HasSubstr("tip"));
  EXPECT_THAT(refused({64, 90, -30, 30}), HasSubstr("butt"));
  EXPECT_THAT(refused({-20, 90, 5, 30}), HasSubstr("side"));
}

TEST(SeveralReeds, AreToldApartAndNumberedFromTheLeft) {
  for (std::uint64_t seed = 0; seed < 3; ++seed) {
    fixtures::ReedFaults heavy = rough_cane(seed);
    heavy.heavy_rail_um = 60.0;
    fixtures::ReedShape longer;
    longer.length_mm = 68.8;
    const fixtures::Reed first({}, rough_cane(seed)), second({}, heavy), third(longer, rough_cane(seed + 9));
    auto scene = plain_scene(seed);
    scene.neighbours = {second, third};
    const Cloud tray = fixtures::scan_reed(first, fixtures::laser_line(), scene, seed).cloud;
    try {
      (void)place_reed({tray}, {});
      ADD_FAILURE() << "three reeds were measured as one";
    } catch (const NotMeasurable& error) {
      EXPECT_THAT(error.what(), HasSubstr("--each"));
    }
    const auto parts = split_reeds(tray, {});
    ASSERT_EQ(parts.size(), 3U);
    const std::array<const fixtures::Reed*, 3> truth{&first, &second, &third};
    for (std::size_t k = 0; k < parts.size(); ++k) {
      const Aligned aligned = place_reed({parts[k]}, {});
      EXPECT_NEAR(aligned.outline.length_mm, truth.at(k)->shape().length_mm, 0.06);
      const MapErrors errors = map_errors(measure_thickness(aligned, {}), *truth.at(k));
      EXPECT_LT(std::abs(errors.mean_um), 1.5) << k;
      EXPECT_GT(errors.covered, 0.985) << k;
    }
  }
}

}  // namespace
}  // namespace canewise
