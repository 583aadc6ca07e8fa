// One side of the reed: its edge station by station, and the line through it with and without a shadow.
#include "scanproc/datum/rim_side.h"

#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "tests/support/refusals.h"

namespace canewise {
namespace {

constexpr double kPitch_mm = 0.07;

/// The true side and one that is looked along, a little off.
SideLine line_of(double offset_mm, double slope) { return {offset_mm, slope, 0.0, 0.0}; }

/// A right side at y = 6 - 0.01 x, the reed 2 mm high, by a raster that is turned against it.
std::vector<Eigen::Vector3d> right_side() {
  const Eigen::Matrix2d turn = Eigen::Rotation2Dd(0.3).toRotationMatrix();
  std::vector<Eigen::Vector3d> points;
  for (int i = -300; i <= 300; ++i) {
    for (int k = -300; k <= 300; ++k) {
      const Eigen::Vector2d p = turn * Eigen::Vector2d(kPitch_mm * i, kPitch_mm * k);
      if (p.x() < 4.0 || p.x() > 18.0 || p.y() < 3.5 || p.y() > 8.5) continue;
      points.emplace_back(p.x(), p.y(), p.y() <= 6.0 - 0.01 * p.x() ? 2.0 : 0.0);
    }
  }
  return points;
}

/// Forty stations whose true edge lies at `line_mm`, the outermost reed point half a spacing of 0.1 mm inside it; walls
/// of 0.6 to 2.5 mm, and `gap` by height.
template <typename Gap>
std::vector<SideEdge> stations(double sign, const Gap& gap) {
  std::vector<SideEdge> edges;
  for (int k = 0; k < 40; ++k) {
    const double x = 5.25 + 0.5 * k, height = 0.6 + 0.05 * k;
    // A little to and fro that goes with nothing.
    const double jitter = 0.004 * (k % 4 == 0 || k % 4 == 3 ? 1.0 : -1.0);
    edges.push_back({x, sign * (6.0 - 0.01 * x), {-0.05, gap(height) + jitter, 0.1, height}});
  }
  return edges;
}
const auto kNoShadow = [](double) { return 0.1; };
const auto kShadow = [](double height_mm) { return 0.1 + 0.3 * height_mm; };
const auto kNoPlate = [](double) { return std::nan(""); };

std::string refused(const std::vector<SideEdge>& edges, int side, Beside beside) {
  const auto refusal = test::refusal_of([&] { return fit_side(edges, side, beside); });
  EXPECT_EQ(refusal.exit_code, ExitCode::not_measurable);
  const auto* which = std::get_if<Word>(&refusal.arguments.at("side"));
  return refusal.id + " " + (which == nullptr ? "" : which->key);
}

TEST(SideEdges, LieWithinAPitchOfTheTrueSideStationByStation) {
  const SideSearch search{line_of(6.1, -0.012), 1, 6.0, 16.0};
  const auto edges = side_edges(right_side(), Eigen::Isometry3d::Identity(), search, EdgeFinder({0.002}));
  ASSERT_EQ(edges.size(), 20U) << "one in half a millimetre";
  for (std::size_t k = 0; k < edges.size(); ++k) {
    EXPECT_NEAR(edges[k].x_mm, 6.25 + 0.5 * static_cast<double>(k), 1e-12);
    EXPECT_NEAR(edges[k].line_mm, 6.1 - 0.012 * edges[k].x_mm, 1e-12);
    EXPECT_NEAR(edges[k].line_mm + edges[k].edge.middle_mm(), 6.0 - 0.01 * edges[k].x_mm, 0.5 * kPitch_mm);
    EXPECT_NEAR(edges[k].edge.height_mm, 2.0, 1e-9);
  }
}

TEST(SideEdges, OfTheLeftGrowToTheLeftAndPointsComeFromAFrameOfTheirOwn) {
  const Eigen::Isometry3d pose =
      Eigen::Translation3d(30.0, -20.0, 5.0) * Eigen::AngleAxisd(0.7, Eigen::Vector3d(0.1, 0.2, 1.0).normalized());
  auto points = right_side();
  for (auto& p : points) p = pose.inverse() * Eigen::Vector3d(p.x(), -p.y(), p.z());
  const auto edges = side_edges(points, pose, {line_of(-6.1, 0.012), -1, 6.0, 16.0}, EdgeFinder({0.002}));
  ASSERT_EQ(edges.size(), 20U);
  for (const auto& each : edges)
    EXPECT_NEAR(each.line_mm - each.edge.middle_mm(), -6.0 + 0.01 * each.x_mm, 0.5 * kPitch_mm);
}

TEST(SideEdges, WhereNoReedIsThereIsNone) {
  const EdgeFinder find_edge({0.002});
  const auto far =
      side_edges(right_side(), Eigen::Isometry3d::Identity(), {line_of(6.0, 0.0), 1, 60.0, 70.0}, find_edge);
  EXPECT_TRUE(far.empty());
  EXPECT_TRUE(side_edges({}, Eigen::Isometry3d::Identity(), {line_of(6.0, 0.0), 1, 9.0, 3.0}, find_edge).empty());
}

TEST(FitSide, WithoutAShadowItRunsMidwayBetweenReedAndPlate) {
  for (const int side : {-1, 1}) {
    const SideFit fit = fit_side(stations(side, kNoShadow), side, Beside::plate);
    EXPECT_FALSE(fit.shadowed);
    EXPECT_NEAR(fit.line.offset_mm, side * 6.0, 0.001);
    EXPECT_NEAR(fit.line.slope, side * -0.01, 1e-4);
    EXPECT_NEAR(fit.pivot_x_mm, 15.0, 1e-9);
    EXPECT_NEAR(fit.line.scatter_mm, 0.002, 0.0005) << "half of the gaps' own";
    // All stations share where the side falls in a gap: a twelfth of its square.
    EXPECT_GT(fit.line.u_offset_mm, 0.0287);
    EXPECT_LT(fit.line.u_offset_mm, 0.035);
    EXPECT_GT(fit.u_slope, 0.0287 / 10.0) << "over half the stretch of 19.5 mm";
    EXPECT_LT(fit.u_slope, 0.0045);
  }
}

TEST(FitSide, AWallThatIsEquallyHighEverywhereHasASideToo) {
  const auto edges = side_edges(right_side(), Eigen::Isometry3d::Identity(), {line_of(6.1, -0.012), 1, 5.0, 17.0},
                                EdgeFinder({0.002}));
  ASSERT_GT(edges.size(), 20U);
  const SideFit fit = fit_side(edges, 1, Beside::plate);
  EXPECT_NEAR(fit.line.at(fit.pivot_x_mm), 6.0 - 0.01 * fit.pivot_x_mm, 0.2 * kPitch_mm);
}

TEST(FitSide, AShadowThatGrowsWithTheWallIsTakenOff) {
  const SideFit fit = fit_side(stations(1, kShadow), 1, Beside::plate);
  EXPECT_TRUE(fit.shadowed);
  EXPECT_NEAR(fit.line.at(15.0), 5.85, 0.002) << "midway in the gap would be 0.23 mm farther out";
  EXPECT_NEAR(fit.line.slope, -0.01, 2e-4);
  EXPECT_GT(fit.line.u_offset_mm, 0.0287);
  EXPECT_LT(fit.line.u_offset_mm, 0.045);
}

TEST(FitSide, WhereNothingIsSeenBesideItTheReedsOwnPointsTell) {
  const SideFit fit = fit_side(stations(-1, kNoPlate), -1, Beside::nothing);
  EXPECT_NEAR(fit.line.at(15.0), -5.85, 1e-9) << "half a spacing beyond the outermost";
  EXPECT_GT(fit.line.u_offset_mm, std::hypot(0.02, 0.0287)) << "whether they reach the edge is assumed";
  EXPECT_LT(fit.line.u_offset_mm, 0.045);
}

TEST(FitSide, AFewStrayStationsDoNotTurnIt) {
  auto edges = stations(1, kNoShadow);
  for (const std::size_t stray : {3U, 4U, 5U}) edges[stray].edge.reed_mm += 0.6;
  const SideFit fit = fit_side(edges, 1, Beside::plate);
  EXPECT_NEAR(fit.line.offset_mm, 6.0, 0.002);
  EXPECT_NEAR(fit.line.slope, -0.01, 2e-4);
}

TEST(FitSide, TooLittleOfItIsNotMeasured) {
  const auto all = stations(1, kNoShadow);
  const auto first = [](const std::vector<SideEdge>& edges, std::ptrdiff_t n) {
    return std::vector<SideEdge>(edges.begin(), edges.begin() + n);
  };
  EXPECT_EQ(refused({}, -1, Beside::nothing), "rim.no_side left");
  EXPECT_EQ(refused(first(all, 19), 1, Beside::plate), "rim.no_side right");
  EXPECT_NO_THROW((void)fit_side(first(all, 20), 1, Beside::plate));
}

TEST(FitSide, BesideAPlateSomeOfItMustBeSeen) {
  auto edges = stations(1, kNoPlate);
  for (std::size_t k = 0; k < 7; ++k) edges[5 * k].edge.gap_mm = 0.1;
  EXPECT_EQ(refused(edges, 1, Beside::plate), "rim.no_side right") << "the scan may end anywhere on the reed";
  edges[39].edge.gap_mm = 0.1;
  const SideFit fit = fit_side(edges, 1, Beside::plate);
  EXPECT_TRUE(fit.shadowed);
  EXPECT_NEAR(fit.line.at(15.0), 5.85, 1e-9);
}

}  // namespace
}  // namespace canewise
