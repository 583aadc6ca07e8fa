// The bark as a cylinder, wherever its crown lies, and the cells where the map shows bark instead of cut. Maps are made
// here: a blank of 13 by 68 mm with a bark of 12.2 mm radius.
#include "scanproc/assess/bark.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <numbers>
#include <random>

#include "scanproc/core/budget.h"
#include "scanproc/core/error.h"

namespace canewise {
namespace {

constexpr double kRadius_mm = 12.2, kHeight_mm = 3.05, kSlope = 0.0012, kOrigin_mm = 54.0;
constexpr Stretch kPlain{42.0, 66.5, kOrigin_mm};

double cylinder_mm(double x, double y, double crown_y) {
  const double off = y - crown_y;
  return kHeight_mm + kSlope * (x - kOrigin_mm) - (kRadius_mm - std::sqrt(kRadius_mm * kRadius_mm - off * off));
}

template <typename Height>
ThicknessMap map_of(const Height& height) {
  ThicknessMap map;
  map.grid = {0.25, 272, 52};
  map.thickness_mm.resize(272, 52);
  for (Eigen::Index r = 0; r < 272; ++r) {
    for (Eigen::Index c = 0; c < 52; ++c)
      map.thickness_mm(r, c) = static_cast<float>(height(map.grid.x_mm(r), map.grid.y_mm(c)));
  }
  return map;
}

TEST(Bark, ACylinderIsGivenBackWithItsCrownWhereverThatLies) {
  for (const double crown_y : {-0.3, -0.1, 0.0, 0.2}) {
    const ThicknessMap map = map_of([&](double x, double y) { return cylinder_mm(x, y, crown_y); });
    const Bark bark = fit_bark(map, kSlope, kPlain);
    EXPECT_NEAR(bark.crown_y_mm.value, crown_y, 1e-4);
    EXPECT_NEAR(bark.radius_mm.value, kRadius_mm, 1e-3);
    EXPECT_NEAR(bark.height_mm.value, kHeight_mm, 1e-5);
    for (const double y : {-5.0, 0.0, 5.0}) EXPECT_NEAR(bark.at(60.0, y), cylinder_mm(60.0, y, crown_y), 2e-5) << y;
  }
}

// Cane is ridged along the fibre: whole strips are too high or too low, and a thousand cells of one strip tell no more
// than ten.
TEST(Bark, ItsUncertaintyHoldsWhereRidgesRunAlongTheReed) {
  constexpr int maps = 150;
  int radius = 0, crown = 0;
  double u_radius = 0.0;
  for (int k = 0; k < maps; ++k) {
    std::mt19937_64 random(static_cast<std::uint64_t>(k));
    std::normal_distribution<double> normal;
    std::uniform_real_distribution<double> turn(0.0, 2.0 * std::numbers::pi), wave(2.0, 5.0);
    const double crown_y = 0.1 * normal(random), length_mm = wave(random), phase = turn(random);
    const ThicknessMap map = map_of([&](double x, double y) {
      return cylinder_mm(x, y, crown_y) + 0.006 * std::sin(2.0 * std::numbers::pi * y / length_mm + phase) +
             0.003 * normal(random);
    });
    const Bark bark = fit_bark(map, kSlope, kPlain);
    radius += std::abs(bark.radius_mm.value - kRadius_mm) <= kCoverage95 * bark.radius_mm.u;
    crown += std::abs(bark.crown_y_mm.value - crown_y) <= kCoverage95 * bark.crown_y_mm.u;
    u_radius += bark.radius_mm.u / maps;
  }
  EXPECT_GE(radius, maps * 88 / 100);
  EXPECT_GE(crown, maps * 88 / 100);
  EXPECT_LT(u_radius, 0.1) << "a width that says nothing holds everything";
}

TEST(Bark, TooLittleOfItIsRefused) {
  ThicknessMap map = map_of([](double x, double y) { return cylinder_mm(x, y, 0.0); });
  map.thickness_mm.bottomRows(120).setConstant(std::numeric_limits<float>::quiet_NaN());
  EXPECT_THROW((void)fit_bark(map, kSlope, kPlain), NotMeasurable);
}

Bark bark_at(double crown_y) {
  Bark bark;
  bark.height_mm.value = kHeight_mm;
  bark.radius_mm.value = kRadius_mm;
  bark.slope = kSlope;
  bark.from_x_mm = kOrigin_mm;
  bark.crown_y_mm.value = crown_y;
  return bark;
}

/// A cut that is flat across, ends in a wall where the vamp ends, and was made into `blank_mm`.
constexpr double kVamp_mm = 33.0;
template <typename Blank>
ThicknessMap cut_into(const Blank& blank_mm) {
  return map_of(
      [&](double x, double y) { return x < kVamp_mm ? std::min(blank_mm(x, y), 0.1 + 0.06 * x) : blank_mm(x, y); });
}

TEST(UncutSurface, IsTheBarkWhereTheCutDoesNotReachIt) {
  const double crown_y = 0.2;
  const ThicknessMap map = cut_into([&](double x, double y) { return cylinder_mm(x, y, crown_y); });
  const UncutSurface surface(map, bark_at(crown_y), kVamp_mm);
  for (Eigen::Index r = 0; r < 272; ++r) {
    for (Eigen::Index c = 0; c < 52; ++c) {
      const double x = map.grid.x_mm(r), y = map.grid.y_mm(c);
      const double below = cylinder_mm(x, y, crown_y) - (0.1 + 0.06 * x);
      if (x < kVamp_mm && below > 0.1) {
        EXPECT_FALSE(surface.is_uncut(r, c)) << x << ", " << y;
      }
      if (x > kVamp_mm || below < 0.05) {
        EXPECT_TRUE(surface.is_uncut(r, c)) << x << ", " << y;
      }
    }
  }
}

// What filing left of the bark's corners is no cut either, though it lies far below the bark.
TEST(UncutSurface, IsTheFiledFaceAsWell) {
  const auto filed = [](double x, double y) {
    const double facet = 0.2 * std::max(0.0, std::abs(y) - 3.5) * (x < kVamp_mm + 4.0 ? 1.0 : 0.0);
    return cylinder_mm(x, y, 0.0) - facet;
  };
  const ThicknessMap map = cut_into(filed);
  const UncutSurface surface(map, bark_at(0.0), kVamp_mm);
  int facet_cells = 0;
  for (Eigen::Index r = 0; r < 272; ++r) {
    for (Eigen::Index c = 0; c < 52; ++c) {
      const double x = map.grid.x_mm(r), y = map.grid.y_mm(c), below = filed(x, y) - (0.1 + 0.06 * x);
      if (x > kVamp_mm || std::abs(y) < 4.5) continue;
      if (below < 0.04) {
        EXPECT_TRUE(surface.is_uncut(r, c)) << x << ", " << y;
        ++facet_cells;
      }
      if (below > 0.1) {
        EXPECT_FALSE(surface.is_uncut(r, c)) << x << ", " << y;
      }
    }
  }
  EXPECT_GT(facet_cells, 50) << "or there is nothing to see";
}

TEST(UncutCells, AreThoseOfEitherSideAndOneCellAboutThem) {
  const ThicknessMap map = cut_into([](double x, double y) { return cylinder_mm(x, y, 0.25); });
  const UncutSurface surface(map, bark_at(0.25), kVamp_mm);
  const CellMask cells = uncut_cells(map, surface);
  int one_sided = 0;
  for (Eigen::Index r = 1; r + 1 < 272; ++r) {
    for (Eigen::Index c = 1; c + 1 < 52; ++c) {
      bool near = false;
      for (Eigen::Index i = r - 1; i <= r + 1; ++i) {
        for (Eigen::Index k = c - 1; k <= c + 1; ++k)
          near = near || surface.is_uncut(i, k) || surface.is_uncut(i, map.grid.mirrored(k));
      }
      EXPECT_EQ(cells(r, c), near) << r << ", " << c;
      one_sided += surface.is_uncut(r, c) != surface.is_uncut(r, map.grid.mirrored(c));
    }
  }
  EXPECT_GT(one_sided, 50) << "or the sides are alike";
}

}  // namespace
}  // namespace canewise
