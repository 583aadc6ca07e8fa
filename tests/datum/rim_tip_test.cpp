// The tip's edge in columns and the arc through it. Tips are drawn as circles; the truth is the circle's.
#include "scanproc/datum/rim_tip.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "tests/support/refusals.h"

namespace canewise {
namespace {

constexpr double kHalf_mm = 6.5, kRadius_mm = 12.0, kApex_mm = 0.3;

double circle(double y_mm, double radius_mm = kRadius_mm) {
  return radius_mm - std::sqrt(radius_mm * radius_mm - y_mm * y_mm);
}

/// A tip 0.1 mm thick at its edge on its plate, a point every 0.04 mm along and 0.05 mm across.
std::vector<Eigen::Vector3d> tip_points() {
  std::vector<Eigen::Vector3d> points;
  for (int i = -130; i <= 130; ++i) {
    const double y = 0.05 * i, edge = kApex_mm + circle(y);
    for (int k = 0; k < 190; ++k) {
      const double x = -2.0 + 0.04 * k + 0.0007 * i;
      points.emplace_back(x, y, x < edge ? 0.0 : 0.1 + 0.03 * (x - edge));
    }
  }
  return points;
}
const EdgeFinder kOnPlate({0.002, Beside::plate}), kInTheAir({0.002, Beside::nothing});
// Where a first look may have put it.
const TipSearch kSearch{0.1, 14.0, kHalf_mm};

/// Columns of half the width from edge to edge, x by y.
template <typename Edge>
TipColumns columns(const Edge& edge) {
  TipColumns all;
  for (int k = -25; k <= 25; ++k) {
    all.y_mm.push_back(0.25 * k);
    all.x_mm.push_back(edge(0.25 * k));
  }
  return all;
}
TipColumns whole() {
  return columns([](double y) { return kApex_mm + circle(y); });
}
std::size_t at(double y_mm) { return static_cast<std::size_t>(std::lround(y_mm / 0.25) + 25); }
TipArc arc(const TipColumns& of) { return fit_arc(of, {kHalf_mm}, 14.0); }

TEST(TipColumns, RunFromLeftToRightAndLieOnTheEdge) {
  const TipColumns found = find_tip_columns(tip_points(), Eigen::Isometry3d::Identity(), kSearch, kOnPlate);
  ASSERT_EQ(found.y_mm.size(), 51U);
  ASSERT_EQ(found.x_mm.size(), 51U);
  for (std::size_t k = 0; k < 51; ++k) {
    EXPECT_NEAR(found.y_mm[k], -6.25 + 0.25 * static_cast<double>(k), 1e-12);
    EXPECT_NEAR(found.x_mm[k], kApex_mm + circle(found.y_mm[k]), 0.04) << "a sample, at " << found.y_mm[k];
  }
}

TEST(TipColumns, PointsComeFromAFrameOfTheirOwn) {
  const Eigen::Isometry3d pose =
      Eigen::Translation3d(3.0, 40.0, -2.0) * Eigen::AngleAxisd(2.0, Eigen::Vector3d(0.3, -0.1, 1.0).normalized());
  auto points = tip_points();
  for (auto& p : points) p = pose.inverse() * p;
  const TipColumns found = find_tip_columns(points, pose, kSearch, kOnPlate);
  for (std::size_t k = 0; k < found.x_mm.size(); ++k)
    EXPECT_NEAR(found.x_mm[k], kApex_mm + circle(found.y_mm[k]), 0.04) << found.y_mm[k];
}

TEST(TipColumns, WhatTheScanDoesNotShowIsNotSeen) {
  auto points = tip_points();
  std::erase_if(points, [](const Eigen::Vector3d& p) { return std::abs(p.y() - 3.0) < 0.5; });
  const TipColumns found = find_tip_columns(points, Eigen::Isometry3d::Identity(), kSearch, kOnPlate);
  for (std::size_t k = 0; k < found.x_mm.size(); ++k)
    EXPECT_EQ(std::isnan(found.x_mm[k]), std::abs(found.y_mm[k] - 3.0) < 0.3) << found.y_mm[k];
}

TEST(TipColumns, WithoutPlateBeforeItTheEdgeIsOnlySeenWhereNoneIsExpected) {
  auto points = tip_points();
  std::erase_if(points, [](const Eigen::Vector3d& p) { return p.z() == 0.0; });
  const auto seen = [&](const EdgeFinder& find_edge) {
    return find_tip_columns(points, Eigen::Isometry3d::Identity(), kSearch, find_edge);
  };
  for (const double x : seen(kOnPlate).x_mm) EXPECT_TRUE(std::isnan(x)) << "the scan may end anywhere on the reed";
  const TipColumns bare = seen(kInTheAir);
  for (std::size_t k = at(-4.0); k <= at(4.0); ++k)
    EXPECT_NEAR(bare.x_mm[k], kApex_mm + circle(bare.y_mm[k]), 0.06) << bare.y_mm[k];
}

TEST(TipArc, IsTheCircleThroughTheColumns) {
  const TipArc fit = arc(whole());
  EXPECT_NEAR(fit.apex_x_mm, kApex_mm, 1e-6);
  EXPECT_NEAR(fit.radius_mm, kRadius_mm, 1e-3);
  EXPECT_NEAR(fit.corner_drop_mm, 0.0, 1e-4);
  EXPECT_LT(fit.scatter_mm, 1e-5);
  EXPECT_FALSE(fit.is_at_limit);
  EXPECT_EQ(fit.chip, Chip::whole);
}

TEST(TipArc, ALeaningTipHasTheSameArc) {
  const TipArc fit = arc(columns([](double y) { return kApex_mm + 0.02 * y + circle(y); }));
  EXPECT_NEAR(fit.apex_x_mm, kApex_mm, 1e-6);
  EXPECT_NEAR(fit.radius_mm, kRadius_mm, 1e-3);
  EXPECT_NEAR(fit.corner_drop_mm, 0.0, 1e-4);
}

TEST(TipArc, CornersFallBehindItAndDoNotBendIt) {
  const TipArc fit =
      arc(columns([](double y) { return kApex_mm + circle(y) + 0.2 * std::max(0.0, std::abs(y) - 5.0); }));
  EXPECT_NEAR(fit.radius_mm, kRadius_mm, 1e-3);
  EXPECT_NEAR(fit.corner_drop_mm, 0.17, 1e-4) << "at 0.9 of the half width, 5.85 mm";
  const TipArc one = arc(columns([](double y) { return kApex_mm + circle(y) + 0.2 * std::max(0.0, y - 5.0); }));
  EXPECT_NEAR(one.corner_drop_mm, 0.085, 1e-4) << "both together";
}

TEST(TipArc, AMissingPieceIsTwoColumnsBehindIt) {
  auto tip = whole();
  tip.x_mm[at(2.0)] += 0.35;
  EXPECT_EQ(arc(tip).chip, Chip::whole) << "one stray column";
  tip.x_mm[at(2.25)] += 0.35;
  EXPECT_EQ(arc(tip).chip, Chip::chipped);
  EXPECT_NEAR(arc(tip).radius_mm, kRadius_mm, 0.01) << "which does not bend the arc";
  tip = whole();
  for (const double y : {2.0, 2.25}) tip.x_mm[at(y)] -= 0.35;
  EXPECT_EQ(arc(tip).chip, Chip::whole) << "what stands before it is none";
}

TEST(TipArc, WhetherAPieceIsMissingFromANoisyEdgeIsUnclear) {
  auto tip = columns([](double y) { return kApex_mm + circle(y) + (std::lround(4.0 * y) % 2 == 0 ? 0.05 : -0.05); });
  for (const double y : {2.0, 2.25}) tip.x_mm[at(y)] = kApex_mm + circle(y) + 0.22;
  EXPECT_EQ(arc(tip).chip, Chip::unclear);
}

TEST(TipArc, NoReedsCurvatureIsSaidToBeNone) {
  EXPECT_TRUE(arc(columns([](double) { return kApex_mm; })).is_at_limit) << "straight";
  TipColumns round;
  for (int k = -14; k <= 14; ++k) {
    round.y_mm.push_back(0.25 * k);
    round.x_mm.push_back(circle(0.25 * k, 3.6));
  }
  EXPECT_TRUE(fit_arc(round, {4.0}, 5.0).is_at_limit) << "a radius of 3.6 mm";
}

// 33 columns lie within 0.65 of the half width: three fifths of them are 19.8.
TEST(TipArc, TooFewColumnsAreNotMeasured) {
  const auto seen = [](std::size_t count) {
    auto tip = whole();
    for (std::size_t k = at(-4.0) + count; k <= at(4.0); ++k) tip.x_mm[k] = std::nan("");
    return tip;
  };
  EXPECT_NO_THROW((void)arc(seen(20)));
  const auto refusal = test::refusal_of([&] { return arc(seen(19)); });
  EXPECT_EQ(refusal.exit_code, ExitCode::not_measurable);
  EXPECT_EQ(refusal.id, "rim.no_tip");
}

TEST(TipArc, ItsUncertaintiesAreThoseOfFitsRepeated) {
  std::mt19937_64 random(11);
  std::normal_distribution<double> noise(0.0, 0.02);
  constexpr int trials = 400;
  double apex = 0.0, radius = 0.0, drop = 0.0, u_apex = 0.0, u_radius = 0.0, u_drop = 0.0;
  for (int k = 0; k < trials; ++k) {
    const TipArc fit = arc(columns([&](double y) { return kApex_mm + circle(y) + noise(random); }));
    apex += std::pow(fit.apex_x_mm - kApex_mm, 2), u_apex += std::pow(fit.u_apex_x_mm, 2);
    radius += std::pow(fit.radius_mm - kRadius_mm, 2), u_radius += std::pow(fit.u_radius_mm, 2);
    drop += std::pow(fit.corner_drop_mm, 2), u_drop += std::pow(fit.u_corner_drop_mm, 2);
  }
  // A fit's own doubt about its correlation makes it a little wider.
  for (const double ratio : {u_apex / apex, u_radius / radius, u_drop / drop}) {
    EXPECT_GT(std::sqrt(ratio), 0.9);
    EXPECT_LT(std::sqrt(ratio), 1.4);
  }
}

}  // namespace
}  // namespace canewise
