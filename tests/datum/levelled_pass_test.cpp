// A pass as mean heights over its plate, and what two such passes say of each other.
#include "scanproc/datum/levelled_pass.h"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <numbers>
#include <random>
#include <vector>

namespace canewise {
namespace {

using Height = std::function<double(double x_mm, double y_mm)>;

constexpr double kSpacing_mm = 0.125;  // Sixteen points a cell.

/// A square raster over [-6, 66] x [-12, 12] mm with noise of its own.
LevelledPass pass_of(const Height& height, double noise_mm = 0.002, std::uint64_t seed = 1) {
  std::mt19937_64 random(seed);
  std::normal_distribution<double> normal;
  std::vector<Eigen::Vector3d> points;
  for (double x = -6.0; x < 66.0; x += kSpacing_mm) {
    for (double y = -12.0; y < 12.0; y += kSpacing_mm)
      points.emplace_back(x, y, height(x, y) + noise_mm * normal(random));
  }
  Eigen::Matrix3Xd columns(3, static_cast<Eigen::Index>(points.size()));
  for (std::size_t i = 0; i < points.size(); ++i) columns.col(static_cast<Eigen::Index>(i)) = points[i];
  return LevelledPass(columns, noise_mm);
}

bool on_reed(double x, double y) { return x > 0.0 && x < 60.0 && std::abs(y) < 6.0; }

/// A wedge that is thinner at its sides, on a plate.
double reed(double x, double y) { return on_reed(x, y) ? 0.3 + 0.04 * x - 0.01 * y * y : 0.0; }
/// A bar whose cross-section is the same everywhere.
double bark(double x, double y) { return on_reed(x, y) ? 3.0 - 0.04 * y * y : 0.0; }

Eigen::Isometry3d shift(double x, double y, double z = 0.0) { return Eigen::Isometry3d(Eigen::Translation3d(x, y, z)); }

TEST(LevelledPass, HeightIsReadBetweenCellsAndAPlaneIsReadExactly) {
  const auto plane = [](double x, double y) { return 1.0 + 0.02 * x - 0.03 * y; };
  const LevelledPass pass = pass_of(plane, 0.0);
  for (const double x : {0.0, 7.13, 41.9}) {
    for (const double y : {-8.21, 0.4, 9.0}) EXPECT_NEAR(pass.height_at(x, y), plane(x, y), 1e-6) << x << ' ' << y;
  }
}

TEST(LevelledPass, NothingIsReadBesideTheScanOrAcrossAnEdge) {
  const LevelledPass pass = pass_of([](double x, double) { return x < 30.1 ? 2.0 : 0.5; }, 0.0);
  EXPECT_NEAR(pass.height_at(28.0, 0.0), 2.0, 1e-6);
  EXPECT_NEAR(pass.height_at(32.0, 0.0), 0.5, 1e-6);
  EXPECT_TRUE(std::isnan(pass.height_at(30.1, 0.0))) << "a mean over a step is neither side's height";
  EXPECT_TRUE(std::isnan(pass.height_at(-20.0, 0.0)));
  EXPECT_TRUE(std::isnan(pass.height_at(30.0, 40.0)));
}

TEST(LevelledPass, MeansAreOneForACellAndTheReedsAreThoseAboveThePlate) {
  const LevelledPass pass = pass_of([](double x, double) { return x < 30.0 ? 0.4 : 0.1; }, 0.0);
  // 72 x 24 mm in cells of half a millimetre.
  EXPECT_EQ(pass.means().size(), 144U * 48U);
  EXPECT_EQ(pass.reed_above_mm(), 0.25);
  EXPECT_EQ(pass.reed().size(), 72U * 48U);
  for (const auto& p : pass.reed()) EXPECT_LT(p.x(), 30.0);
  // Of a coarse scan only what stands above five times its noise.
  const LevelledPass coarse = pass_of([](double x, double) { return x < 30.0 ? 0.9 : 0.35; }, 0.1);
  EXPECT_EQ(coarse.reed_above_mm(), 0.5);
  EXPECT_EQ(coarse.noise_mm(), 0.1);
  for (const auto& p : coarse.reed()) EXPECT_LT(p.x(), 30.5);
}

TEST(LevelledPass, OneReedAgreesInItsPlaceAndOnlyThere) {
  const LevelledPass first = pass_of(reed),
                     second = pass_of([](double x, double y) { return reed(x - 3.0, y + 1.0); }, 0.002, 2);
  // The second pass lies 3 mm behind and 1 mm to the left: it must be moved back.
  const Agreement there = agreement_of(first, second, shift(-3.0, 1.0));
  EXPECT_GT(there.share, 0.95);
  // 60 x 12 mm in cells of a quarter of a square millimetre, less the rim and what is too thin at the tip.
  EXPECT_GT(there.places, 2400.0);
  EXPECT_LT(there.places, 2880.0);
  EXPECT_NEAR(there.mean_mm, 0.0, 0.001);
  EXPECT_TRUE(agrees(there));
  // Off by the whole shift, 0.12 mm of slope alone is more than the tolerance.
  EXPECT_FALSE(agrees(agreement_of(first, second, shift(0.0, 0.0))));
  EXPECT_FALSE(agrees(agreement_of(first, second, shift(3.0, -1.0))));
}

TEST(LevelledPass, AgreementSaysHowFarTheSecondLiesAboveTheFirst) {
  const LevelledPass first = pass_of(reed), second = pass_of(reed, 0.002, 2);
  const Agreement higher = agreement_of(first, second, shift(0.0, 0.0, 0.030));
  EXPECT_NEAR(higher.mean_mm, 0.030, 0.001);
  EXPECT_NEAR(higher.rms_mm, 0.030, 0.002);
  EXPECT_GT(higher.share, 0.95);
  // 60 um and four times the noise of both, 11 um.
  EXPECT_LT(agreement_of(first, second, shift(0.0, 0.0, 0.090)).share, 0.2);
}

TEST(LevelledPass, IsTheSameReedFrom250CellsAndAShareOf88PercentOn) {
  EXPECT_TRUE(agrees({.share = 0.881, .places = 250.0}));
  EXPECT_FALSE(agrees({.share = 0.879, .places = 1000.0}));
  EXPECT_FALSE(agrees({.share = 1.0, .places = 249.0}));
  EXPECT_FALSE(agrees({}));
}

TEST(LevelledPass, ShapesDifferByWholePatchesNotByATiltOrAFewMicrometres) {
  const LevelledPass first = pass_of(reed);
  const auto with = [&](const Height& more) {
    return shapes_differ(
        first, pass_of([&](double x, double y) { return on_reed(x, y) ? reed(x, y) + more(x, y) : 0.0; }, 0.002, 2),
        Eigen::Isometry3d::Identity());
  };
  const auto on_rail = [](double um) {
    return [um](double x, double y) { return y > 3.0 && x > 10.0 && x < 30.0 ? 1e-3 * um : 0.0; };
  };
  EXPECT_FALSE(with([](double, double) { return 0.0; }));
  EXPECT_TRUE(with(on_rail(40.0)));
  EXPECT_TRUE(with(on_rail(-40.0)));
  EXPECT_FALSE(with(on_rail(8.0))) << "less than 12 um";
  EXPECT_FALSE(with([](double x, double y) { return 0.0006 * x - 0.001 * y; }))
      << "laid down anew, 36 um from end to end";
  EXPECT_TRUE(with([](double x, double) { return 0.003 * x; })) << "0.18 mm from end to end lie under no reed";
}

TEST(LevelledPass, AWedgeHasItsPlaceAndABarOfOneSectionSlides) {
  const LevelledPass wedge = pass_of(reed), wedge_again = pass_of(reed, 0.002, 2);
  EXPECT_FALSE(slides(wedge, wedge_again, Eigen::Isometry3d::Identity()));
  // Neither end of the bar is in view.
  const auto endless = [](double, double y) { return std::abs(y) < 6.0 ? bark(30.0, y) : 0.0; };
  EXPECT_TRUE(slides(pass_of(endless), pass_of(endless, 0.002, 2), Eigen::Isometry3d::Identity()));
  // And without anything in common nothing is fixed.
  EXPECT_TRUE(slides(wedge, wedge_again, shift(300.0, 0.0)));
}

TEST(LevelledPass, TheLongAxisIsWherePointsReachFarthest) {
  // Points on 40 x 6 mm, turned by 30 degrees.
  const double turn = std::numbers::pi / 6.0;
  const Eigen::Vector2d along(std::cos(turn), std::sin(turn)), across(-std::sin(turn), std::cos(turn));
  std::vector<Eigen::Vector3d> points;
  for (int i = -20; i <= 20; ++i) {
    for (int k = -3; k <= 3; ++k) {
      const Eigen::Vector2d p = Eigen::Vector2d(70.0, -9.0) + i * along + k * across;
      points.emplace_back(p.x(), p.y(), 0.1 * i);
    }
  }
  const LongAxis axis = long_axis_of(points);
  EXPECT_LT((axis.middle - Eigen::Vector2d(70.0, -9.0)).norm(), 1e-9);
  EXPECT_NEAR(std::abs(axis.along.dot(along)), 1.0, 1e-12);
  EXPECT_NEAR(axis.half_length, 20.0, 1e-9);
}

}  // namespace
}  // namespace canewise
