// The Gaussian filter against ISO 16610-21 (profiles) and ISO 16610-61 (areal, linear, planar).
#include <gtest/gtest.h>

#include <Eigen/Core>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <random>

#include "scanproc/thickness/texture.h"

namespace canewise {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kNesting = 0.8;
constexpr double kMissing = std::numeric_limits<double>::quiet_NaN();

struct Passed {
  double wavelength;    // In nesting indices.
  double transmission;  // Amplitude share that the mean surface keeps.
  double last_digit;    // Half a unit of the last digit.
};
// ISO 16610-21 and -61: exp(-pi (alpha L/l)^2), computed to six digits.
constexpr std::array<Passed, 8> kTransmissions{{{0.3, 0.000452, 5e-7},
                                                {0.5, 0.0625, 1e-12},
                                                {1.0, 0.5, 1e-12},
                                                {1.5, 0.734867, 5e-7},
                                                {2.0, 0.840896, 5e-7},
                                                {3.0, 0.925875, 5e-7},
                                                {5.0, 0.972655, 5e-7},
                                                {10.0, 0.993092, 5e-7}}};

TEST(GaussianFilter, AlphaIsTheStandards) {
  EXPECT_NEAR(kGaussianAlpha, 0.469718639, 5e-10);  // ISO 16610-21 and -61: sqrt(ln 2/pi) = 0.4697.
  EXPECT_NEAR(kGaussianAlpha, std::sqrt(std::numbers::ln2 / kPi), 1e-16);
}

TEST(GaussianFilter, WeightIsTheStandards) {
  // ISO 16610-21: s(x) = exp(-pi (x/(alpha L))^2)/(alpha L). With alpha^2 = ln 2/pi,
  // s(x)/s(0) = exp(-(pi^2/ln 2) (x/L)^2).
  const double top = 1.0 / (0.46971863934982566 * kNesting);
  EXPECT_NEAR(gaussian_weight(0.0, kNesting), top, 1e-14);
  for (const double share : {0.1, 0.25, 0.5, 1.0}) {
    const double expected = top * std::exp(-kPi * kPi / std::numbers::ln2 * share * share);
    EXPECT_NEAR(gaussian_weight(share * kNesting, kNesting), expected, 1e-13 * top);
    EXPECT_EQ(gaussian_weight(-share * kNesting, kNesting), gaussian_weight(share * kNesting, kNesting));
  }
}

/// Area of the weight function within +-reach, Simpson's rule with 2000 panels (error below 1e-12).
double area_within(double reach) {
  constexpr int panels = 2000;
  const double h = 2.0 * reach / panels;
  double sum = gaussian_weight(-reach, kNesting) + gaussian_weight(reach, kNesting);
  for (int i = 1; i < panels; ++i) sum += (i % 2 == 1 ? 4.0 : 2.0) * gaussian_weight(-reach + i * h, kNesting);
  return sum * h / 3.0;
}

TEST(GaussianFilter, TruncatedKernelKeepsTheKnownArea) {
  // Computed: erf(sqrt(pi) c/alpha) for a cut at +-c L. ISO 16610-21 integrates to 1 without a cut.
  EXPECT_NEAR(area_within(0.5 * kNesting), 0.992375, 5e-7);
  EXPECT_NEAR(area_within(0.6 * kNesting), 0.998635, 5e-7);
  EXPECT_NEAR(area_within(1.0 * kNesting), 0.9999999, 5e-8);
  EXPECT_NEAR(area_within(3.0 * kNesting), 1.0, 1e-12);
}

TEST(GaussianFilter, TransmissionIsTheStandards) {
  for (const Passed& passed : kTransmissions) {
    EXPECT_NEAR(gaussian_transmission(passed.wavelength * kNesting, kNesting), passed.transmission, passed.last_digit)
        << passed.wavelength;
  }
}

/// Filters a wave across a 4.4 x 4 mm surface, `direction` from the rows' axis, and returns the amplitude that is left
/// where the kernel does not reach an edge: projection on sine and cosine by least squares.
double measured_transmission(double wavelength, double direction, double step_x, double step_y) {
  const auto rows = static_cast<Eigen::Index>(std::lround(4.4 / step_x));
  const auto columns = static_cast<Eigen::Index>(std::lround(4.0 / step_y));
  const auto phase = [&](Eigen::Index r, Eigen::Index c) {
    return 2.0 * kPi / wavelength *
           (std::cos(direction) * step_x * static_cast<double>(r) +
            std::sin(direction) * step_y * static_cast<double>(c));
  };
  Eigen::ArrayXXd z(rows, columns);
  for (Eigen::Index c = 0; c < columns; ++c) {
    for (Eigen::Index r = 0; r < rows; ++r) z(r, c) = std::sin(phase(r, c));
  }
  const Eigen::ArrayXXd filtered = gaussian_filter(z, step_x, step_y, kNesting);
  // The reach of the kernel is one nesting index; one cell more for its rounding up.
  const auto edge_r = static_cast<Eigen::Index>(kNesting / step_x) + 2;
  const auto edge_c = static_cast<Eigen::Index>(kNesting / step_y) + 2;
  double ss = 0, sc = 0, cc = 0, zs = 0, zc = 0;
  for (Eigen::Index c = edge_c; c < columns - edge_c; ++c) {
    for (Eigen::Index r = edge_r; r < rows - edge_r; ++r) {
      const double s = std::sin(phase(r, c)), k = std::cos(phase(r, c));
      ss += s * s, sc += s * k, cc += k * k, zs += filtered(r, c) * s, zc += filtered(r, c) * k;
    }
  }
  const double determinant = ss * cc - sc * sc;
  const double in_phase = (zs * cc - zc * sc) / determinant, quadrature = (zc * ss - zs * sc) / determinant;
  EXPECT_NEAR(quadrature, 0.0, 1e-9);  // A symmetric kernel shifts nothing.
  return in_phase;
}

TEST(GaussianFilter, HalfOfAWaveAtTheCutOffPasses) {
  // ISO 16610-21 and -61: 50 % at l = L, whatever the direction. 0.2 % as for a filter cut at one nesting index; it
  // measures far better, because the cut takes 1e-7 of the area and 0.04 mm is 20 samples a wave.
  for (const double direction : {0.0, 0.3 * kPi, 0.5 * kPi}) {
    EXPECT_NEAR(measured_transmission(kNesting, direction, 0.04, 0.04), 0.5, 0.002 * 0.5) << direction;
  }
}

TEST(GaussianFilter, HalfPassesOnCellsThatAreNotSquare) {
  EXPECT_NEAR(measured_transmission(kNesting, 0.0, 0.08, 0.04), 0.5, 0.002 * 0.5);
  EXPECT_NEAR(measured_transmission(kNesting, 0.5 * kPi, 0.08, 0.04), 0.5, 0.002 * 0.5);
  EXPECT_NEAR(measured_transmission(kNesting, 0.25 * kPi, 0.08, 0.04), 0.5, 0.002 * 0.5);
}

TEST(GaussianFilter, EveryTabulatedWavePassesAsTheStandardSays) {
  for (const Passed& passed : kTransmissions) {
    if (passed.wavelength > 3.0) continue;  // Longer waves do not fit into the surface's interior.
    EXPECT_NEAR(measured_transmission(passed.wavelength * kNesting, 0.0, 0.04, 0.04), passed.transmission, 1e-6)
        << passed.wavelength;
  }
}

TEST(GaussianFilter, AConstantStaysConstantAlsoAtEdgesAndHoles) {
  Eigen::ArrayXXd z = Eigen::ArrayXXd::Constant(60, 45, 0.3);
  z.block(20, 10, 8, 6).setConstant(kMissing);
  z(0, 0) = z(59, 44) = z(31, 0) = kMissing;
  const Eigen::ArrayXXd filtered = gaussian_filter(z, 0.05, 0.05, kNesting);
  ASSERT_FALSE(filtered.isNaN().any());
  EXPECT_LT((filtered - 0.3).abs().maxCoeff(), 1e-14);  // Some thirty roundings of 1e-16.
}

TEST(GaussianFilter, IsTheStandardsWeightedMeanOverTheKnownCells) {
  // ISO 16610-61's weight, alpha^2 L^2 s(x, y) = exp(-(pi/alpha^2)(x^2 + y^2)/L^2), summed cell by cell; missing cells
  // carry no weight, and what is left is renormalised.
  constexpr double step_x = 0.1, step_y = 0.16;
  std::mt19937_64 random(16610);
  std::normal_distribution<double> normal;
  std::bernoulli_distribution missing(0.2);
  Eigen::ArrayXXd z(30, 22);
  for (auto& value : z.reshaped()) value = missing(random) ? kMissing : normal(random);
  ASSERT_TRUE(z.isNaN().any());
  const Eigen::ArrayXXd filtered = gaussian_filter(z, step_x, step_y, kNesting);
  for (Eigen::Index r = 0; r < z.rows(); ++r) {
    for (Eigen::Index c = 0; c < z.cols(); ++c) {
      double sum = 0.0, weights = 0.0;
      for (Eigen::Index i = 0; i < z.rows(); ++i) {
        for (Eigen::Index j = 0; j < z.cols(); ++j) {
          const double x = step_x * static_cast<double>(i - r), y = step_y * static_cast<double>(j - c);
          // The kernel's documented cut: one nesting index to each side.
          if (std::isnan(z(i, j)) || std::abs(x) > kNesting + 1e-9 || std::abs(y) > kNesting + 1e-9) continue;
          const double weight = std::exp(-kPi * kPi / std::numbers::ln2 * (x * x + y * y) / (kNesting * kNesting));
          sum += weight * z(i, j);
          weights += weight;
        }
      }
      ASSERT_NEAR(filtered(r, c), sum / weights, 1e-12) << r << ' ' << c;
    }
  }
}

TEST(GaussianFilter, NothingIsInventedFarFromEveryKnownCell) {
  Eigen::ArrayXXd z = Eigen::ArrayXXd::Constant(80, 80, kMissing);
  z.leftCols(20).setConstant(1.0);
  const Eigen::ArrayXXd filtered = gaussian_filter(z, 0.1, 0.1, kNesting);
  EXPECT_FALSE(filtered.leftCols(20).isNaN().any());
  EXPECT_TRUE(filtered.rightCols(80 - 20 - 8).isNaN().all());  // One nesting index is eight cells.
}

}  // namespace
}  // namespace canewise
