// Height parameters of ISO 25178-2 on surfaces whose parameters are known in closed form from the standard's defining
// integrals: Sa = mean |z|, Sq^2 = mean z^2, Ssk = mean z^3/Sq^3, Sku = mean z^4/Sq^4, Sp = max z, Sv = -min z,
// Sz = Sp + Sv, with z measured from the mean.
#include <gtest/gtest.h>

#include <Eigen/Core>
#include <cmath>
#include <limits>
#include <numbers>
#include <random>

#include "scanproc/thickness/texture.h"

namespace canewise {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kA = 3.7e-3;     // Amplitude a: 3.7 um in millimetres.
constexpr Eigen::Index kN = 800;  // Samples a period: divisible by 4, so that crests, troughs and zeros are sampled.

// Means of powers of a sampled sine over whole periods are exact (the discrete Fourier sums vanish), so Sq, Ssk, Sku
// and the extremes carry rounding alone (640000 terms at 1e-16); |z| has a kink, and its mean carries the trapezoidal
// rule's h^2/12.
constexpr double kRounding = 1e-10;
constexpr double kKink = (2.0 * kPi / kN) * (2.0 * kPi / kN) / 6.0;

struct Expected {
  double sa, sq, ssk, sku, sz;  // sa, sq, sz in units of a.
};

void expect_parameters(const ArealParameters& p, const Expected& e, double sa_tolerance) {
  EXPECT_NEAR(p.sa / kA, e.sa, sa_tolerance);
  EXPECT_NEAR(p.sq / kA, e.sq, kRounding);
  EXPECT_NEAR(p.ssk, e.ssk, kRounding);
  EXPECT_NEAR(p.sku, e.sku, kRounding);
  EXPECT_NEAR(p.sz / kA, e.sz, kRounding);
}

template <typename Height>
Eigen::ArrayXXd sample(const Height& height) {
  Eigen::ArrayXXd z(kN, kN);
  const double step = 2.0 * kPi / static_cast<double>(kN);
  for (Eigen::Index c = 0; c < kN; ++c) {
    for (Eigen::Index r = 0; r < kN; ++r)
      z(r, c) = height(step * static_cast<double>(r), step * static_cast<double>(c));
  }
  return z;
}

Eigen::ArrayXXd wave() {
  return sample([](double x, double) { return kA * std::cos(x); });
}

TEST(ArealParameters, OfAWaveInOneDirection) {
  const ArealParameters p = areal_parameters(wave());
  expect_parameters(p, {2.0 / kPi, std::numbers::sqrt2 / 2.0, 0.0, 1.5, 2.0}, kKink);  // ISO 25178-2, integrals.
  EXPECT_NEAR(p.sa / kA, 0.636620, 2e-5);
}

TEST(ArealParameters, OfAProductOfTwoWaves) {
  const ArealParameters p = areal_parameters(sample([](double x, double y) { return kA * std::cos(x) * std::cos(y); }));
  expect_parameters(p, {4.0 / (kPi * kPi), 0.5, 0.0, 2.25, 2.0}, kKink);  // ISO 25178-2, integrals.
  EXPECT_NEAR(p.sa / kA, 0.405285, 2e-5);
}

TEST(ArealParameters, OfASumOfTwoWaves) {
  const ArealParameters p =
      areal_parameters(sample([](double x, double y) { return kA * (std::cos(x) + std::cos(y)); }));
  expect_parameters(p, {8.0 / (kPi * kPi), 1.0, 0.0, 2.25, 4.0}, 2.0 * kKink);  // ISO 25178-2, integrals.
  EXPECT_NEAR(p.sa / kA, 0.810569, 4e-5);
}

TEST(ArealParameters, OfASquareWave) {
  const ArealParameters p = areal_parameters(sample([](double x, double) { return x < kPi - 1e-9 ? kA : -kA; }));
  expect_parameters(p, {1.0, 1.0, 0.0, 1.0, 2.0}, kRounding);  // ISO 25178-2, integrals.
}

TEST(ArealParameters, OfNarrowGroovesAreSkewedDownwards) {
  // A share q of the area lies a below the rest, two-valued as a Bernoulli variable: Sq = a sqrt(q (1-q)),
  // Ssk = -(1-2q)/sqrt(q (1-q)), Sku = (1 - 3q (1-q))/(q (1-q)), Sa = 2 a q (1-q), Sp = a q, Sv = a (1-q).
  constexpr double q = 0.25;
  const ArealParameters p =
      areal_parameters(sample([](double x, double) { return x < 0.5 * kPi - 1e-9 ? 1.0 - kA : 1.0; }));
  // The surface lies 1 mm up, so that its mean costs digits: 640000 terms at 1e-16 of 1 mm, in units of a.
  constexpr double rounding = 1e-8;
  EXPECT_NEAR(p.sa / kA, 2.0 * q * (1.0 - q), rounding);
  EXPECT_NEAR(p.sq / kA, std::sqrt(q * (1.0 - q)), rounding);
  EXPECT_NEAR(p.ssk, -(1.0 - 2.0 * q) / std::sqrt(q * (1.0 - q)), rounding);
  EXPECT_NEAR(p.sku, (1.0 - 3.0 * q * (1.0 - q)) / (q * (1.0 - q)), rounding);
  EXPECT_NEAR(p.sp / kA, q, rounding);
  EXPECT_NEAR(p.sv / kA, 1.0 - q, rounding);
}

TEST(ArealParameters, OfGaussianNoise) {
  std::mt19937_64 random(25178);
  std::normal_distribution<double> normal(0.0, kA);
  Eigen::ArrayXXd z(1000, 1000);
  for (auto& value : z.reshaped()) value = normal(random);
  const ArealParameters p = areal_parameters(z);
  // ISO 25178-2, integrals over the normal law. Five standard deviations of each sample value at n = 1e6: |z| has
  // variance (1 - 2/pi) a^2; Sq a^2/(2n); Ssk 6/n; Sku 24/n.
  constexpr double root_n = 1000.0;
  EXPECT_NEAR(p.sa / kA, 0.797885, 5.0 * std::sqrt(1.0 - 2.0 / kPi) / root_n);
  EXPECT_NEAR(p.sq / kA, 1.0, 5.0 * std::sqrt(0.5) / root_n);
  EXPECT_NEAR(p.ssk, 0.0, 5.0 * std::sqrt(6.0) / root_n);
  EXPECT_NEAR(p.sku, 3.0, 5.0 * std::sqrt(24.0) / root_n);
}

TEST(ArealParameters, AreMeasuredFromTheMean) {
  const ArealParameters low = areal_parameters(wave()), high = areal_parameters(wave() + 2.5);
  // 2.5 mm up costs 4e-16 of 1 mm a term, 640000 terms, in units of a: at worst 1e-8.
  EXPECT_NEAR(high.sa, low.sa, 1e-8 * kA);
  EXPECT_NEAR(high.sq, low.sq, 1e-8 * kA);
  EXPECT_NEAR(high.sku, low.sku, 1e-8);
  EXPECT_NEAR(high.sz, low.sz, 1e-8 * kA);
}

TEST(ArealParameters, LeaveMissingCellsOut) {
  // Every second period is missing: what is left is the same wave.
  Eigen::ArrayXXd z = wave();
  z.rightCols(kN / 2).setConstant(std::numeric_limits<double>::quiet_NaN());
  expect_parameters(areal_parameters(z), {2.0 / kPi, std::numbers::sqrt2 / 2.0, 0.0, 1.5, 2.0}, kKink);
}

}  // namespace
}  // namespace canewise
