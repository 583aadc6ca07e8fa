// Both sides of a reed on its carrier: true thickness, and a table whose warp is seen. Scans are generated; the truth
// is the generator's.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "scanproc/assess/table_form.h"
#include "scanproc/core/error.h"
#include "scanproc/core/statistics.h"
#include "scanproc/datum/place_reed.h"
#include "scanproc/words/speech.h"
#include "tests/support/two_sided_scans.h"

namespace canewise {
namespace {

using testing::HasSubstr;
using namespace test;

struct TwoSided {
  Aligned aligned;
  ThicknessMap map;
  TableForm table;
};

TwoSided measure_both(const BothScans& scans, const Rig& rig = {}) {
  TwoSided m;
  m.aligned = place_reed({scans.top.cloud, scans.underside.cloud}, rig);
  m.map = measure_thickness(m.aligned, rig.priors);
  m.table = assess_table(m.map, m.aligned.outline, kTableTolerance_um);
  return m;
}

fixtures::SceneOptions bowed_scene(std::uint64_t seed, double bow_um) {
  fixtures::SceneOptions scene = carrier_scene(seed);
  const fixtures::ReedLie form = scene.nuisance.lie;
  scene.nuisance = {};
  scene.nuisance.lie.bow_um = bow_um;
  scene.nuisance.lie.cup_um = 2.0 * form.cup_um;
  scene.nuisance.lie.twist_um = 5.0 * form.twist_um;
  return scene;
}

std::string refusal(std::vector<Cloud> scans, const Rig& rig = {}, const PlaceOptions& options = {}) {
  try {
    (void)place_reed(std::move(scans), rig, options);
  } catch (const Error& error) {
    return error.what();
  }
  return "measured";
}

TEST(TwoSided, ABowOf40MicrometresLeavesTheThicknessAloneAndShowsInTheTable) {
  for (const auto& scanner : {fixtures::profilometer(), fixtures::laser_line()}) {
    double mean_um = 0.0;
    int within = 0, asked = 0;
    constexpr std::uint64_t scans = 8;
    for (std::uint64_t seed = 0; seed < scans; ++seed) {
      const fixtures::Reed reed({}, rough_cane(seed));
      const auto scene = bowed_scene(seed, 40.0);
      const TwoSided m = measure_both(scan_both_sides(reed, scanner, scene, seed));
      EXPECT_EQ(m.aligned.datum, DatumMode::two_sided);
      const MapErrors errors = map_errors(m.map, reed);
      EXPECT_LT(std::abs(errors.mean_um),
                3.0 * std::max(1.0, 1e3 * std::sqrt(m.aligned.uncertainty.plate_plane(0, 0))));
      mean_um += errors.mean_um / scans;
      EXPECT_EQ(m.table.flat, Verdict::outside);
      const auto& lie = scene.nuisance.lie;
      for (const auto& [found, truth] :
           {std::pair{m.table.bow_um, lie.bow_um}, {m.table.cup_um, lie.cup_um}, {m.table.twist_um, lie.twist_um}}) {
        EXPECT_NEAR(found.value, truth, 1.5);
        // The outline's own uncertainty scales a form by some tenths of a percent, which its U does not hold.
        within += std::abs(found.value - truth) <= kCoverage95 * std::hypot(found.u, 0.01 * truth);
        ++asked;
      }
    }
    EXPECT_LT(std::abs(mean_um), 1.5);  // The bound is 3; so many scans would show half of it.
    EXPECT_GE(within, asked * 85 / 100) << "of " << asked;
  }
}

TEST(TwoSided, OnAPlateTheSameBowReadsAsThicknessJustAsTheBudgetPredicts) {
  const fixtures::Reed reed({}, rough_cane(1));
  fixtures::SceneOptions scene;
  scene.nuisance.lie.bow_um = 40.0;
  const Measurement m = measured(fixtures::scan_reed(reed, fixtures::profilometer(), scene, 1));
  const CommonEffect* bow = nullptr;
  for (const auto& effect : m.map.common) {
    if (effect.source == EffectSource::table_form && phrase(effect.name) == "bow") bow = &effect;
  }
  ASSERT_NE(bow, nullptr);
  const double sizes = 40.0 / Priors{}.table_bow_um;
  double squares = 0.0, count = 0.0, largest = 0.0;
  for (Eigen::Index r = 0; r < m.map.grid.rows; ++r) {
    for (Eigen::Index c = 0; c < m.map.grid.columns; ++c) {
      if (!m.map.measured(r, c)) continue;
      const double error =
          static_cast<double>(m.map.thickness_mm(r, c)) - reed.thickness_mm(m.map.grid.x_mm(r), m.map.grid.y_mm(c));
      largest = std::max(largest, error);
      squares += square(error - sizes * static_cast<double>(bow->shift_mm(r, c)));
      count += 1.0;
    }
  }
  EXPECT_GT(largest, 0.038);
  EXPECT_LT(std::sqrt(squares / count), 0.002);
}

TEST(TwoSided, AFlatTableIsCalledFlatAndANoisyScanDoesNotPretend) {
  const fixtures::Reed reed({}, rough_cane(2));
  auto scene = bowed_scene(2, 6.0);
  scene.nuisance.lie.twist_um = 2.0;
  EXPECT_EQ(measure_both(scan_both_sides(reed, fixtures::profilometer(), scene, 2)).table.flat, Verdict::within);
  scene.nuisance.lie.bow_um = kTableTolerance_um;  // On the limit nobody can tell.
  EXPECT_EQ(measure_both(scan_both_sides(reed, fixtures::structured_light(), scene, 2)).table.flat,
            Verdict::cannot_tell);
}

TEST(TwoSided, TheOrderOfTheScansDoesNotMatter) {
  const fixtures::Reed reed({}, rough_cane(3));
  const BothScans scans = scan_both_sides(reed, fixtures::laser_line(), bowed_scene(3, 20.0), 3);
  const ThicknessMap one = measure_thickness(place_reed({scans.top.cloud, scans.underside.cloud}, {}), {});
  const ThicknessMap other = measure_thickness(place_reed({scans.underside.cloud, scans.top.cloud}, {}), {});
  EXPECT_TRUE((one.thickness_mm.isNaN() == other.thickness_mm.isNaN()).all());
  EXPECT_LT((one.thickness_mm - other.thickness_mm)
                .isNaN()
                .select(0.0F, one.thickness_mm - other.thickness_mm)
                .abs()
                .maxCoeff(),
            1e-5F);
}

// A cell's thickness is the top minus the table, each with the scanner's noise; on a plate the table is not seen.
TEST(TwoSided, TheTablesNoiseCountsInCellsAndInMeans) {
  const fixtures::Reed reed({});
  const TwoSided both = measure_both(scan_both_sides(reed, fixtures::laser_line(), bowed_scene(5, 0.0), 5));
  fixtures::SceneOptions on_plate;
  on_plate.plate_margin_mm = 8.0;
  const Measurement one = measured(fixtures::scan_reed(reed, fixtures::laser_line(), on_plate, 5));
  const auto middle = [](const ThicknessMap& map) {
    std::vector<double> values;
    for (Eigen::Index r = 60; r < 200; ++r)
      for (Eigen::Index c = 16; c < map.grid.columns - 16; ++c)
        if (map.measured(r, c)) values.push_back(static_cast<double>(map.u_local_mm(r, c)));
    return median(values);
  };
  EXPECT_NEAR(middle(both.map) / middle(one.map), std::sqrt(2.0), 0.2);
  const double means = (both.map.noise.covariance_sum_mm2 / both.map.noise.filled_share) /
                       (one.map.noise.covariance_sum_mm2 / one.map.noise.filled_share);
  EXPECT_NEAR(means, 2.0, 0.5);
}

// The balls lie all round the reed, so what ties the sides is surest over its middle, wherever the scanner's axes
// begin.
TEST(TwoSided, TheTieIsSurestBetweenTheBalls) {
  for (std::uint64_t seed = 1; seed <= 3; ++seed) {
    const fixtures::Reed reed({}, rough_cane(seed));
    const BothScans scans = scan_both_sides(reed, fixtures::laser_line(), carrier_scene(seed), seed);
    const Aligned aligned = place_reed({scans.top.cloud, scans.underside.cloud}, {});
    const Eigen::Matrix3d& plane = aligned.uncertainty.plate_plane;
    ASSERT_GT(plane(1, 1), 0.0);
    EXPECT_NEAR(-plane(0, 1) / plane(1, 1), 38.0, 12.0) << seed << ": along the reed, mm";
    EXPECT_NEAR(-plane(0, 2) / plane(2, 2), 2.0, 12.0) << seed << ": to its right, mm";
  }
}

TEST(TwoSided, LeftStaysLeft) {
  fixtures::ReedFaults faults = rough_cane(4);
  faults.heavy_rail_um = 60.0;
  faults.heavy_rail_side = 1;
  const fixtures::Reed reed({}, faults);
  const TwoSided m = measure_both(scan_both_sides(reed, fixtures::profilometer(), bowed_scene(4, 10.0), 4));
  EXPECT_LT(std::abs(map_errors(m.map, reed).mean_um), 2.0);
  EXPECT_GT(map_errors(m.map, reed).covered, 0.9);
}

TEST(TwoSided, ACornerBlockWithKnownEdgesDoesAsWell) {
  Rig rig;
  rig.carrier.block_edges_mm = {10, 12, 14};
  for (std::uint64_t seed = 0; seed < 4; ++seed) {
    const fixtures::Reed reed({}, rough_cane(seed));
    auto scene = bowed_scene(seed, 40.0);
    scene.balls.clear();
    scene.block = fixtures::Block{34, 20, 2, {10, 12, 14}};
    scene.plate_margin_mm = 26.0;
    const TwoSided m = measure_both(scan_both_sides(reed, fixtures::laser_line(), scene, seed), rig);
    EXPECT_THAT(phrase(m.aligned.registration->method), HasSubstr("block"));
    EXPECT_LT(std::abs(map_errors(m.map, reed).mean_um), 3.0);
    EXPECT_NEAR(m.table.bow_um.value, 40.0, 1.5);
  }
}

TEST(TwoSided, WithoutAnythingThatTiesBothSidesTheHeightIsUndeterminedAndThatIsSaid) {
  const fixtures::Reed reed({}, rough_cane(5));
  auto scene = bowed_scene(5, 0.0);
  scene.balls.clear();
  const BothScans none = scan_both_sides(reed, fixtures::profilometer(), scene, 5);
  EXPECT_THAT(refusal({none.top.cloud, none.underside.cloud}), HasSubstr("undetermined"));
  scene.balls = {{-6, -14, 2, 4}, {30, -14, 2, 4}, {74, -14, 2, 4}};  // In a row: the roll stays open.
  const BothScans row = scan_both_sides(reed, fixtures::profilometer(), scene, 5);
  EXPECT_THAT(refusal({row.top.cloud, row.underside.cloud}), HasSubstr("not in a row"));
}

TEST(TwoSided, WhatDoesNotBelongTogetherIsRefused) {
  const fixtures::Reed reed({}, rough_cane(6));
  const BothScans scans = scan_both_sides(reed, fixtures::profilometer(), bowed_scene(6, 0.0), 6);
  const Cloud on_plate = fixtures::scan_reed(reed, fixtures::profilometer(), {}, 6).cloud;
  EXPECT_THAT(refusal({scans.top.cloud, on_plate}), HasSubstr("plate"));
  EXPECT_THAT(refusal({scans.top.cloud}, {}, {.datum = DatumMode::two_sided}), HasSubstr("two scans"));
  EXPECT_THAT(refusal({scans.top.cloud}), HasSubstr("no plate around it"));
  EXPECT_THAT(refusal({scans.underside.cloud}), HasSubstr("no plate around it"));
  // Two scans of the top fit by their balls, but they make no reed.
  auto again = bowed_scene(6, 0.0);
  const Cloud top_again = fixtures::scan_reed(reed, fixtures::profilometer(), again, 99).cloud;
  EXPECT_THAT(refusal({scans.top.cloud, top_again}), HasSubstr("no reed"));
}

}  // namespace
}  // namespace canewise
