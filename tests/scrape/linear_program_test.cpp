#include "scanproc/scrape/linear_program.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

namespace canewise {
namespace {

TEST(LinearProgram, FindsTheCornerOfASmallProgram) {
  // Minimise 2x + 3y with x + y >= 4, x <= 3, y <= 5: x = 3, y = 1.
  LinearProgram program;
  const int x = program.add_variable(2.0, 3.0), y = program.add_variable(3.0, 5.0);
  program.rows.push_back({{{x, 1.0}, {y, 1.0}}, 4.0});
  const auto found = solve(program);
  ASSERT_TRUE(found);
  EXPECT_NEAR(found->at(0), 3.0, 1e-9);
  EXPECT_NEAR(found->at(1), 1.0, 1e-9);
}

TEST(LinearProgram, SaysWhenNothingFitsAndTakesAnEmptyOne) {
  LinearProgram program;
  const int x = program.add_variable(1.0, 1.0);
  program.rows.push_back({{{x, 1.0}}, 2.0});
  EXPECT_FALSE(solve(program));
  EXPECT_TRUE(solve(LinearProgram{})->empty());
  program.rows.front() = {{{x, 1.0}}, 0.6, 0.4};
  EXPECT_FALSE(solve(program)) << "a row whose ends are crossed";
}

// The programs are convex: if nothing near the solution is cheaper, nothing is.
TEST(LinearProgram, BeatsEveryDrawnPointThatFits) {
  std::mt19937_64 random(1);
  std::uniform_real_distribution<double> share(0.0, 1.0);
  for (int k = 0; k < 20; ++k) {
    LinearProgram program;
    for (int j = 0; j < 6; ++j) program.add_variable(0.5 + share(random), 1.0);
    for (int i = 0; i < 4; ++i) {
      LinearProgram::Row row;
      for (int j = 0; j < 6; ++j) row.terms.push_back({j, share(random)});
      row.lower = 0.8;
      program.rows.push_back(row);
    }
    const auto found = solve(program);
    ASSERT_TRUE(found);
    const auto cost = [&](const std::vector<double>& x) {
      double sum = 0.0;
      for (std::size_t j = 0; j < x.size(); ++j) sum += program.cost[j] * x[j];
      return sum;
    };
    const auto fits = [&](const std::vector<double>& x, double spare) {
      for (const auto& row : program.rows) {
        double sum = 0.0;
        for (const auto& term : row.terms) sum += term.factor * x.at(static_cast<std::size_t>(term.variable));
        if (sum < row.lower - spare) return false;
      }
      return true;
    };
    EXPECT_TRUE(fits(*found, 1e-9));
    double best = 1e9;
    for (int draw = 0; draw < 20000; ++draw) {
      // About the solution, where a better one would be.
      std::vector<double> x = *found;
      for (double& value : x) value = std::clamp(value + 0.2 * (share(random) - 0.5), 0.0, 1.0);
      if (fits(x, 0.0)) best = std::min(best, cost(x));
    }
    EXPECT_GE(best, cost(*found) - 1e-9);
  }
}

}  // namespace
}  // namespace canewise
