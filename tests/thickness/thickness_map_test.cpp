// The map's grid, its sources of uncertainty, and the noise of means; and what a map of both sides holds.
#include "scanproc/thickness/thickness_map.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <random>
#include <set>
#include <string_view>
#include <vector>

#include "scanproc/thickness/measure_thickness.h"

namespace canewise {
namespace {

TEST(ThicknessMap, CellsBeginAtTheTipAndFoldAboutTheCentreline) {
  const Grid grid{0.4, 5, 6};
  EXPECT_NEAR(grid.x_mm(0), 0.2, 1e-12);
  EXPECT_NEAR(grid.x_mm(4), 1.8, 1e-12);
  EXPECT_NEAR(grid.y_mm(0), -1.0, 1e-12) << "left first";
  EXPECT_NEAR(grid.y_mm(5), 1.0, 1e-12);
  EXPECT_EQ(grid.mirrored(1), 4);
  for (Eigen::Index c = 0; c < 6; ++c) EXPECT_NEAR(grid.y_mm(c), -grid.y_mm(grid.mirrored(c)), 1e-12);
}

TEST(ThicknessMap, NaNIsNotMeasured) {
  ThicknessMap map;
  map.thickness_mm.resize(1, 2);
  map.thickness_mm << 0.0F, std::numeric_limits<float>::quiet_NaN();
  EXPECT_TRUE(map.measured(0, 0)) << "nought is a number";
  EXPECT_FALSE(map.measured(0, 1));
}

TEST(ThicknessMap, EverySourceIsListedOnceAndHasItsOwnName) {
  std::set<std::string_view> names;
  std::set<EffectSource> sources;
  for (const EffectSource source : kEffectSources) {
    sources.insert(source);
    names.insert(name_of(source));
    EXPECT_EQ(message_of(source), (Message{"effect.source", {{"source", word(name_of(source))}}}));
  }
  EXPECT_EQ(sources.size(), 11U);
  EXPECT_EQ(names.size(), 11U);
  EXPECT_EQ(name_of(EffectSource::table_form), "table form");
  EXPECT_EQ(name_of(EffectSource::depth_steps), "depth steps");
}

TEST(ThicknessMap, ScalePlateAndLightStayWithARigUnlessTheScanShowsThemItself) {
  const std::set<EffectSource> rigs_own{EffectSource::rig_scale, EffectSource::plate_form, EffectSource::penetration};
  for (const EffectSource source : kEffectSources) {
    EXPECT_EQ(stays_with_rig({source, {}, {}, false}), rigs_own.contains(source)) << name_of(source);
    EXPECT_FALSE(stays_with_rig({source, {}, {}, true})) << name_of(source);
  }
}

TEST(ThicknessMap, AMeansVarianceIsTheSumOverAllLagsOverTheBinsThatHoldPoints) {
  LocalNoise noise;
  noise.covariance_sum_mm2 = 12e-6;
  noise.filled_share = 0.5;
  // 30 cells of four bins, half of which hold points.
  EXPECT_NEAR(variance_of_mean(noise, 30.0, 8.0, 2.0), 12e-6 / 60.0, 1e-18);
  EXPECT_NEAR(variance_of_mean(noise, 90.0, 8.0, 2.0), 12e-6 / 180.0, 1e-18);
}

TEST(ThicknessMap, WhatReachesFarCountsWholeOnlyInALongerRegion) {
  LocalNoise noise;
  noise.far_sum_mm2 = 6e-6;
  noise.far_reach_mm = 4.0;
  const double whole = 6e-6 / (100.0 * 4.0);
  EXPECT_NEAR(variance_of_mean(noise, 100.0, 1000.0, 1.0), whole, 0.01 * whole);
  EXPECT_LT(variance_of_mean(noise, 100.0, 0.4, 1.0), 0.3 * whole);
  // By its length, not by its width.
  EXPECT_EQ(variance_of_mean(noise, 100.0, 7.0, 1.0), variance_of_mean(noise, 100.0, 7.0, 9.0));
  noise.covariance_sum_mm2 = 2e-6;
  EXPECT_NEAR(variance_of_mean(noise, 100.0, 1000.0, 1.0), 8e-6 / 400.0, 1e-10) << "on top of the near part";
}

TEST(ThicknessMap, SlowErrorDoesNotAverageOutWithinItsLength) {
  LocalNoise noise;
  noise.smooth_mm = 0.003;
  noise.smooth_length_mm = 4.0;
  EXPECT_NEAR(variance_of_mean(noise, 1e9, 0.01, 0.01), 9e-6, 0.01 * 9e-6) << "however many cells";
  // Ten lengths along and as many across hold some hundred independent patches; eight in one direction hold eight.
  EXPECT_NEAR(variance_of_mean(noise, 1e9, 40.0, 40.0), 9e-6 / 100.0, 0.3 * 9e-6 / 100.0);
  EXPECT_NEAR(variance_of_mean(noise, 1e9, 32.0, 0.01), 9e-6 / 8.0, 0.3 * 9e-6 / 8.0);
  EXPECT_NEAR(variance_of_mean(noise, 1e9, 0.01, 32.0), 9e-6 / 8.0, 0.3 * 9e-6 / 8.0);
  // Independent of the noise, so that both add up.
  noise.covariance_sum_mm2 = 8e-6;
  EXPECT_NEAR(variance_of_mean(noise, 2.0, 0.01, 0.01), 9e-6 + 1e-6, 0.01 * 9e-6);
}

// A map of both sides, from points drawn by hand: sixteen points a square quarter millimetre, white noise.

constexpr double kTopNoise_um = 4.0, kTableNoise_um = 7.0;

Eigen::Matrix3Xd surface(double height_mm, double slope_x, double slope_y, double noise_um) {
  std::mt19937_64 random(static_cast<std::uint64_t>(noise_um));
  std::normal_distribution<double> normal(0.0, 1e-3 * noise_um);
  constexpr double step_mm = 0.0625;
  Eigen::Matrix3Xd points(3, 640 * 160);
  for (Eigen::Index i = 0; i < points.cols(); ++i) {
    const double x = (static_cast<double>(i / 160) + 0.5) * step_mm,
                 y = (static_cast<double>(i % 160) - 79.5) * step_mm;
    points.col(i) << x, y, height_mm + slope_x * x + slope_y * y + normal(random);
  }
  return points;
}

/// 40 by 10 mm.
Aligned block(DatumMode datum) {
  Aligned aligned;
  aligned.datum = datum;
  aligned.outline.left.offset_mm = -5.0;
  aligned.outline.right.offset_mm = 5.0;
  aligned.outline.length_mm = 40.0;
  aligned.spacing_mm = 0.0625;
  aligned.points_mm = surface(1.0, 0.030, 0.010, kTopNoise_um);
  if (datum == DatumMode::two_sided) aligned.underside_mm = surface(0.02, -0.001, 0.004, kTableNoise_um);
  return aligned;
}

/// No effect but noise.
ThicknessMap measured(DatumMode datum) {
  Priors none;
  for (const PriorKey& key : kPriorKeys) none.*key.member = 0.0;
  return measure_thickness(block(datum), none);
}

TEST(ThicknessMap, OfBothSidesIsTheCaneBetweenThem) {
  const ThicknessMap map = measured(DatumMode::two_sided);
  ASSERT_EQ(map.grid.cell_mm, 0.25);
  const auto r = static_cast<Eigen::Index>(21.0 / 0.25), c = static_cast<Eigen::Index>((-3.0 + 5.0) / 0.25);
  const double x = map.grid.x_mm(r), y = map.grid.y_mm(c);
  // Four standard deviations of 0.8 and 0.7 um.
  EXPECT_NEAR(map.thickness_mm(r, c), 0.98 + 0.031 * x + 0.006 * y, 0.0033);
  EXPECT_NEAR(map.table_mm(r, c), 0.02 - 0.001 * x + 0.004 * y, 0.0029);
  // 96 points of 8 um on 0.75 by 0.5 mm: slopes to 0.004 along and 0.006 across.
  EXPECT_NEAR(map.slope_x(r, c), 0.031, 0.016);
  EXPECT_NEAR(map.slope_y(r, c), 0.006, 0.024);
  EXPECT_EQ(measured(DatumMode::plate).table_mm.size(), 0) << "from above nobody knows the table";
}

TEST(ThicknessMap, OfBothSidesHasTheNoiseOfBoth) {
  const ThicknessMap above = measured(DatumMode::plate), both = measured(DatumMode::two_sided);
  double squares = 0.0, cells = 0.0, table_squares = 0.0;
  for (Eigen::Index r = 8; r < 152; ++r) {
    for (Eigen::Index c = 4; c < 36; ++c) {
      const auto top = static_cast<double>(above.u_local_mm(r, c)), table = static_cast<double>(both.u_table_mm(r, c));
      ASSERT_NEAR(both.u_local_mm(r, c), std::hypot(top, table), 1e-5 * top) << r << ' ' << c;
      squares += std::pow(both.u_local_mm(r, c), 2), table_squares += table * table, cells += 1.0;
    }
  }
  // A plane's height in the middle of 96 points has their variance over 96. The autocovariances of neighbours, none
  // here, are told to a hundredth of a bin's variance, which is a quarter of that.
  const double expected_um = std::sqrt((16.0 + 49.0) / 96.0), table_um = std::sqrt(49.0 / 96.0);
  EXPECT_NEAR(1e3 * std::sqrt(squares / cells), expected_um, 0.25 * expected_um);
  EXPECT_NEAR(1e3 * std::sqrt(table_squares / cells), table_um, 0.25 * table_um);
  // Means of four points: a quarter of the variance.
  EXPECT_NEAR(1e6 * both.noise.covariance_sum_mm2, 65.0 / 4.0, 0.1 * 65.0 / 4.0);
  EXPECT_NEAR(1e6 * above.noise.covariance_sum_mm2, 4.0, 0.4);
  EXPECT_NEAR(1e6 * both.table_covariance_sum_mm2, 49.0 / 4.0, 0.1 * 49.0 / 4.0);
  EXPECT_NEAR(1e3 * both.noise.bin_sd_mm, std::sqrt(65.0 / 4.0), 0.15);
  EXPECT_NEAR(1e3 * both.point_noise_mm, std::sqrt(65.0), 0.4);
}

}  // namespace
}  // namespace canewise
