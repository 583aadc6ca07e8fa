// Points are summed into the half-cell bins that they lie in, about each bin's own centre.
#include "scanproc/thickness/bin_points.h"

#include <gtest/gtest.h>

#include <cstring>
#include <random>
#include <utility>

namespace canewise {
namespace {

const Grid kGrid{0.4, 100, 40};

Outline straight_reed() {
  Outline outline;
  outline.left.offset_mm = -6.5, outline.right.offset_mm = 6.5;
  outline.length_mm = 68.0;
  return outline;
}
Eigen::Matrix3Xd points_of(std::initializer_list<Eigen::Vector3d> list) {
  Eigen::Matrix3Xd points(3, static_cast<Eigen::Index>(list.size()));
  Eigen::Index k = 0;
  for (const Eigen::Vector3d& p : list) points.col(k++) = p;
  return points;
}
const auto kAll = [](const Eigen::Vector3d&, Eigen::Index, Eigen::Index) { return true; };
Bins sums_of(const Eigen::Matrix3Xd& points_mm, const Eigen::VectorXf& u_mm = {}, double margin_mm = 0.0) {
  const Outline outline = straight_reed();
  return sum_bins(points_by_band(points_mm, u_mm, {outline, margin_mm}, kGrid), kGrid, kAll);
}
double total(const Bins& bins) {
  double sum = 0.0;
  for (const PlaneMoments& m : bins.moments) sum += m.n;
  return sum;
}

TEST(BinPoints, SumPointsAboutTheirBinsCentre) {
  // Bins of 0.2 mm: the one of row 20 and of column 40, the first right of the centreline, has its centre at (4.1,
  // 0.1).
  const Bins bins = sums_of(points_of({{4.15, 0.02, 1.5}, {4.05, 0.12, 2.5}, {4.15, -0.02, 7.0}}));
  const PlaneMoments& m = bins.at(20, 40);
  EXPECT_EQ(m.n, 2.0);
  EXPECT_NEAR(m.x, 0.0, 1e-12);
  EXPECT_NEAR(m.y, -0.08 + 0.02, 1e-12);
  EXPECT_NEAR(m.z, 4.0, 1e-12);
  EXPECT_NEAR(m.xz, 0.05 * 1.5 - 0.05 * 2.5, 1e-12);
  EXPECT_NEAR(m.yz, -0.08 * 1.5 + 0.02 * 2.5, 1e-12);
  EXPECT_EQ(bins.at(20, 39).n, 1.0) << "left of the centreline";
  EXPECT_EQ(total(bins), 3.0);
  EXPECT_TRUE(bins.points.empty()) << "no weights";
}

TEST(BinPoints, CountOnlyInsideTheOutlinesMargin) {
  const Eigen::Matrix3Xd points = points_of({{20.0, 6.1, 1.0}, {20.0, 6.3, 1.0}, {20.0, -6.3, 1.0}, {20.0, 6.6, 1.0}});
  EXPECT_EQ(total(sums_of(points)), 3.0);
  EXPECT_EQ(total(sums_of(points, {}, 0.3)), 1.0);
}

TEST(BinPoints, OutsideTheGridAreNowhere) {
  Outline wide = straight_reed();
  wide.left.offset_mm = -50.0, wide.right.offset_mm = 50.0;
  // The grid reaches to 40 mm along and 8 mm to either side.
  const Eigen::Matrix3Xd points = points_of({{-0.01, 0.0, 1.0},
                                             {40.01, 0.0, 1.0},
                                             {20.0, 8.01, 1.0},
                                             {20.0, -8.01, 1.0},
                                             {1e300, 0.0, 1.0},
                                             {39.99, 7.99, 1.0},
                                             {20.0, -7.99, 1.0}});
  const Bins bins = sum_bins(points_by_band(points, {}, {wide, 0.0}, kGrid), kGrid, kAll);
  EXPECT_EQ(total(bins), 2.0);
  EXPECT_EQ(bins.at(199, 79).n, 1.0);
  EXPECT_EQ(bins.at(100, 0).n, 1.0);
}

TEST(BinPoints, AreLeftOutWhereTheCallerSaysSo) {
  const Outline outline = straight_reed();
  const Eigen::Matrix3Xd points = points_of({{4.15, 0.02, 1.5}, {4.15, 0.02, 9.0}, {4.15, 0.22, 1.5}});
  const BinnedPoints binned = points_by_band(points, {}, {outline, 0.0}, kGrid);
  const auto low = [](const Eigen::Vector3d& p, Eigen::Index, Eigen::Index) { return p.z() < 5.0; };
  EXPECT_EQ(sum_bins(binned, kGrid, low).at(20, 40).n, 1.0);
  const auto one_bin = [](const Eigen::Vector3d&, Eigen::Index r, Eigen::Index c) { return r == 20 && c == 41; };
  const Bins bins = sum_bins(binned, kGrid, one_bin);
  EXPECT_EQ(bins.at(20, 41).n, 1.0);
  EXPECT_EQ(total(bins), 1.0);
}

TEST(BinPoints, ThatTheScanIsUnsureOfCountLessByTheirVariance) {
  // 4 um are usual: 8 um count a quarter, surer points no more than once, and nothing less than a thousandth.
  const Eigen::Matrix3Xd points = points_of(
      {{2.1, 0.1, 2.0}, {4.1, 0.1, 2.0}, {6.1, 0.1, 2.0}, {8.1, 0.15, 2.0}, {10.1, 0.1, 2.0}, {10.1, 0.1, 3.0}, {}});
  Eigen::VectorXf u_mm(7);
  u_mm << 0.004F, 0.004F, 0.001F, 0.008F, 100.0F, 0.0F, 0.004F;
  const Bins bins = sums_of(points, u_mm);
  EXPECT_NEAR(bins.at(10, 40).n, 1.0, 1e-6);
  EXPECT_NEAR(bins.at(30, 40).n, 1.0, 1e-6);
  EXPECT_NEAR(bins.at(40, 40).n, 0.25, 1e-6);
  EXPECT_NEAR(bins.at(40, 40).z, 0.5, 1e-6);
  EXPECT_NEAR(bins.at(40, 40).y, 0.25 * 0.05, 1e-8);
  EXPECT_NEAR(bins.at(50, 40).n, 1.001, 1e-6) << "one of a thousandth, one that claims to be perfect";
  ASSERT_EQ(bins.points.size(), bins.moments.size());
  EXPECT_EQ(bins.points[40 * 80 + 40], 1.0F);
  EXPECT_EQ(bins.points[50 * 80 + 40], 2.0F);
}

TEST(BinPoints, SumAlikeOnAnyNumberOfThreads) {
  const Outline outline = straight_reed();
  std::mt19937_64 random(7);
  std::uniform_real_distribution<double> along(-1.0, 41.0), across(-7.0, 7.0), up(0.0, 3.0);
  Eigen::Matrix3Xd points(3, 30000);
  double inside = 0.0;
  for (Eigen::Index k = 0; k < points.cols(); ++k) {
    points.col(k) << along(random), across(random), up(random);
    inside += points(0, k) >= 0.0 && points(0, k) < 40.0 && std::abs(points(1, k)) <= 6.5 ? 1.0 : 0.0;
  }
  const auto sums = [&](std::size_t threads) {
    Bins bins(kGrid);
    with_threads(threads, [&] { bins = sum_bins(points_by_band(points, {}, {outline, 0.0}, kGrid), kGrid, kAll); });
    return bins;
  };
  const Bins one = sums(1), four = sums(4);
  EXPECT_EQ(total(one), inside);
  EXPECT_EQ(std::memcmp(one.moments.data(), four.moments.data(), one.moments.size() * sizeof(PlaneMoments)), 0);
}

}  // namespace
}  // namespace canewise
