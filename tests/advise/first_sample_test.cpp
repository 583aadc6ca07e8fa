#include "scanproc/advise/first_sample.h"

#include <gtest/gtest.h>

#include <random>

namespace canewise {
namespace {

// Exact, by counting (hypergeometric law): handbook of check values, E2, '10 in the box, none bad in n drawn excludes'
// 8, 6, 5 and 4 bad ones or more.
TEST(FirstSample, CountingAloneExcludesLittle) {
  EXPECT_EQ(bad_not_excluded(10, 2), 7);
  EXPECT_EQ(bad_not_excluded(10, 3), 5);
  EXPECT_EQ(bad_not_excluded(10, 4), 4);
  EXPECT_EQ(bad_not_excluded(10, 5), 3);
  EXPECT_EQ(bad_not_excluded(10, 10), 0);
}

// Beta-binomial law with alpha = beta = 1: every count is as likely ([BDA3], 2.9; by hand).
TEST(FirstSample, BetaBinomialIsEvenWhereTheMeanIsUnknown) {
  for (int k = 0; k <= 8; ++k) EXPECT_NEAR(beta_binomial(k, 8, 1.0, 1.0), 1.0 / 9.0, 1e-12);
  double sum = 0.0;
  for (int k = 0; k <= 8; ++k) sum += beta_binomial(k, 8, 2.3, 0.7);
  EXPECT_NEAR(sum, 1.0, 1e-12);
  // One draw of a law with mean alpha / (alpha + beta).
  EXPECT_NEAR(beta_binomial(1, 1, 3.0, 1.0), 0.75, 1e-12);
}

// Laplace's rule of succession gives 3/4 after two of two, if the share may be anything evenly. Here boxes may be more
// alike than that law has them, or less: two good reeds then say a little less, or more.
TEST(FirstSample, TwoGoodOnesPromiseSomethingAndNotMuch) {
  const RestOfBox rest = rest_of_box({10, 2, 2}, {});
  EXPECT_EQ(rest.rest, 8);
  EXPECT_GT(rest.next_suits, 0.70);
  EXPECT_LT(rest.next_suits, 0.85);
  EXPECT_LE(rest.fewest, 3);
  EXPECT_EQ(rest.most, 8);
  EXPECT_EQ(rest.advice, BoxAdvice::go_on);
  EXPECT_DOUBLE_EQ(rest.next_suits, rest.with_no_memory);
}

TEST(FirstSample, GoodAndBadChangePlacesAndTurnTheAnswer) {
  const RestOfBox good = rest_of_box({10, 3, 3}, {}), bad = rest_of_box({10, 3, 0}, {});
  EXPECT_NEAR(good.next_suits, 1.0 - bad.next_suits, 1e-12);
  EXPECT_EQ(good.fewest, bad.rest - bad.most);
  EXPECT_EQ(bad.advice, BoxAdvice::set_aside);
  EXPECT_EQ(rest_of_box({10, 2, 1}, {}).advice, BoxAdvice::try_one_more);
  EXPECT_EQ(rest_of_box({2, 2, 2}, {}).advice, BoxAdvice::nothing_left);
}

TEST(FirstSample, EarlierBoxesCount) {
  const std::vector<TriedBox> good(6, {10, 10, 9}), bad(6, {10, 10, 1});
  EXPECT_GT(rest_of_box({10, 2, 1}, good).next_suits, 0.75);
  EXPECT_LT(rest_of_box({10, 2, 1}, bad).next_suits, 0.25);
  EXPECT_NEAR(rest_of_box({10, 2, 1}, good).with_no_memory, 0.5, 1e-9);
  // Boxes that were either all good or all bad: then two say nearly everything.
  std::vector<TriedBox> either;
  for (int k = 0; k < 6; ++k) either.push_back({10, 10, k % 2 == 0 ? 10 : 0});
  EXPECT_GT(rest_of_box({10, 2, 2}, either).next_suits, rest_of_box({10, 2, 2}, {}).next_suits + 0.03);
}

TEST(FirstSample, RefusesCountsThatDoNotFit) {
  EXPECT_THROW((void)rest_of_box({10, 2, 3}, {}), std::invalid_argument);
  EXPECT_THROW((void)rest_of_box({10, 11, 3}, {}), std::invalid_argument);
  EXPECT_THROW((void)rest_of_box({10, 2, 1}, {{10, 2, -1}}), std::invalid_argument);
}

/// 1000 boxes of ten: two are tried, then a third. Means of what was said and of what came, in five bands of what was
/// said, and the Brier score.
struct Calibration {
  std::array<double, 5> said{}, came{}, boxes{};
  double brier = 0.0, brier_of_mean = 0.0;
};

template <typename ShareOfBox>
Calibration calibration_of(const ShareOfBox& share_of_box) {
  Calibration found;
  std::mt19937_64 random(7);
  constexpr int count = 1000, of_before = 5;
  double mean = 0.0;
  std::vector<std::pair<double, double>> all;
  for (int k = 0; k < count; ++k) {
    const auto suited = [&](double share, int of) { return std::binomial_distribution<int>(of, share)(random); };
    std::vector<TriedBox> earlier;
    for (int e = 0; e < of_before; ++e) earlier.push_back({10, 10, suited(share_of_box(random), 10)});
    const double share = share_of_box(random);
    const RestOfBox rest = rest_of_box({10, 2, suited(share, 2)}, earlier);
    const double came = suited(share, 1);
    const auto band = static_cast<std::size_t>(std::min(4.0, 5.0 * rest.next_suits));
    found.said.at(band) += rest.next_suits, found.came.at(band) += came, found.boxes.at(band) += 1.0;
    all.emplace_back(rest.next_suits, came);
    mean += came / count;
  }
  for (std::size_t b = 0; b < 5; ++b)
    if (found.boxes.at(b) > 0.0) found.said.at(b) /= found.boxes.at(b), found.came.at(b) /= found.boxes.at(b);
  for (const auto& [said, came] : all) {
    found.brier += (said - came) * (said - came) / count;
    found.brier_of_mean += (mean - came) * (mean - came) / count;
  }
  return found;
}

void expect_calibrated(const Calibration& found, const char* law, double spare = 0.03) {
  for (std::size_t b = 0; b < 5; ++b) {
    std::printf("%s: said %.2f, came %.2f (%.0f boxes)\n", law, found.said.at(b), found.came.at(b), found.boxes.at(b));
    if (found.boxes.at(b) < 30.0) continue;
    const double scatter = std::sqrt(0.25 / found.boxes.at(b));
    EXPECT_NEAR(found.said.at(b), found.came.at(b), spare + 2.6 * scatter) << law << ", band " << b;
  }
  std::printf("%s: Brier %.3f, of the mean alone %.3f\n", law, found.brier, found.brier_of_mean);
}

// Laws that are not the code's own: shares from three kinds of box, from a narrow band, and all over.
TEST(FirstSample, WhatItSaysComesTrueWhateverTheLawOfBoxes) {
  const auto kinds = [](std::mt19937_64& random) {
    return std::array{0.1, 0.55, 0.9}.at(std::uniform_int_distribution<std::size_t>(0, 2)(random));
  };
  const auto narrow = [](std::mt19937_64& random) { return std::uniform_real_distribution<>(0.6, 0.8)(random); };
  const auto wide = [](std::mt19937_64& random) { return std::uniform_real_distribution<>(0.0, 1.0)(random); };
  const Calibration of_kinds = calibration_of(kinds), of_narrow = calibration_of(narrow),
                    of_wide = calibration_of(wide);
  expect_calibrated(of_kinds, "three kinds");
  // Where boxes are alike and only five are known, it still believes two reeds too much.
  expect_calibrated(of_narrow, "narrow", 0.09);
  expect_calibrated(of_wide, "wide");
  EXPECT_LT(of_kinds.brier, 0.85 * of_kinds.brier_of_mean);
  EXPECT_LT(of_wide.brier, 0.9 * of_wide.brier_of_mean);
  EXPECT_LT(of_narrow.brier, 1.06 * of_narrow.brier_of_mean) << "where boxes are alike two reeds add nothing, or noise";
}

}  // namespace
}  // namespace canewise
