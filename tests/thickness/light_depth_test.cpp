// A cross-check against touch corrects the map for light that enters the cane, and its uncertainty stands in the place
// of the prior's.
#include "scanproc/thickness/light_depth.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <utility>
#include <vector>

namespace canewise {
namespace {

constexpr float kMissing = std::numeric_limits<float>::quiet_NaN();

/// Two rows and two columns: a thin flat cell, a thick steep one, one that was not seen, and a middling one.
ThicknessMap map_with(std::vector<CommonEffect> common) {
  ThicknessMap map;
  map.grid = {0.25, 2, 2};
  map.thickness_mm.resize(2, 2);
  map.thickness_mm << 0.2F, 2.5F, kMissing, 1.5F;
  map.slope_x.resize(2, 2);
  map.slope_x << 0.0F, 0.06F, 0.0F, -0.03F;
  map.slope_y.resize(2, 2);
  map.slope_y << 0.0F, -0.08F, 0.0F, 0.04F;
  map.u_local_mm = Field::Constant(2, 2, 0.002F);
  map.u_local_mm(1, 0) = kMissing;
  map.u_mm = map.u_local_mm;
  map.common = std::move(common);
  return map;
}

CommonEffect effect(EffectSource source, float shift_mm) { return {source, {}, Field::Constant(2, 2, shift_mm)}; }

LightDepth touched() {
  LightDepth light;
  light.offset_um = 4.0;
  light.per_mm_um = 2.0;
  light.per_slope_um = 30.0;
  light.middle_mm = 1.2;
  // Standard uncertainties 1 um, 0.5 um/mm and 10 um; the first two correlated by -0.6.
  light.covariance_um2 << 1.0, -0.3, 0.0, -0.3, 0.25, 0.0, 0.0, 0.0, 100.0;
  return light;
}

TEST(LightDepth, WhatLightDoesNotSeeIsAddedByThicknessAndSlope) {
  ThicknessMap map = map_with({});
  correct_light(map, touched());
  // 4 + 2 * (0.2 - 1.2) + 30 * 0 = 2 um; 4 + 2 * 1.3 + 30 * 0.1 = 9.6 um; 4 + 2 * 0.3 + 30 * 0.05 = 6.1 um. Single
  // precision tells 0.2 um at 2.5 mm.
  EXPECT_NEAR(map.thickness_mm(0, 0), 0.2020, 1e-7);
  EXPECT_NEAR(map.thickness_mm(0, 1), 2.5096, 5e-7);
  EXPECT_NEAR(map.thickness_mm(1, 1), 1.5061, 3e-7);
  EXPECT_TRUE(std::isnan(map.thickness_mm(1, 0)));
}

TEST(LightDepth, ItsUncertaintyTakesThePlaceOfThePriors) {
  ThicknessMap map = map_with({effect(EffectSource::seating, 0.003F), effect(EffectSource::penetration, 0.050F),
                               effect(EffectSource::rig_scale, -0.004F)});
  correct_light(map, touched());
  double light_um2 = 0.0, at_steep_um2 = 0.0, together_um2 = 0.0;
  int others = 0;
  for (const CommonEffect& e : map.common) {
    if (e.source != EffectSource::penetration) {
      ++others;
      continue;
    }
    const double thin = 1e3 * static_cast<double>(e.shift_mm(0, 0)),
                 steep = 1e3 * static_cast<double>(e.shift_mm(0, 1));
    light_um2 += thin * thin, at_steep_um2 += steep * steep, together_um2 += thin * steep;
    EXPECT_TRUE(std::isnan(e.shift_mm(1, 0)));
    EXPECT_TRUE(stays_with_rig(e)) << "light enters the next reed as deep";
  }
  EXPECT_EQ(others, 2) << "what is not light's stays";
  // b' C b with b = (1, thickness - middle, slope): (1, -1, 0) gives 1 + 0.6 + 0.25; (1, 1.3, 0.1) gives
  // 1 - 0.78 + 0.4225 + 1; between the two places 1 - 0.3 * (1.3 - 1) - 0.25 * 1.3.
  EXPECT_NEAR(light_um2, 1.85, 1e-4);
  EXPECT_NEAR(at_steep_um2, 1.6425, 1e-4);
  EXPECT_NEAR(together_um2, 0.585, 1e-4);
  // With 2 um of noise, 3 of seating and 4 of scale.
  EXPECT_NEAR(1e3 * static_cast<double>(map.u_mm(0, 0)), std::sqrt(4.0 + 9.0 + 16.0 + 1.85), 1e-4);
  EXPECT_NEAR(1e3 * static_cast<double>(map.u_mm(0, 1)), std::sqrt(4.0 + 9.0 + 16.0 + 1.6425), 1e-4);
  EXPECT_TRUE(std::isnan(map.u_mm(1, 0)));
  EXPECT_NEAR(map.u_local_mm(0, 0), 0.002, 1e-9) << "no noise of single places";
}

}  // namespace
}  // namespace canewise
