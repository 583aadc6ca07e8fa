#include "scanproc/bendtest/tap_witness.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "scanproc/core/statistics.h"
#include "tests/support/bench_scans.h"

namespace canewise::test {
namespace {

class Tapped : public testing::Test {
 protected:
  Tapped() {
    cane_.covariance.diagonal() << square(0.03), square(0.2), square(0.04), square(0.15), square(0.03), square(0.01);
  }
  [[nodiscard]] ClampedReed clamped() const { return {reed_, cane_, 28.0, 28.0}; }
  static Resonance at(double frequency_hz) {
    return {.frequency_hz = frequency_hz,
            .u_frequency_hz = 5e-4 * frequency_hz,
            .q = 30.0,
            .u_q = 2.0,
            .taps = 5,
            .share = 0.5};
  }
  /// What the program itself computes, so that a test can be off by a known factor.
  [[nodiscard]] std::array<double, 2> computed_hz() const {
    HeardTaps all{5, {}};
    for (double f = 700.0; f < 9000.0; f *= 1.004) all.resonances.push_back(at(f));
    const TapWitness witness = tap_witness(all, clamped());
    return {witness.modes.at(0).computed_hz, witness.modes.at(1).computed_hz};
  }
  Result reed_ = result_on_plate(fixtures::draw_bench(6).reed, fixtures::profilometer(), 6);
  MeasuredCane cane_;
  static constexpr auto kDensity = static_cast<Eigen::Index>(CanePart::density);
};

// A beam of the reed's own thickness, alone and in air: order of magnitude by another road. A wedge clamped at its
// thick end rings at 5.315 / (2 pi L^2) h sqrt(E / 12 rho) (Kirchhoff; value from memory), thicker at its tip a
// little lower.
TEST_F(Tapped, TheFirstResonanceLiesWhereAWedgesDoes) {
  const double h = 1e-3 * static_cast<double>(reed_.map.thickness_mm(static_cast<Eigen::Index>(27.0 / 0.25),
                                                                     reed_.map.grid.columns / 2));
  const double wedge_hz = 5.315 / (2.0 * std::numbers::pi * square(0.028)) * h *
                          std::sqrt(cane_.cane.e_l_mpa * 1e6 / (12.0 * cane_.cane.density_kg_per_m3));
  EXPECT_NEAR(computed_hz()[0] / wedge_hz, 0.8, 0.25);
  EXPECT_GT(computed_hz()[1], computed_hz()[0]);
}

TEST_F(Tapped, DensityFollowsFromWhatIsHeard) {
  const auto [bending, twisting] = computed_hz();
  const double heavier = 1.15;  // Density; frequencies go with its root.
  const TapWitness witness =
      tap_witness({5, {at(bending / std::sqrt(heavier)), at(twisting / std::sqrt(heavier)), at(7000.0)}}, clamped());
  ASSERT_TRUE(witness.agrees);
  EXPECT_FALSE(witness.modes[0].twists);
  EXPECT_TRUE(witness.modes[1].twists);
  EXPECT_NEAR(std::log(witness.cane.cane.density_kg_per_m3 / cane_.cane.density_kg_per_m3), std::log(heavier), 0.05);
  EXPECT_LT(witness.cane.covariance(kDensity, kDensity), square(0.07)) << "0.15 before";
  EXPECT_LT(std::abs(std::log(witness.cane.cane.e_l_mpa / cane_.cane.e_l_mpa)), 0.02) << "known already";
  EXPECT_LT(witness.cane.covariance(kDensity, 0) * -1.0, 0.0) << "a stiffer reed would have to be heavier";
}

TEST_F(Tapped, AReedThatIsClampedSomewhereElseIsFoundOut) {
  const auto [bending, twisting] = computed_hz();
  const TapWitness witness = tap_witness({5, {at(0.80 * bending), at(1.18 * twisting)}}, clamped());
  EXPECT_FALSE(witness.agrees);
  EXPECT_EQ(witness.cane.cane.density_kg_per_m3, cane_.cane.density_kg_per_m3) << "nothing is learned from it";
}

TEST_F(Tapped, WhatCannotBeThisReedsIsNotTakenForIt) {
  const TapWitness witness = tap_witness({5, {at(600.0), at(8800.0)}}, clamped());
  EXPECT_TRUE(witness.modes.empty());
  EXPECT_FALSE(witness.agrees);
  ASSERT_TRUE(witness.elsewhere) << "it rings: clamp or scan is off";
  EXPECT_TRUE(tap_witness({0, {}}, clamped()).modes.empty());
}

}  // namespace
}  // namespace canewise::test
