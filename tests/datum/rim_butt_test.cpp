// Where the butt ends on the centreline, and how sure that is.
#include "scanproc/datum/rim_butt.h"

#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "tests/support/refusals.h"

namespace canewise {
namespace {

constexpr double kHalf_mm = 5.8;
const ButtSearch kSearch{67.9, kHalf_mm};
const EdgeFinder kOnPlate({0.002, Beside::plate}), kInTheAir({0.002, Beside::nothing});

/// A butt at 68.03 mm, 2.5 mm high and cut askew by `askew`, on its plate; a point every 0.1 mm, where `shift_mm` moves
/// each row on from the one before.
std::vector<Eigen::Vector3d> butt(double askew = 0.0, double shift_mm = 0.0) {
  std::vector<Eigen::Vector3d> points;
  for (int i = -58; i <= 58; ++i) {
    for (int k = -30; k <= 30; ++k) {
      const double y = 0.1 * i, x = 68.0 + 0.1 * k + std::remainder(shift_mm * i, 0.1);
      points.emplace_back(x, y, x <= 68.03 + askew * y ? 2.5 : 0.0);
    }
  }
  return points;
}
ButtEdge fit(const std::vector<Eigen::Vector3d>& points, const EdgeFinder& find_edge = kOnPlate) {
  return fit_butt(points, Eigen::Isometry3d::Identity(), kSearch, find_edge);
}
std::string refused(const std::vector<Eigen::Vector3d>& points) {
  const auto refusal = test::refusal_of([&] { return fit(points); });
  EXPECT_EQ(refusal.exit_code, ExitCode::not_measurable);
  return refusal.id;
}

// Between the rows at 68.0 and 68.1, and nobody knows where: 0.1/sqrt(12).
TEST(ButtEdge, LiesMidwayBetweenReedAndPlate) {
  const ButtEdge edge = fit(butt());
  EXPECT_NEAR(edge.x_mm, 68.05, 1e-6);
  EXPECT_NEAR(edge.u_mm, 0.02887, 0.0005);
}

TEST(ButtEdge, AskewItIsMeasuredOnTheCentreline) {
  for (const double askew : {-0.04, 0.04}) {
    const ButtEdge edge = fit(butt(askew, 0.037));
    EXPECT_NEAR(edge.x_mm, 68.03, 0.012) << askew << ": 17 stations, each to a part of 0.1 mm";
    EXPECT_LT(edge.u_mm, 0.03);
  }
}

TEST(ButtEdge, PointsComeFromAFrameOfTheirOwn) {
  const Eigen::Isometry3d pose =
      Eigen::Translation3d(-7.0, 11.0, 3.0) * Eigen::AngleAxisd(-1.1, Eigen::Vector3d(0.2, 0.1, 1.0).normalized());
  auto points = butt();
  for (auto& p : points) p = pose.inverse() * p;
  EXPECT_NEAR(fit_butt(points, pose, kSearch, kOnPlate).x_mm, 68.05, 1e-6);
}

TEST(ButtEdge, BehindAShadowTheReedsOwnPointsTell) {
  auto points = butt();
  std::erase_if(points, [](const Eigen::Vector3d& p) { return p.z() == 0.0 && p.x() < 68.75; });
  const ButtEdge edge = fit(points);
  EXPECT_NEAR(edge.x_mm, 68.05, 1e-6) << "half a spacing beyond the outermost, not midway to 68.8";
  EXPECT_GT(edge.u_mm, std::hypot(0.02, 0.0287)) << "whether they reach the edge is assumed";
  EXPECT_LT(edge.u_mm, 0.045);
}

TEST(ButtEdge, WhereNothingIsSeenBehindItPlateIsAskedForOnlyIfThereIsOne) {
  auto points = butt();
  std::erase_if(points, [](const Eigen::Vector3d& p) { return p.z() == 0.0; });
  EXPECT_EQ(refused(points), "rim.no_butt") << "the scan may end anywhere on the reed";
  EXPECT_NEAR(fit(points, kInTheAir).x_mm, 68.05, 1e-6);
}

TEST(ButtEdge, WhereThereIsNoEdgeNoneIsFound) {
  EXPECT_EQ(refused({}), "rim.no_butt");
  auto strip = butt();
  std::erase_if(strip, [](const Eigen::Vector3d& p) { return std::abs(p.y()) > 0.7; });
  EXPECT_EQ(refused(strip), "rim.no_butt") << "three stations";
  auto reed_alone = butt();
  std::erase_if(reed_alone, [](const Eigen::Vector3d& p) { return p.x() > 69.45; });
  for (auto& p : reed_alone) p.z() = 2.5;
  EXPECT_EQ(refused(reed_alone), "rim.no_butt") << "it goes on to the end of what is looked at";
}

// Its next sample lies beyond what is looked at: reed still, not the plate's first.
TEST(ButtEdge, AReedThatGoesOnHasItsEdgeElsewhere) {
  auto reed_alone = butt();
  for (auto& p : reed_alone) p.z() = 2.5;
  EXPECT_EQ(refused(reed_alone), "rim.no_butt");
}

}  // namespace
}  // namespace canewise
