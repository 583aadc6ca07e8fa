#include "scanproc/advise/learning.h"

#include <gtest/gtest.h>

#include <Eigen/Dense>
#include <random>

namespace canewise {
namespace {

// NIST Statistical Reference Datasets, linear regression, 'Longley': 16 years, six figures that hang together so much
// that poor arithmetic fails. Certified coefficients beside it. (Data and values from memory; data that were
// misremembered would not give the certified values to eight digits.)
TEST(Learning, WithoutAPenaltyItIsLeastSquares) {
  Eigen::MatrixXd data(16, 7);
  data << 60323, 83.0, 234289, 2356, 1590, 107608, 1947, 61122, 88.5, 259426, 2325, 1456, 108632, 1948, 60171, 88.2,
      258054, 3682, 1616, 109773, 1949, 61187, 89.5, 284599, 3351, 1650, 110929, 1950, 63221, 96.2, 328975, 2099, 3099,
      112075, 1951, 63639, 98.1, 346999, 1932, 3594, 113270, 1952, 64989, 99.0, 365385, 1870, 3547, 115094, 1953, 63761,
      100.0, 363112, 3578, 3350, 116219, 1954, 66019, 101.2, 397469, 2904, 3048, 117388, 1955, 67857, 104.6, 419180,
      2822, 2857, 118734, 1956, 68169, 108.4, 442769, 2936, 2798, 120445, 1957, 66513, 110.8, 444546, 4681, 2637,
      121950, 1958, 68655, 112.6, 482704, 3813, 2552, 123366, 1959, 69564, 114.2, 502601, 3931, 2514, 125368, 1960,
      69331, 115.7, 518173, 4806, 2572, 127852, 1961, 70551, 116.9, 554894, 4007, 2827, 130081, 1962;
  const Ridge found = ridge(data.rightCols(6), data.col(0), 0.0);
  const Eigen::Matrix<double, 6, 1> certified{15.0618722713733,  -0.0358191792925910, -2.02022980381683,
                                              -1.03322686717359, -0.0511041056535807, 1829.15146461355};
  EXPECT_NEAR(found.constant / -3482258.63459582, 1.0, 1e-8);
  for (Eigen::Index k = 0; k < 6; ++k) EXPECT_NEAR(found.weights(k) / certified(k), 1.0, 1e-7) << k;
}

// Norris: handbook of check values, C11.
TEST(Learning, OneFigureIsAStraightLine) {
  Eigen::VectorXd x(36), y(36);
  x << 0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4, 0.6, 775.5, 666.9, 338.0, 447.5,
      11.6, 556.0, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999.0, 779.0, 11.1, 118.3, 229.2, 669.1,
      448.9, 0.5;
  y << 0.1, 338.8, 118.1, 888.0, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8, 339.3, 448.9,
      10.8, 557.7, 228.3, 998.0, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888.0, 998.5, 778.9, 10.2, 117.6, 228.9, 668.4,
      449.2, 0.2;
  const Ridge found = ridge(x, y, 0.0);
  EXPECT_NEAR(found.constant, -0.262323073774029, 1e-10);
  EXPECT_NEAR(found.weights(0), 1.00211681802045, 1e-12);
}

TEST(Learning, TheLeftOutErrorIsThatOfRowsLeftOutOneByOne) {
  std::mt19937_64 random(5);
  std::normal_distribution<double> normal;
  const Eigen::MatrixXd x = Eigen::MatrixXd::NullaryExpr(12, 3, [&] { return normal(random); });
  const Eigen::VectorXd y = x.col(0) + Eigen::VectorXd::NullaryExpr(12, [&] { return 0.5 * normal(random); });
  double squares = 0.0;
  for (Eigen::Index left = 0; left < 12; ++left) {
    Eigen::MatrixXd others(11, 3);
    Eigen::VectorXd marks(11);
    for (Eigen::Index r = 0, k = 0; r < 12; ++r)
      if (r != left) others.row(k) = x.row(r), marks(k++) = y(r);
    const Ridge fit = ridge(others, marks, 0.0);
    squares += std::pow(y(left) - fit.constant - x.row(left).dot(fit.weights), 2);
  }
  EXPECT_NEAR(ridge(x, y, 0.0).left_out_error, std::sqrt(squares / 12.0), 1e-10);
}

TEST(Learning, APenaltyPullsWeightsTogetherAndTheMeanNot) {
  Eigen::MatrixXd x(6, 1);
  x << 1, 2, 3, 4, 5, 6;
  const Eigen::VectorXd y = (2.0 * x.col(0)).array() + 10.0;
  // By hand: sum of squares about the mean 17.5, so the weight is 2 * 17.5 / (17.5 + penalty).
  const Ridge half = ridge(x, y, 17.5);
  EXPECT_NEAR(half.weights(0), 1.0, 1e-12);
  EXPECT_NEAR(half.constant + 3.5 * half.weights(0), 17.0, 1e-12);
}

/// Reeds with eight figures of which the player hears the third, with a mark's scatter.
struct Player {
  Eigen::MatrixXd figures;
  Eigen::VectorXd marks;
};
const std::vector<std::string> kNames{"a", "b", "c", "d", "e", "f", "g", "h"};

Player player(int reeds, double hears, double scatter, std::uint64_t seed) {
  std::mt19937_64 random(seed);
  std::normal_distribution<double> normal;
  Player p;
  p.figures = Eigen::MatrixXd::NullaryExpr(reeds, 8, [&] { return normal(random); });
  p.marks = 3.0 + (hears * p.figures.col(2)).array() +
            Eigen::VectorXd::NullaryExpr(reeds, [&] { return scatter * normal(random); }).array();
  p.marks = p.marks.array().round().max(1.0).min(5.0);
  return p;
}

TEST(Learning, FewReedsTeachNothingAndItSaysHowManyMoreItTakes) {
  const Player p = player(5, 1.0, 0.1, 1);
  const Learned learned = learn_from_marks(kNames, p.figures, p.marks);
  EXPECT_EQ(learned.missing, 3);
  EXPECT_FALSE(learned.is_claimed);
  EXPECT_TRUE(learned.weights.empty());
}

TEST(Learning, FindsWhatAPlayerHears) {
  int found = 0, right = 0;
  constexpr int players = 40;
  for (int k = 0; k < players; ++k) {
    const Player p = player(20, 0.9, 0.5, static_cast<std::uint64_t>(k) + 100);
    const Learned learned = learn_from_marks(kNames, p.figures, p.marks, {.shuffles = 199});
    found += learned.is_claimed;
    right +=
        learned.is_claimed && learned.weights.front().figure == "c" && learned.weights.front().marks_per_spread > 0;
    if (learned.is_claimed) {
      EXPECT_LT(learned.error_marks, learned.spread_marks);
    }
  }
  EXPECT_GE(found, 36);
  EXPECT_GE(right, found - 2) << "one in twenty may be chance";
}

TEST(Learning, ClaimsNothingOfAPlayerWhoMarksAtRandom) {
  int claimed = 0;
  constexpr int players = 200;
  for (int k = 0; k < players; ++k) {
    const Player p = player(12, 0.0, 1.0, static_cast<std::uint64_t>(k) + 1000);
    claimed += learn_from_marks(kNames, p.figures, p.marks, {.shuffles = 99, .seed = static_cast<std::uint64_t>(k)})
                   .is_claimed;
  }
  std::printf("%d of %d players who mark at random were told something\n", claimed, players);
  // 5 of 100 are allowed; 200 players scatter by 3 about 10.
  EXPECT_LE(claimed, 18);
}

TEST(Learning, MarksThatAreAllAlikeTeachNothing) {
  Player p = player(12, 0.0, 1.0, 9);
  p.marks.setConstant(4.0);
  const Learned learned = learn_from_marks(kNames, p.figures, p.marks);
  EXPECT_FALSE(learned.is_claimed);
  EXPECT_EQ(learned.missing, 0);
}

}  // namespace
}  // namespace canewise
