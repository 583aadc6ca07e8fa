#include "scanproc/core/statistics.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <vector>

namespace canewise {
namespace {

TEST(Statistics, TheMedianIsTheMiddleValueInWhateverOrderTheyCome) {
  EXPECT_EQ(median({9.0, -4.0, 2.5}), 2.5);
  EXPECT_EQ(median({7.0}), 7.0);
  EXPECT_EQ(median({100.0, 3.0, 1.0, 2.0, 4.0}), 3.0) << "a wild value moves it no further";
}

TEST(Statistics, OfAnEvenCountTheMedianIsTheMeanOfTheMiddleTwo) {
  EXPECT_EQ(median({10.0, 1.0, 4.0, 2.0}), 3.0);
  EXPECT_EQ(median({5.0, 8.0}), 6.5);
  EXPECT_EQ(median({-3.0, -9.0, 40.0, -5.0, 0.5, 2.0}), -1.25);
}

TEST(Statistics, TheMedianLeavesTheCallersValuesInTheirOrder) {
  const std::vector<double> values{3.0, 1.0, 2.0};
  EXPECT_EQ(median(values), 2.0);
  EXPECT_EQ(values, (std::vector<double>{3.0, 1.0, 2.0}));
}

TEST(Statistics, NoValuesHaveNeitherMedianNorScatter) {
  EXPECT_TRUE(std::isnan(median({})));
  EXPECT_TRUE(std::isnan(mad_sigma({}, 1.0)));
}

TEST(Statistics, TheRobustDeviationIsTakenAboutTheGivenCentre) {
  // Deviations from 3 are 2, 1, 1, 5 and 97: their median is 2.
  const std::array values{1.0, 2.0, 4.0, 8.0, 100.0};
  EXPECT_NEAR(mad_sigma(values, 3.0), 2.0 * 1.4826, 1e-12);
  // From 4 they are 3, 2, 0, 4 and 96.
  EXPECT_NEAR(mad_sigma(values, 4.0), 3.0 * 1.4826, 1e-12);
  // Of an even count: 4 and 6.
  EXPECT_NEAR(mad_sigma(std::array{0.0, 10.0}, 4.0), 5.0 * 1.4826, 1e-12);
}

TEST(Statistics, TheRobustDeviationOfANormalLawIsItsStandardDeviation) {
  // Half of a normal law lies within 0.6744897501960817 standard deviations of its mean (its upper quartile).
  constexpr double sigma = 2.5, mean = -7.0, quartile = 0.6744897501960817 * sigma;
  const std::array values{mean - 3.0 * sigma, mean + 0.1, mean + quartile, mean - 0.2, mean + 2.0 * sigma};
  EXPECT_NEAR(mad_sigma(values, mean), sigma, 1e-5 * sigma) << "1.4826 has five digits";
}

TEST(Statistics, SquareMultipliesANumberByItself) {
  EXPECT_EQ(square(-3.0), 9.0);
  EXPECT_EQ(square(0.5), 0.25);
}

}  // namespace
}  // namespace canewise
