#include "scanproc/bendtest/identify_cane.h"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <random>

namespace canewise {
namespace {

constexpr double kEdge_mm = 28.0, kAt_mm = 5.0, kHalf_mm = 5.0, kForce_n = 0.5;

/// A straight strip of this thickness, in which nothing is in doubt.
Result strip(const std::function<double(double)>& thickness_mm) {
  Result reed;
  reed.outline.left.offset_mm = -kHalf_mm, reed.outline.right.offset_mm = kHalf_mm;
  reed.outline.length_mm = 60.0;
  reed.outline.tip_arc_radius_mm = 1000.0;
  reed.outline.tip_edge_first_y_mm = -kHalf_mm;
  reed.outline.tip_edge_mm.assign(41, 0.0);
  reed.map.grid = {0.25, 240, 40};
  reed.map.thickness_mm.resize(240, 40);
  for (Eigen::Index r = 0; r < 240; ++r)
    reed.map.thickness_mm.row(r).setConstant(static_cast<float>(thickness_mm(reed.map.grid.x_mm(r))));
  reed.map.u_mm = Field::Constant(240, 40, 1e-4F);
  reed.map.noise.covariance_sum_mm2 = 1e-8;
  Priors& p = reed.rig.priors;
  for (const PriorKey& key : kPriorKeys) p.*key.member = 0.0;
  reed.assessment.cut.vamp_length_mm.value = 33.0;
  reed.assessment.cut.bark.height_mm.value = reed.assessment.cut.bark.radius_mm.value = std::nan("");
  return reed;
}

/// Euler and Bernoulli's cantilever of this thickness, held at the edge, by two sums along it: w'' = M / E I.
double beam_mm(const std::function<double(double)>& thickness_mm, double e_mpa, double x_mm) {
  constexpr double step = 0.01;
  double turn = 0.0, down = 0.0;
  for (double x = kEdge_mm - 0.5 * step; x > x_mm; x -= step) {
    const double h = thickness_mm(x), i = 2.0 * kHalf_mm * h * h * h / 12.0;
    turn += step * (x > kAt_mm ? kForce_n * (x - kAt_mm) / (e_mpa * i) : 0.0);
    down += step * turn;
  }
  return down;
}

IdentifiedCane identify(const Result& reed, const std::function<double(double, double)>& down_mm,
                        double noise_mm = 1e-4, Deflection d = {}) {
  d.grid = reed.map.grid;
  d.down_mm.resize(d.grid.rows, d.grid.columns);
  d.u_mm = Field::Constant(d.grid.rows, d.grid.columns, static_cast<float>(noise_mm));
  std::mt19937_64 random(1);
  std::normal_distribution<double> normal(0.0, noise_mm);
  for (Eigen::Index c = 0; c < d.grid.columns; ++c)
    for (Eigen::Index r = 0; r < d.grid.rows; ++r)
      d.down_mm(r, c) = static_cast<float>(down_mm(d.grid.x_mm(r), d.grid.y_mm(c)) + normal(random));
  d.laid.diagonal() << 1e-8, 1e-12, 1e-12;
  d.same_place = true;
  // A beam does not dish and does not twist: what it says of those parts is nothing.
  CaneState prior = cane_in(MoistureState::dry);
  prior.spread.e_t_rel = prior.spread.g_lt_rel = 0.03;
  const std::vector<HungWeight> weights{{LoadSide::centre, {kAt_mm, 0.05}, kForce_n, d}};
  return identify_cane({.reed = reed,
                        .weights = weights,
                        .edge_mm = kEdge_mm,
                        .clamp_mm = kEdge_mm,
                        .prior = prior,
                        .u_force_rel = 0.002,
                        .u_x_mm = 0.01,
                        .u_y_mm = 0.01});
}

// Timoshenko and Gere's cantilever (an even one: F (L - a)^2 / 2 E I at its loaded end, and so on; any text on beams).
TEST(IdentifyCane, AnEvenCantileverHasTheBeamsModulus) {
  const auto even = [](double) { return 0.9; };
  const double arm = kEdge_mm - kAt_mm, i = 2.0 * kHalf_mm * 0.9 * 0.9 * 0.9 / 12.0;
  EXPECT_NEAR(beam_mm(even, 8000.0, kAt_mm), kForce_n * arm * arm * arm / (3.0 * 8000.0 * i), 5e-4);
  for (const double e_mpa : {6000.0, 14000.0}) {
    const IdentifiedCane found = identify(strip(even), [&](double x, double) { return beam_mm(even, e_mpa, x); });
    EXPECT_NEAR(found.cane.e_l_mpa / e_mpa, 1.0, 0.02) << "a plate dishes where a beam does not";
    EXPECT_NEAR(found.left_right, 0.0, 0.01);
    EXPECT_LT(std::abs(found.computed.front().rms_left_mm), 0.01 * found.computed.front().largest_mm);
  }
}

TEST(IdentifyCane, ATaperedCantileverToo) {
  const auto wedge = [](double x) { return 0.25 + 0.045 * x; };
  const IdentifiedCane found = identify(strip(wedge), [&](double x, double) { return beam_mm(wedge, 12000.0, x); });
  EXPECT_NEAR(found.cane.e_l_mpa / 12000.0, 1.0, 0.05) << "its thin end dishes";
}

// What one slow bending along the fibre cannot tell keeps the spread of its assumption.
TEST(IdentifyCane, WhatTheDataDoNotTellStaysAtItsPrior) {
  const auto even = [](double) { return 0.9; };
  const IdentifiedCane found = identify(strip(even), [&](double x, double) { return beam_mm(even, 8000.0, x); });
  const CaneState prior = cane_in(MoistureState::dry);
  const auto u = [&](CanePart part) {
    const auto k = static_cast<Eigen::Index>(part);
    return std::sqrt(found.covariance(k, k));
  };
  EXPECT_NEAR(u(CanePart::density), prior.spread.density_rel, 1e-12);
  EXPECT_NEAR(u(CanePart::gradient), prior.spread.gradient_per_mm, 1e-3) << "nobody knows where the bark is";
  EXPECT_NEAR(found.cane.gradient_per_mm, prior.cane.gradient_per_mm, 1e-3);
  EXPECT_LT(u(CanePart::e_l), 0.03);
}

TEST(IdentifyCane, NoiseMakesItLessSure) {
  const auto even = [](double) { return 0.9; };
  const auto bent = [&](double x, double) { return beam_mm(even, 8000.0, x); };
  const auto k = static_cast<Eigen::Index>(CanePart::e_l);
  const double quiet = identify(strip(even), bent, 1e-4).covariance(k, k),
               loud = identify(strip(even), bent, 0.2).covariance(k, k);
  EXPECT_GT(loud, 1.5 * quiet);
}

// The whole vamp turns about the edge: that is the clamp's doing.
TEST(IdentifyCane, ATurnInTheClampIsNotTakenForSofterCane) {
  const auto even = [](double) { return 0.9; };
  const IdentifiedCane held = identify(strip(even), [&](double x, double) { return beam_mm(even, 8000.0, x); });
  const IdentifiedCane turned =
      identify(strip(even), [&](double x, double) { return beam_mm(even, 8000.0, x) + 1e-3 * (kEdge_mm - x); });
  EXPECT_NEAR(turned.cane.e_l_mpa / held.cane.e_l_mpa, 1.0, 0.01);
  EXPECT_NEAR(turned.turned_in_clamp_rad - held.turned_in_clamp_rad, 1e-3, 5e-4)
      << "a part of it may be the edge's place";
}

// One scan lies 0.05 mm aside of the other. On a bark of 12.5 mm that rolls the stock by 4 mrad, four times what a
// clamp lets go.
TEST(IdentifyCane, WhatASlideMakesOfTheStockIsNotTakenForTheCanesSides) {
  const auto even = [](double) { return 0.9; };
  const double slid_mm = 0.05, by_slide = -1.0 / 12.5;
  Deflection aside;
  aside.u_across_mm = 0.05;
  aside.by_slide_across = Eigen::Vector3d(0.0, 0.0, by_slide);
  const auto rolled = [&](double x, double y) { return beam_mm(even, 8000.0, x) - slid_mm * by_slide * y; };
  EXPECT_NEAR(identify(strip(even), rolled, 1e-4, aside).left_right, 0.0, 0.005);
}

}  // namespace
}  // namespace canewise
