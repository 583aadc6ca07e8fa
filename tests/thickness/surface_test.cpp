// One side's heights from its points. Truths are surfaces that the points were put on, with known noise.
#include "scanproc/thickness/surface.h"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <random>
#include <vector>

#include "tests/support/refusals.h"

namespace canewise {
namespace {

using Index = Eigen::Index;
using Heights = std::function<double(double x_mm, double y_mm)>;
const Grid kGrid{0.25, 72, 40};
constexpr double kSpacing_mm = 0.0625;  // Four points in each bin, 96 in each footprint.

double flat(double x_mm, double y_mm) { return 2.0 + 0.03 * x_mm - 0.02 * y_mm; }

struct Scan {
  Eigen::Matrix3Xd points_mm;
  Outline outline;
};
Scan scan_of(const Heights& heights, double noise_mm) {
  Scan scan;
  scan.outline.left.offset_mm = -4.0, scan.outline.right.offset_mm = 4.0;
  scan.outline.length_mm = 16.0;
  std::mt19937_64 random(11);
  std::normal_distribution<double> noise(0.0, noise_mm);
  constexpr Index along = 288, across = 160;
  scan.points_mm.resize(3, along * across);
  for (Index k = 0; k < scan.points_mm.cols(); ++k) {
    const double x = (static_cast<double>(k / across) + 0.5) * kSpacing_mm,
                 y = (static_cast<double>(k % across - across / 2) + 0.5) * kSpacing_mm;
    scan.points_mm.col(k) << x, y, heights(x, y) + noise(random);
  }
  return scan;
}
Surface surface_of(const Scan& scan, double margin_mm = 0.2) {
  return measure_surface(points_by_band(scan.points_mm, {}, {scan.outline, margin_mm}, kGrid), kGrid);
}

/// Of the cells 1.5 mm and more inside the rim: mean and root mean square of what they are off.
struct Off {
  double mean_mm = 0.0, rms_mm = 0.0, cells = 0.0;
};
Off off_from(const Surface& surface, const Heights& truth) {
  Off off;
  for (Index r = 0; r < kGrid.rows; ++r) {
    for (Index c = 0; c < kGrid.columns; ++c) {
      const double x = kGrid.x_mm(r), y = kGrid.y_mm(c);
      if (x < 1.5 || x > 14.5 || std::abs(y) > 2.5) continue;
      const double by = static_cast<double>(surface.height_mm(r, c)) - truth(x, y);
      off.mean_mm += by, off.rms_mm += by * by, off.cells += 1.0;
    }
  }
  off.mean_mm /= off.cells;
  off.rms_mm = std::sqrt(off.rms_mm / off.cells);
  return off;
}

TEST(Surface, OfAPlaneIsThePlaneWithNoiseOverTheRootOfItsFootprintsPoints) {
  constexpr double noise_mm = 0.005, u_mm = noise_mm / 9.797959;  // Root of 96.
  const Surface surface = surface_of(scan_of(flat, noise_mm));
  const Off off = off_from(surface, flat);
  EXPECT_NEAR(off.mean_mm, 0.0, 1e-4);
  EXPECT_NEAR(off.rms_mm, u_mm, 0.15 * u_mm);
  EXPECT_NEAR(surface.u_local_mm(30, 20), u_mm, 0.1 * u_mm) << "and it says so";
  EXPECT_NEAR(surface.slope_x(30, 20), 0.03, 0.01);
  EXPECT_NEAR(surface.slope_y(30, 20), -0.02, 0.015);
  EXPECT_NEAR(surface.point_noise_mm, noise_mm, 0.03 * noise_mm);
  EXPECT_NEAR(surface.noise.bin_sd_mm, noise_mm / 2.0, 0.05 * noise_mm) << "four points a bin";
  EXPECT_NEAR(surface.noise.covariance_sum_mm2, noise_mm * noise_mm / 4.0, 0.15 * noise_mm * noise_mm / 4.0);
  EXPECT_GT(surface.noise.filled_share, 0.98);
  EXPECT_LT(surface.outlier_share, 1e-4);
}

// A plane over a footprint of 0.75 by 0.5 mm lies 0.9 um too high in this hollow along, and 2.1 um too low under this
// crest across.
TEST(Surface, IsNotFlattenedByItsPlanes) {
  const auto hollow = [](double x, double) { return 2.0 + 0.02 * (x - 8.0) * (x - 8.0); };
  const auto crest = [](double, double y) { return 2.0 - 0.1 * y * y; };
  EXPECT_NEAR(off_from(surface_of(scan_of(hollow, 0.001)), hollow).mean_mm, 0.0, 6e-5);
  EXPECT_NEAR(off_from(surface_of(scan_of(crest, 0.001)), crest).mean_mm, 0.0, 6e-5);
}

TEST(Surface, IsNotRaisedByOutliers) {
  Scan scan = scan_of(flat, 0.002);
  double raised = 0.0;
  for (Index k = 0; k < scan.points_mm.cols(); k += 41, raised += 1.0) scan.points_mm(2, k) += 0.2;
  const Surface surface = surface_of(scan);
  EXPECT_NEAR(off_from(surface, flat).mean_mm, 0.0, 5e-5) << "0.2 mm over 41 would be 4.9 um";
  EXPECT_NEAR(surface.outlier_share, 1.0 / 41.0, 0.001);
  EXPECT_NEAR(surface.point_noise_mm, 0.002, 4e-4);
}

TEST(Surface, IsMeasuredInsideTheOutlineWhereThereArePoints) {
  Scan scan = scan_of(flat, 0.002);
  // A hole of 2 by 2 mm.
  for (Index k = 0; k < scan.points_mm.cols(); ++k) {
    if (std::abs(scan.points_mm(0, k) - 7.0) < 1.0 && std::abs(scan.points_mm(1, k)) < 1.0) scan.points_mm(0, k) = -5.0;
  }
  const Surface surface = surface_of(scan);
  for (const Field* field : {&surface.height_mm, &surface.u_local_mm, &surface.slope_x, &surface.slope_y}) {
    ASSERT_EQ(field->rows(), kGrid.rows);
    ASSERT_EQ(field->cols(), kGrid.columns);
    for (const auto& [row, column] : std::vector<std::pair<Index, Index>>{{27, 19}, {28, 20}, {26, 16}, {29, 23}})
      EXPECT_TRUE(std::isnan((*field)(row, column))) << row << ' ' << column;
    EXPECT_FALSE(std::isnan((*field)(22, 20))) << "before the hole";
    EXPECT_FALSE(std::isnan((*field)(28, 25))) << "beside it";
    // Sides at 4 mm less a margin of 0.2 mm: the cell at 3.875 mm is out, that at 3.625 mm is in.
    EXPECT_TRUE(std::isnan((*field)(28, 35)));
    EXPECT_FALSE(std::isnan((*field)(28, 34)));
    EXPECT_TRUE(std::isnan((*field)(28, 4)));
    EXPECT_FALSE(std::isnan((*field)(28, 5)));
    EXPECT_TRUE(std::isnan((*field)(70, 20))) << "behind the butt";
  }
}

TEST(Surface, NeedsAHundredPointsOnTheReed) {
  Scan scan = scan_of(flat, 0.002);
  // 99 on the reed, close together, and as many as there were beside it.
  for (Index k = 0; k < scan.points_mm.cols(); ++k) {
    if (k < 99)
      scan.points_mm.col(k) << 5.0 + 0.1 * static_cast<double>(k / 10), 0.1 * static_cast<double>(k % 10), 2.0;
    else
      scan.points_mm(1, k) = 4.5;
  }
  EXPECT_EQ(test::refusal_of([&] { return surface_of(scan); }).id, "thickness.few_points");
}

}  // namespace
}  // namespace canewise
