// Cane and rail: nothing apart, force without a jump, and the one state in which body and rail agree.
#include "scanproc/mechanics/rail_contact.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace canewise {
namespace {

constexpr RailContact kLaw{.give_n_per_mm2 = 400.0, .roughness_mm = 0.002};

TEST(RailContact, ApartThereIsNothingAtAll) {
  for (const double depth : {-1.0, -1e-9, 0.0}) {
    const RailContact::Answer answer = kLaw.at(depth);
    EXPECT_EQ(answer.force, 0.0);
    EXPECT_EQ(answer.stiffness, 0.0);
    EXPECT_EQ(answer.work, 0.0);
  }
}

// Two roughnesses deep all tops are pressed down: from there on a straight line that begins one roughness deep.
TEST(RailContact, PressedDeepItIsTheCanesGiveBehindTheTops) {
  EXPECT_NEAR(kLaw.at(0.010).force, 400.0 * (0.010 - 0.002), 1e-12);
  EXPECT_NEAR(kLaw.at(0.004).force, 400.0 * 0.002, 1e-12);
  EXPECT_NEAR(kLaw.at(0.002).force, 400.0 * 0.002 / 4.0, 1e-12) << "half way down a quarter";
}

TEST(RailContact, EachDerivativeIsThatOfTheOneBefore) {
  constexpr double step = 1e-7;
  for (const double depth : {0.0005, 0.0017, 0.0033, 0.0052, 0.02}) {
    const auto now = kLaw.at(depth), more = kLaw.at(depth + step), less = kLaw.at(depth - step);
    EXPECT_NEAR((more.work - less.work) / (2.0 * step), now.force, 1e-6) << depth;
    EXPECT_NEAR((more.force - less.force) / (2.0 * step), now.stiffness, 1e-5) << depth;
    EXPECT_NEAR((more.stiffness - less.stiffness) / (2.0 * step), now.change, 1e-4 * 400.0 / 0.004) << depth;
  }
  EXPECT_NEAR(kLaw.at(0.004 + 1e-12).work, kLaw.at(0.004 - 1e-12).work, 1e-11) << "no step in the work";
}

TEST(RailContact, SamplesBetweenPlacesFollowEveryCubic) {
  const Eigen::MatrixXd weights = row_interpolation(9, 4);
  ASSERT_EQ(weights.rows(), 36);
  const auto cubic = [](double x) { return 0.3 - 0.7 * x + 0.2 * x * x - 0.05 * x * x * x; };
  const Eigen::VectorXd places = Eigen::VectorXd::LinSpaced(9, 0.0, 8.0).unaryExpr(cubic);
  for (Eigen::Index q = 0; q < 36; ++q) {
    EXPECT_NEAR(weights.row(q).sum(), 1.0, 1e-12);
    EXPECT_NEAR(weights.row(q).dot(places), cubic((static_cast<double>(q) + 0.5) / 4.0 - 0.5), 1e-12) << q;
  }
}

/// Ten places that hang on springs of their own and on each other.
ContactRow some_row() {
  ContactRow row;
  row.compliance.resize(10, 10);
  for (Eigen::Index i = 0; i < 10; ++i)
    for (Eigen::Index j = 0; j < 10; ++j)
      row.compliance(i, j) = 0.02 * std::exp(-0.3 * std::abs(static_cast<double>(i - j)));
  row.interpolation = row_interpolation(10, 4).sparseView();
  row.length_mm = Eigen::VectorXd::Constant(40, 0.2);
  row.law = kLaw;
  return row;
}

TEST(Press, BodyAndRailAgreeOnTheForces) {
  const ContactRow row = some_row();
  std::mt19937_64 random(4);
  std::normal_distribution<double> normal(0.0, 0.05);
  for (int draw = 0; draw < 200; ++draw) {
    const Eigen::VectorXd free = Eigen::VectorXd::NullaryExpr(10, [&] { return normal(random); });
    const Eigen::VectorXd gap = Eigen::VectorXd::NullaryExpr(40, [&] { return 0.3 * std::abs(normal(random)); });
    const Pressed pressed = press(row, free, gap);
    const Eigen::VectorXd depth = row.interpolation * (free - row.compliance * pressed.force_n) - gap;
    EXPECT_LT((depth - pressed.depth_mm).cwiseAbs().maxCoeff(), 1e-9);
    for (Eigen::Index q = 0; q < 40; ++q) {
      EXPECT_NEAR(pressed.sample_force_n(q), 0.2 * kLaw.at(depth(q)).force, 1e-7);
      EXPECT_GE(pressed.sample_force_n(q), 0.0) << "nothing sticks";
    }
    // However it begins, it ends there.
    const Pressed again = press(row, free, gap, Eigen::VectorXd::Constant(10, 3.0));
    EXPECT_LT((again.force_n - pressed.force_n).cwiseAbs().maxCoeff(), 1e-7);
  }
}

TEST(Press, ABodyThatReachesNothingCarriesNothing) {
  const Pressed pressed = press(some_row(), Eigen::VectorXd::Constant(10, 0.1), Eigen::VectorXd::Constant(40, 0.11));
  EXPECT_EQ(pressed.force_n.cwiseAbs().maxCoeff(), 0.0);
  EXPECT_EQ(pressed.stiffness_n_per_mm.cwiseAbs().maxCoeff(), 0.0);
}

TEST(Press, TheStiffnessIsHowTheForcesFollowTheDeflection) {
  const ContactRow row = some_row();
  const Eigen::VectorXd free = Eigen::VectorXd::LinSpaced(10, 0.02, 0.09), gap = Eigen::VectorXd::Constant(40, 0.03),
                        shape = Eigen::VectorXd::LinSpaced(10, -0.7, 1.0);
  const Pressed now = press(row, free, gap);
  constexpr double step = 1e-7;
  const Eigen::VectorXd by =
      (press(row, free + step * shape, gap).force_n - press(row, free - step * shape, gap).force_n) / (2.0 * step);
  // dr = K (shape - C dr).
  EXPECT_LT((by - now.stiffness_n_per_mm * (shape - row.compliance * by)).cwiseAbs().maxCoeff(),
            1e-4 * by.cwiseAbs().maxCoeff());
}

}  // namespace
}  // namespace canewise
