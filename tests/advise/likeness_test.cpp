#include "scanproc/advise/likeness.h"

#include <gtest/gtest.h>

#include <random>

namespace canewise {
namespace {

NamedFigures reed(const std::string& label, double stiffness, double imbalance, double u = 0.01) {
  return {label, {{"stiffness", stiffness, 40.0 * u}, {"imbalance tip", imbalance, u}}};
}

TEST(Likeness, KeepersSayWhatIsAlike) {
  const auto one = keeper_figures({reed("K", 40.0, 0.02)});
  ASSERT_EQ(one.size(), 2U);
  EXPECT_DOUBLE_EQ(one[0].mean, 40.0);
  EXPECT_DOUBLE_EQ(one[0].alike, 0.07 * 40.0) << "a quarter strength, as long as nobody knows better";
  EXPECT_DOUBLE_EQ(one[1].alike, 0.06);
  const auto two = keeper_figures({reed("K", 36.0, 0.02), reed("L", 44.0, 0.02)});
  EXPECT_NEAR(two[0].alike, std::sqrt(32.0), 1e-12) << "their spread";
  EXPECT_TRUE(keeper_figures({}).empty());
  EXPECT_TRUE(by_likeness({reed("A", 1.0, 0.0)}, {}).empty());
}

TEST(Likeness, NearestComesFirstWithWhatDiffersMost) {
  const auto ranked = by_likeness({reed("far", 60.0, 0.0), reed("near", 41.0, 0.0), reed("askew", 40.0, -0.18)},
                                  {reed("K", 40.0, 0.0)});
  ASSERT_EQ(ranked.size(), 3U);
  EXPECT_EQ(ranked[0].label, "near");
  EXPECT_EQ(ranked[1].label, "askew");
  EXPECT_EQ(ranked[1].farthest, "imbalance tip");
  EXPECT_DOUBLE_EQ(ranked[1].by, -0.18);
  EXPECT_EQ(ranked[2].farthest, "stiffness");
  EXPECT_EQ(ranked[0].rank, 1);
  EXPECT_EQ(ranked[2].rank, 3);
}

TEST(Likeness, ReedsThatCannotBeToldApartShareARank) {
  const auto sure =
      by_likeness({reed("A", 44.0, 0.0, 0.001), reed("B", 46.0, 0.0, 0.001)}, {reed("K", 40.0, 0.0, 0.001)});
  EXPECT_EQ(sure[1].rank, 2);
  const auto unsure =
      by_likeness({reed("A", 44.0, 0.0, 0.05), reed("B", 46.0, 0.0, 0.05)}, {reed("K", 40.0, 0.0, 0.05)});
  EXPECT_EQ(unsure[1].rank, 1);
}

TEST(Likeness, AFigureThatTheScanHardlyTellsHardlyCounts) {
  const NamedFigures keeper{"K", {{"stiffness", 40.0, 0.1}, {"tip", 100.0, 20.0}}};
  const NamedFigures thin{"thin", {{"stiffness", 40.0, 0.1}, {"tip", 60.0, 20.0}}};
  const NamedFigures hard{"hard", {{"stiffness", 50.0, 0.1}, {"tip", 100.0, 20.0}}};
  EXPECT_EQ(by_likeness({thin, hard}, {keeper}).front().label, "thin");
}

// The distance's own uncertainty against what repeated scans show, near and far from the keeper.
TEST(Likeness, ItsUncertaintyIsWhatRepeatedScansScatter) {
  std::mt19937_64 random(3);
  std::normal_distribution<double> normal;
  constexpr int scans = 4000;
  for (const double truth : {44.0, 52.0}) {
    double sum = 0.0, squares = 0.0, stated = 0.0;
    for (int k = 0; k < scans; ++k) {
      const double u = 0.6;
      const NamedFigures scan{"A", {{"stiffness", truth + u * normal(random), u}}};
      const Likeness found = by_likeness({scan}, {{"K", {{"stiffness", 40.0, 0.0}}}}).front();
      sum += found.distance, squares += found.distance * found.distance, stated += found.u;
    }
    const double sd = std::sqrt(squares / scans - std::pow(sum / scans, 2));
    EXPECT_NEAR(stated / scans / sd, 1.0, 0.08) << truth;
  }
}

}  // namespace
}  // namespace canewise
