// What a quadratic fitted to a window takes from the noise, worked out here from the whole matrix of a window: the
// residuals' covariance is M C M with M = I - Q Q' (as for any least-squares fit; Searle, Linear Models, 1971).
#include "scanproc/thickness/window_lags.h"

#include <gtest/gtest.h>

#include <Eigen/QR>
#include <cmath>
#include <cstdlib>
#include <functional>
#include <random>
#include <vector>

namespace canewise {
namespace {

using Index = Eigen::Index;
constexpr Index kN = WindowLags::kWindow, kMax = WindowLags::kMax;
constexpr double kWindows = 200.0;

using Covariance = std::function<double(Index along, Index across)>;
/// Of the bins of one window: holds it points?
using Filled = std::vector<bool>;

Filled all_filled() { return Filled(static_cast<std::size_t>(kN * kN), true); }
Filled with_gaps(double share) {
  std::mt19937_64 random(5);
  std::bernoulli_distribution gap(share);
  Filled filled = all_filled();
  for (std::size_t i = 0; i < filled.size(); ++i) filled[i] = !gap(random);
  return filled;
}

/// What many windows with such noise show in the mean.
ResidualLags shown(const Covariance& covariance, const Filled& filled) {
  std::vector<std::pair<Index, Index>> places;
  for (Index i = 0; i < kN * kN; ++i)
    if (filled[static_cast<std::size_t>(i)]) places.emplace_back(i / kN, i % kN);
  const auto n = static_cast<Index>(places.size());
  Eigen::MatrixXd basis(n, 6), c(n, n);
  for (Index i = 0; i < n; ++i) {
    const auto [ri, ci] = places[static_cast<std::size_t>(i)];
    const double u = static_cast<double>(ri) / kN, v = static_cast<double>(ci) / kN;
    basis.row(i) << 1.0, u, v, u * u, u * v, v * v;
    for (Index j = 0; j < n; ++j) {
      const auto [rj, cj] = places[static_cast<std::size_t>(j)];
      c(i, j) = rj > ri || (rj == ri && cj >= ci) ? covariance(rj - ri, cj - ci) : covariance(ri - rj, ci - cj);
    }
  }
  const Eigen::MatrixXd q =
      Eigen::HouseholderQR<Eigen::MatrixXd>(basis).householderQ() * Eigen::MatrixXd::Identity(n, 6);
  const Eigen::MatrixXd qq = q * q.transpose(), m = Eigen::MatrixXd::Identity(n, n) - qq, left = m * c * m;
  ResidualLags lags;
  for (Index i = 0; i < n; ++i) {
    for (Index j = 0; j < n; ++j) {
      const auto [ri, ci] = places[static_cast<std::size_t>(i)];
      const auto [rj, cj] = places[static_cast<std::size_t>(j)];
      const Index along = rj - ri, across = cj - ci + kMax;
      if (along < 0 || along > kMax || across < 0 || across > 2 * kMax) continue;
      lags.products(along, across) += left(i, j);
      lags.leverage(along, across) += qq(i, j);
      lags.pairs(along, across) += 1.0;
    }
  }
  lags.products /= lags.pairs.max(1.0);
  lags.leverage /= lags.pairs.max(1.0);
  lags.pairs *= kWindows;
  for (Index along = 0; along <= kMax; ++along) {
    for (Index across = -kMax; across <= kMax; ++across)
      lags.possible(along, across + kMax) = kWindows * static_cast<double>((kN - along) * (kN - std::abs(across)));
  }
  return lags;
}

/// Largest difference from what the noise was made with, over the lags of one half plane.
double largest_error(const Eigen::ArrayXXd& found, const Covariance& truth) {
  double largest = 0.0;
  for (Index along = 0; along <= kMax; ++along) {
    for (Index across = along == 0 ? 0 : -kMax; across <= kMax; ++across)
      largest = std::max(largest, std::abs(found(along, across + kMax) - truth(along, across)));
  }
  return largest;
}

double white(Index along, Index across) { return along == 0 && across == 0 ? 1.0 : 0.0; }
/// Alike to two bins along and one across, more along one diagonal than along the other.
double short_fibre(Index along, Index across) {
  if (std::abs(along) > 2 || std::abs(across) > 2) return 0.0;
  return std::pow(0.5, std::abs(along)) * std::pow(0.3, std::abs(across)) * (along * across > 0 ? 1.2 : 1.0);
}

TEST(WindowLags, AQuadraticTakesSixOfFourHundredFromWhiteNoise) {
  const ResidualLags lags = shown(white, all_filled());
  EXPECT_NEAR(lags.products(0, kMax), 1.0 - 6.0 / 400.0, 1e-12);
  EXPECT_LT(largest_error(covariance_from_residuals(lags), white), 2e-6);
}

TEST(WindowLags, CorrelationIsFoundAsItWasBeforeTheFit) {
  const ResidualLags lags = shown(short_fibre, all_filled());
  EXPECT_GT(std::abs(lags.products(1, kMax) - short_fibre(1, 0)), 0.02) << "the fit has taken some of it";
  EXPECT_LT(largest_error(covariance_from_residuals(lags), short_fibre), 1e-5);
}

TEST(WindowLags, GapsCostAPercent) {
  for (const double share : {0.1, 0.3}) {
    const ResidualLags lags = shown(short_fibre, with_gaps(share));
    EXPECT_NEAR(lags.filled_share(), 1.0 - share, 0.05);
    EXPECT_LT(largest_error(covariance_from_residuals(lags), short_fibre), 0.02) << share;
  }
}

TEST(WindowLags, WhatIsAlikeFarAcrossIsSlowErrorAndLeftOut) {
  constexpr double slow = 0.3;
  const auto with_slow = [](Index along, Index across) {
    const bool is_seen = std::abs(along) <= kMax && std::abs(across) <= WindowLags::kMaxAcross;
    return white(along, across) + (is_seen ? slow : 0.0);
  };
  EXPECT_LT(largest_error(covariance_from_residuals(shown(with_slow, all_filled())), white), 1e-5);
}

TEST(WindowLags, FewWindowsAddNoScatterOfLagsThatShowNothing) {
  // What one window of white noise shows by chance at its lags is not correlation.
  ResidualLags lags = shown(white, all_filled());
  lags.pairs /= kWindows, lags.possible /= kWindows;
  std::mt19937_64 random(3);
  std::normal_distribution<double> normal;
  for (Index along = 0; along <= kMax; ++along) {
    for (Index across = 0; across <= 2 * kMax; ++across)
      if (along > 0 || across > kMax)
        lags.products(along, across) += normal(random) / std::sqrt(lags.pairs(along, across));
  }
  const Eigen::ArrayXXd found = covariance_from_residuals(lags);
  EXPECT_EQ((found != 0.0).count(), 1);
}

}  // namespace
}  // namespace canewise
