// What must not matter: the order of the points, repeated points, and where the scan lies in the scanner's axes.
#include <gtest/gtest.h>

#include <algorithm>
#include <numeric>
#include <random>

#include "scanproc/words/speech.h"
#include "tests/support/scans.h"

namespace canewise {
namespace {

/// Largest difference of two maps, micrometres; both must measure the same cells.
double largest_difference_um(const ThicknessMap& a, const ThicknessMap& b) {
  EXPECT_EQ(a.grid.rows, b.grid.rows);
  EXPECT_EQ(a.grid.columns, b.grid.columns);
  double largest = 0.0;
  int only_one = 0;
  for (Eigen::Index i = 0; i < std::min(a.thickness_mm.size(), b.thickness_mm.size()); ++i) {
    const double d = 1e3 * (static_cast<double>(a.thickness_mm(i)) - static_cast<double>(b.thickness_mm(i)));
    const bool missing_a = std::isnan(a.thickness_mm(i)), missing_b = std::isnan(b.thickness_mm(i));
    only_one += missing_a != missing_b;
    if (!missing_a && !missing_b) largest = std::max(largest, std::abs(d));
  }
  EXPECT_EQ(only_one, 0);
  return largest;
}

ThicknessMap map_of(Cloud cloud) { return measure_thickness(align(std::move(cloud), {}), {}); }

Cloud scan() {
  return fixtures::scan_reed(fixtures::Reed({}, test::rough_cane(2)), fixtures::laser_line(), test::drawn_scene(2), 2)
      .cloud;
}

// One step of single precision at a thickness of 2 to 4 mm is 0.24e-6 mm; sums in another order differ far less.
constexpr double kRounding_um = 0.0025;

TEST(Invariance, TheOrderOfThePointsDoesNotMatter) {
  const Cloud cloud = scan();
  std::vector<Eigen::Index> order(static_cast<std::size_t>(cloud.points_mm.cols()));
  std::iota(order.begin(), order.end(), 0);
  std::shuffle(order.begin(), order.end(), std::mt19937_64(1));
  Cloud shuffled = cloud;
  for (std::size_t i = 0; i < order.size(); ++i)
    shuffled.points_mm.col(static_cast<Eigen::Index>(i)) = cloud.points_mm.col(order[i]);
  EXPECT_LT(largest_difference_um(map_of(cloud), map_of(shuffled)), kRounding_um);
}

TEST(Invariance, RepeatedPointsAddNothing) {
  const Cloud cloud = scan();
  Cloud twice;
  twice.points_mm.resize(3, cloud.points_mm.cols() + cloud.points_mm.cols() / 3);
  twice.points_mm.leftCols(cloud.points_mm.cols()) = cloud.points_mm;
  twice.points_mm.rightCols(cloud.points_mm.cols() / 3) = cloud.points_mm.leftCols(cloud.points_mm.cols() / 3);
  const ThicknessMap once_map = map_of(cloud), twice_map = map_of(twice);
  EXPECT_LT(largest_difference_um(once_map, twice_map), kRounding_um);
  EXPECT_NEAR(once_map.u_mm(80, 26), twice_map.u_mm(80, 26), 1e-6);
}

TEST(Invariance, ARigidMotionDoesNotMatter) {
  const Cloud cloud = scan();
  const ThicknessMap reference = map_of(cloud);
  for (const std::uint64_t seed : {1U, 2U, 3U, 4U}) {
    std::mt19937_64 random(seed);
    std::normal_distribution<double> normal;
    Eigen::Quaterniond turn(normal(random), normal(random), normal(random), normal(random));
    turn.normalize();
    Cloud moved = cloud;
    moved.points_mm = (turn.toRotationMatrix() * cloud.points_mm).colwise() + Eigen::Vector3d(10.0, -70.0, 33.0);
    EXPECT_LT(largest_difference_um(reference, map_of(moved)), 0.05)
        << "a twentieth of a micrometre: a point or two may change its cell";
  }
}

TEST(Invariance, TheSameReedInTwentyPosesAgreesWithinItsUncertainty) {
  const fixtures::Reed reed({}, test::rough_cane(5));
  std::vector<test::Measurement> scans;
  for (std::uint64_t seed = 0; seed < 20; ++seed) {
    fixtures::SceneOptions scene;
    scene.raster_yaw_deg = -30.0 + 3.0 * static_cast<double>(seed);
    scans.push_back(test::measured(fixtures::scan_reed(reed, fixtures::laser_line(), scene, 100 + seed)));
  }
  for (std::size_t zone = 0; zone < 24; ++zone) {
    double mean = 0.0;
    for (const auto& scan : scans) mean += scan.assessment.zone_thickness.at(zone).thickness.mean_mm / 20.0;
    for (const auto& scan : scans) {
      const auto& one = scan.assessment.zone_thickness.at(zone).thickness;
      // The seating and all other priors stood still: only noise, plane and frame move.
      double variance = one.u_local_mm * one.u_local_mm;
      for (std::size_t k = 0; k < scan.map.common.size(); ++k) {
        const EffectSource source = scan.map.common[k].source;
        if (source == EffectSource::frame || source == EffectSource::plate_plane)
          variance += one.effects_mm[k] * one.effects_mm[k];
      }
      // 480 comparisons: 3.5 standard uncertainties are passed by chance in a fifth of such sets.
      EXPECT_LT(std::abs(one.mean_mm - mean), 4.0 * std::sqrt(variance))
          << phrase(place_of(scan.assessment.zone_thickness.at(zone).zone));
    }
  }
}

}  // namespace
}  // namespace canewise
