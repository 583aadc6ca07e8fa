// What the plate beside a reed says of its own plane, of its form and of the scanner. The plates are drawn by hand.
#include "scanproc/datum/plate_scatter.h"

#include <gtest/gtest.h>

#include <Eigen/LU>
#include <cmath>
#include <functional>
#include <numbers>
#include <random>
#include <vector>

namespace canewise {
namespace {

using Height = std::function<double(double x_mm, double y_mm)>;

/// A lopsided reed of 68 mm: at x = 30 its sides lie at -6.1 and 6.0.
RimFit rim() {
  RimFit fit;
  fit.left = {-6.4, 0.010, 0.0, 0.0};
  fit.right = {6.6, -0.020, 0.0, 0.0};
  fit.apex_x_mm = 0.0;
  fit.butt_x_mm = 68.0;
  return fit;
}

/// u and v of the plate's forms: 30 mm from the reed's middle they are 1.
double u_of(double x) { return (x - 34.0) / 30.0; }
double v_of(double y) { return y / 30.0; }

/// A plate on a raster of a quarter of a millimetre, wider than what is used of it; no point lies on a limit.
Eigen::Matrix3Xd plate(const Height& height, double noise_mm, std::uint64_t seed = 1) {
  std::mt19937_64 random(seed);
  std::normal_distribution<double> normal;
  std::vector<Eigen::Vector3d> points;
  for (double x = -13.963; x < 82.0; x += 0.25) {
    for (double y = -19.948; y < 20.0; y += 0.25) points.emplace_back(x, y, height(x, y) + noise_mm * normal(random));
  }
  Eigen::Matrix3Xd columns(3, static_cast<Eigen::Index>(points.size()));
  for (std::size_t i = 0; i < points.size(); ++i) columns.col(static_cast<Eigen::Index>(i)) = points[i];
  return columns;
}

double flat(double, double) { return 0.0; }

TEST(PlateScatter, PlateCountsFrom800MicrometresTo12MillimetresBesideTheRim) {
  const auto counts = [](double x, double y) { return is_beside_reed({x, y, 0.0}, rim()); };
  EXPECT_FALSE(counts(30.0, 0.0)) << "the reed itself";
  constexpr double near = 0.7, far = 0.9, beyond = 12.1;
  EXPECT_FALSE(counts(30.0, 6.0 + near));
  EXPECT_TRUE(counts(30.0, 6.0 + far));
  EXPECT_FALSE(counts(30.0, 6.0 + beyond));
  EXPECT_FALSE(counts(30.0, -6.1 - near));
  EXPECT_TRUE(counts(30.0, -6.1 - far));
  EXPECT_FALSE(counts(30.0, -6.1 - beyond));
  EXPECT_FALSE(counts(-near, 0.0));
  EXPECT_TRUE(counts(-far, 0.0));
  EXPECT_FALSE(counts(-beyond, 0.0));
  EXPECT_FALSE(counts(68.0 + near, 0.0));
  EXPECT_TRUE(counts(68.0 + far, 0.0));
  EXPECT_FALSE(counts(68.0 + beyond, 0.0));
  EXPECT_TRUE(counts(30.0, 17.9)) << "twelve millimetres from the side, not from the middle";
}

TEST(PlateScatter, OfIndependentNoiseThePlanesCovarianceIsThatOfLeastSquares) {
  // sigma^2 (B' B)^-1 with rows B = (1, x, y), over the points that count.
  constexpr double noise_mm = 0.003;
  const Eigen::Matrix3Xd points = plate(flat, noise_mm);
  // The scan lies turned and moved; the covariance is in the rim's frame all the same.
  const Eigen::Isometry3d scan_from_rim =
      Eigen::Translation3d(90.0, -40.0, 0.0) * Eigen::AngleAxisd(1.1, Eigen::Vector3d::UnitZ());
  Eigen::Matrix3Xd in_scan = scan_from_rim.linear() * points;
  in_scan.colwise() += scan_from_rim.translation();
  const PlateScatter seen = plate_scatter({in_scan, scan_from_rim.inverse(), rim(), noise_mm});
  Eigen::Matrix3d normal = Eigen::Matrix3d::Zero();
  double count = 0.0, sum_x = 0.0;
  for (Eigen::Index i = 0; i < points.cols(); ++i) {
    if (!is_beside_reed(points.col(i), rim())) continue;
    const Eigen::Vector3d basis(1.0, points(0, i), points(1, i));
    normal += basis * basis.transpose();
    count += 1.0, sum_x += points(0, i);
  }
  const Eigen::Matrix3d expected = noise_mm * noise_mm * Eigen::Matrix3d(normal.inverse());
  for (int k = 0; k < 3; ++k) {
    // From the scatter of two thousand blocks (3 %); what little slow error chance shows is added.
    EXPECT_GT(seen.plane_covariance(k, k) / expected(k, k), 0.85) << k;
    EXPECT_LT(seen.plane_covariance(k, k) / expected(k, k), 1.35) << k;
  }
  const auto correlation = [](const Eigen::Matrix3d& c) { return c(0, 1) / std::sqrt(c(0, 0) * c(1, 1)); };
  EXPECT_LT(correlation(expected), -0.5) << "the origin lies at one end of the plate";
  EXPECT_NEAR(correlation(seen.plane_covariance), correlation(expected), 0.1);

  double in_blocks = 0.0, blocks_x = 0.0;
  for (const PlateBlock& block : seen.blocks) {
    in_blocks += block.points, blocks_x += block.points * block.x_mm;
    EXPECT_LE(block.points, 25.0) << "a square millimetre";
  }
  EXPECT_NEAR(in_blocks, count, 3.0);  // Seven in a million lie beyond 4.5 standard deviations.
  EXPECT_NEAR(blocks_x / in_blocks, sum_x / count, 0.01);
  EXPECT_TRUE(seen.slow.seen);
  EXPECT_LT(seen.slow.sd_mm, 0.1 * noise_mm);
  EXPECT_EQ(seen.slow.form_mm, (std::array<double, 3>{0.0, 0.0, 0.0}));
}

TEST(PlateScatter, ABowAndATwistAreSeenAtThirtyMillimetres) {
  const auto form = [](double x, double y) { return 0.020 * u_of(x) * u_of(x) - 0.012 * u_of(x) * v_of(y); };
  const SlowError slow = plate_scatter({plate(form, 0.003), Eigen::Isometry3d::Identity(), rim(), 0.02}).slow;
  // Along, across, twist; without their signs.
  EXPECT_NEAR(slow.form_mm[0], 0.020, 3e-4);
  EXPECT_EQ(slow.form_mm[1], 0.0);
  EXPECT_NEAR(slow.form_mm[2], 0.012, 3e-4);
  const auto cross = [](double, double y) { return -0.020 * v_of(y) * v_of(y); };
  EXPECT_NEAR(plate_scatter({plate(cross, 0.003), Eigen::Isometry3d::Identity(), rim(), 0.02}).slow.form_mm[1], 0.020,
              6e-4);
}

TEST(PlateScatter, SlowErrorIsToldFromNoiseWithItsLengthAndWidensThePlane) {
  // Sixty-four waves of 8 mm in all directions, 4 um together, under 3 um of noise.
  constexpr double slow_mm = 0.004, noise_mm = 0.003;
  std::mt19937_64 random(5);
  std::uniform_real_distribution<double> uniform(0.0, 2.0 * std::numbers::pi);
  std::vector<std::array<double, 3>> waves;
  for (int k = 0; k < 64; ++k) {
    const double way = uniform(random), number = 2.0 * std::numbers::pi / 8.0;
    waves.push_back({number * std::cos(way), number * std::sin(way), uniform(random)});
  }
  const auto waving = [&](double x, double y) {
    double sum = 0.0;
    for (const auto& [a, b, phase] : waves) sum += std::cos(a * x + b * y + phase);
    return slow_mm * std::sqrt(2.0 / 64.0) * sum;
  };
  const PlateScatter quiet = plate_scatter({plate(flat, noise_mm), Eigen::Isometry3d::Identity(), rim(), 0.005});
  const PlateScatter seen = plate_scatter({plate(waving, noise_mm), Eigen::Isometry3d::Identity(), rim(), 0.005});
  // A drawn field's own deviation scatters by a tenth; means over a millimetre keep 95 % of such a wave.
  EXPECT_NEAR(seen.slow.sd_mm, slow_mm, 0.3 * slow_mm);
  EXPECT_GT(seen.slow.length_mm, 1.5);
  EXPECT_LT(seen.slow.length_mm, 6.0) << "less than a wave is alike";
  for (int k = 0; k < 3; ++k) EXPECT_GT(seen.plane_covariance(k, k), 3.0 * quiet.plane_covariance(k, k)) << k;
}

TEST(PlateScatter, TooLittlePlateShowsNoSlowError) {
  Eigen::Matrix3Xd points = plate(flat, 0.003);
  // A corner of 3 by 3 mm is all that is left.
  Eigen::Index kept = 0;
  for (Eigen::Index i = 0; i < points.cols(); ++i) {
    if (points(0, i) > 70.0 && points(0, i) < 73.0 && points(1, i) > 8.0 && points(1, i) < 11.0)
      points.col(kept++) = points.col(i);
  }
  points.conservativeResize(Eigen::NoChange, kept);
  EXPECT_FALSE(plate_scatter({points, Eigen::Isometry3d::Identity(), rim(), 0.003}).slow.seen);
  EXPECT_FALSE(find_plate_bow(points, rim(), 0.003));
}

TEST(PlateScatter, ABowThatWouldHideATipIsGivenLessItsOwnPlane) {
  const auto form = [](double x, double y) {
    return 0.050 * u_of(x) * u_of(x) + 0.020 * u_of(x) * v_of(y) + 0.002 * u_of(x);
  };
  const Eigen::Matrix3Xd points = plate(form, 0.002);
  const auto bow = find_plate_bow(points, rim(), 0.04);
  ASSERT_TRUE(bow);
  // Second differences, in which no plane shows.
  EXPECT_NEAR(bow->at_mm(64.0, 0.0) + bow->at_mm(4.0, 0.0) - 2.0 * bow->at_mm(34.0, 0.0), 0.100, 5e-4);
  EXPECT_NEAR(bow->at_mm(64.0, 15.0) - bow->at_mm(64.0, -15.0) - bow->at_mm(4.0, 15.0) + bow->at_mm(4.0, -15.0), 0.040,
              5e-4);
  // And no plane is left where the plate is seen: how thick the reed is, stays the plate's business.
  Eigen::Matrix3d normal = Eigen::Matrix3d::Zero();
  Eigen::Vector3d right = Eigen::Vector3d::Zero();
  for (Eigen::Index i = 0; i < points.cols(); ++i) {
    if (!is_beside_reed(points.col(i), rim())) continue;
    const Eigen::Vector3d basis(1.0, u_of(points(0, i)), v_of(points(1, i)));
    normal += basis * basis.transpose();
    right += bow->at_mm(points(0, i), points(1, i)) * basis;
  }
  EXPECT_LT(Eigen::Vector3d(normal.inverse() * right).cwiseAbs().maxCoeff(), 3e-3)
      << "blocks at the rim count in full; with its plane the form would have 45 um";
}

TEST(PlateScatter, AFlatPlateHasNoBow) {
  EXPECT_FALSE(find_plate_bow(plate(flat, 0.003), rim(), 0.003));
  // A mere lean is none either.
  EXPECT_FALSE(find_plate_bow(plate([](double x, double) { return 0.001 * (x - 34.0); }, 0.003), rim(), 0.04));
}

}  // namespace
}  // namespace canewise
