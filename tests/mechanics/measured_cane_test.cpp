#include "scanproc/mechanics/measured_cane.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

MeasuredCane measured(double with_gradient) {
  MeasuredCane cane;
  cane.cane.e_l_mpa = 12000.0;
  cane.cane.gradient_per_mm = 0.2;
  cane.left_right = 0.05;
  cane.state = MoistureState::wet;
  for (Eigen::Index k = 0; k < 6; ++k) cane.covariance(k, k) = square(0.02);
  cane.covariance(4, 4) = square(0.05);
  cane.covariance(0, 4) = cane.covariance(4, 0) = with_gradient;
  return cane;
}

TEST(MeasuredCaneTest, AReedIsBentWithWhatWasFoundAndItsCovariance) {
  const MeasuredCane found = measured(-5e-4);
  const CaneState state = cane_in(found);
  EXPECT_EQ(state.cane.e_l_mpa, 12000.0);
  EXPECT_EQ(state.left_right, 0.05);
  EXPECT_EQ(covariance_of(state), found.covariance);
  EXPECT_EQ(state.source.id, "cane.measured");
  EXPECT_EQ(state.spread.between_reeds_rel, cane_in(MoistureState::wet).spread.between_reeds_rel);
}

TEST(MeasuredCaneTest, AssumedCaneHasTheSquaresOfItsSpread) {
  const CaneState assumed = cane_in(MoistureState::dry);
  const auto covariance = covariance_of(assumed);
  EXPECT_TRUE(covariance.isDiagonal());
  EXPECT_NEAR(covariance(0, 0), square(0.35), 1e-15);
  EXPECT_NEAR(covariance(5, 5), square(0.05), 1e-15);
}

// By drawing: at that depth the modulus scatters least, by so much, and does not follow the gradient.
TEST(MeasuredCaneTest, TheBestKnownModulusIsTheOneThatScattersLeast) {
  const MeasuredCane found = measured(-8e-4);
  const BestKnownModulus best = best_known_modulus(found);
  std::mt19937_64 random(7);
  std::normal_distribution<double> normal;
  const double root = std::sqrt(square(0.02) - square(8e-4) / square(0.05));
  const auto scatter_at = [&](double depth_mm) {
    double sum = 0.0, squares = 0.0;
    constexpr int draws = 20000;
    for (int k = 0; k < draws; ++k) {
      const double z = normal(random), gradient = 0.05 * z, modulus = -8e-4 / 0.05 * z + root * normal(random);
      const double at = modulus - gradient * (depth_mm - kGradientDepth_mm);
      sum += at, squares += at * at;
    }
    return std::sqrt(squares / draws - square(sum / draws));
  };
  EXPECT_NEAR(best.depth_mm, kGradientDepth_mm - 0.32, 1e-9);
  EXPECT_NEAR(best.u_rel, scatter_at(best.depth_mm), 0.03 * best.u_rel);
  EXPECT_GT(scatter_at(best.depth_mm - 0.3), best.u_rel);
  EXPECT_GT(scatter_at(best.depth_mm + 0.3), best.u_rel);
  EXPECT_NEAR(best.e_l_mpa, 12000.0 * std::exp(0.2 * 0.32), 1e-6);
}

TEST(MeasuredCaneTest, WithoutAnyDoubtOfTheGradientItIsTheModulusItself) {
  MeasuredCane found = measured(0.0);
  found.covariance(4, 4) = 0.0;
  EXPECT_EQ(best_known_modulus(found).depth_mm, kGradientDepth_mm);
  EXPECT_EQ(best_known_modulus(found).e_l_mpa, 12000.0);
}

}  // namespace
}  // namespace canewise
