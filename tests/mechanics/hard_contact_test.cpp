#include "tests/support/hard_contact.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

namespace canewise {
namespace {

/// Deflection at x of a cantilever clamped at 0, under 1 N at s: closed form.
double influence(double x, double s, double ei) {
  const double a = std::min(x, s), b = std::max(x, s);
  return a * a * (3.0 * b - a) / (6.0 * ei);
}

// A uniform cantilever pressed on a rigid arc of curvature c peels onto it: it lies on the arc up to where its own
// bending moment makes that curvature, P (L - s) = EI c, and beyond hangs free. Closed form by beam theory.
TEST(HardContact, ABeamPeelsOntoAnArcAsItsClosedFormSays) {
  constexpr double length = 20.0, ei = 50.0, curvature = 0.004, force = 0.025;
  constexpr Eigen::Index count = 80;
  Eigen::MatrixXd compliance(count, count);
  Eigen::VectorXd depth(count);
  const auto at = [&](Eigen::Index k) { return length * static_cast<double>(k + 1) / count; };
  for (Eigen::Index i = 0; i < count; ++i) {
    for (Eigen::Index j = 0; j < count; ++j) compliance(i, j) = influence(at(i), at(j), ei);
    depth(i) = force * influence(at(i), length, ei) - 0.5 * curvature * at(i) * at(i);
  }
  Eigen::Array<bool, Eigen::Dynamic, 1> touching;
  const Eigen::VectorXd found = test::contact_forces(compliance, depth, touching);
  double last = 0.0;
  for (Eigen::Index i = 0; i < count; ++i)
    if (found(i) > 0.0) last = at(i);
  const double rests = length - ei * curvature / force;  // 12 mm
  EXPECT_NEAR(last, rests, 2.0 * length / count);
  const double free = length - rests;
  const double tip =
      0.5 * curvature * rests * rests + curvature * rests * free + force * free * free * free / (3.0 * ei);
  double moved = force * influence(length, length, ei);
  for (Eigen::Index i = 0; i < count; ++i) moved -= found(i) * influence(length, at(i), ei);
  EXPECT_NEAR(moved, tip, 1e-3 * tip);
}

TEST(HardContact, ForcesPushAndNothingSinksIn) {
  std::mt19937_64 random(1);
  std::normal_distribution<double> normal;
  for (int trial = 0; trial < 200; ++trial) {
    const Eigen::Index n = 1 + trial % 30;
    const Eigen::MatrixXd root = Eigen::MatrixXd::NullaryExpr(n, n, [&] { return normal(random); });
    const Eigen::MatrixXd compliance = root * root.transpose() + 1e-3 * Eigen::MatrixXd::Identity(n, n);
    const Eigen::VectorXd depth = Eigen::VectorXd::NullaryExpr(n, [&] { return normal(random); });
    Eigen::Array<bool, Eigen::Dynamic, 1> touching;
    const Eigen::VectorXd force = test::contact_forces(compliance, depth, touching);
    const Eigen::VectorXd gap = compliance * force - depth;
    EXPECT_GE(force.minCoeff(), 0.0);
    EXPECT_GE(gap.minCoeff(), -1e-7);
    EXPECT_NEAR(force.dot(gap), 0.0, 1e-6 * (1.0 + force.norm()));
  }
}

}  // namespace
}  // namespace canewise
