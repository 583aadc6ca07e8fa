// Which way leads into the reed frame, and that what is known of the place arrives in that frame's axes. Scans are
// generated; the truth is the generator's.
#include "scanproc/datum/place_reed.h"

#include <gtest/gtest.h>

#include <Eigen/LU>
#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include "fixtures/scanner.h"
#include "scanproc/core/error.h"

namespace canewise {
namespace {

constexpr double kPads_mm = 1.4;

fixtures::ScannerModel scanner() {
  fixtures::ScannerModel model = fixtures::profilometer();
  model.along_mm = 0.12;
  return model;
}

fixtures::Reed heavy_at_the_right() {
  fixtures::ReedFaults faults;
  faults.heavy_rail_um = 60.0;
  return fixtures::Reed({}, faults);
}

/// Right minus left rail, from 10 to 20 mm, by the points themselves.
double right_minus_left_mm(const Aligned& aligned) {
  double sums[2] = {0.0, 0.0}, counts[2] = {0.0, 0.0};
  for (Eigen::Index i = 0; i < aligned.points_mm.cols(); ++i) {
    const Eigen::Vector3d p = aligned.points_mm.col(i);
    if (p.x() < 10.0 || p.x() > 20.0 || std::abs(p.y()) < 5.0 || std::abs(p.y()) > 6.0) continue;
    sums[p.y() > 0.0 ? 1 : 0] += p.z();
    counts[p.y() > 0.0 ? 1 : 0] += 1.0;
  }
  return sums[1] / counts[1] - sums[0] / counts[0];
}

/// Id of what is said where mode and scans do not go together.
std::string usage(std::size_t scans, const Rig& rig, const PlaceOptions& options) {
  Cloud cloud;
  cloud.points_mm.setZero(3, 10);
  try {
    (void)place_reed(std::vector<Cloud>(scans, cloud), rig, options);
  } catch (const UsageError& error) {
    return error.message().id;
  }
  return "placed";
}

TEST(PlaceReed, ModeAndScansMustGoTogether) {
  Rig jig;
  jig.pads = Pads{kPads_mm, 2.0};
  EXPECT_EQ(usage(0, {}, {}), "scans.none");
  EXPECT_EQ(usage(0, jig, {.datum = DatumMode::pads}), "scans.none");
  EXPECT_EQ(usage(2, jig, {.datum = DatumMode::pads}), "pads.one_scan");
  EXPECT_EQ(usage(1, {}, {.datum = DatumMode::pads}), "pads.not_in_rig");
  EXPECT_EQ(usage(1, {}, {.datum = DatumMode::two_sided}), "sides.two_scans");
  EXPECT_EQ(usage(3, {}, {.datum = DatumMode::two_sided}), "sides.two_scans");
}

TEST(PlaceReed, ThePadsCovarianceIsThatOfTheirPlaneInTheReedsOwnFrame) {
  fixtures::SceneOptions scene;
  scene.content = fixtures::SceneContent::jig;
  scene.plate_margin_mm = 8.0;
  const auto scan = fixtures::scan_reed(fixtures::Reed({}), scanner(), scene, 3);  // Turned and moved anywhere.
  Rig rig;
  rig.pads = Pads{kPads_mm, 0.0};
  const Aligned aligned = place_reed({scan.cloud}, rig);
  ASSERT_EQ(aligned.datum, DatumMode::pads) << "a rig with pads means pads";
  EXPECT_TRUE(aligned.plate_blocks.empty());

  // Independent noise of 2 um over the pads' points at their true places: sigma^2 (B' B)^-1 with B = (1, x, y).
  Eigen::Matrix3d normal = Eigen::Matrix3d::Zero();
  for (Eigen::Index i = 0; i < scan.cloud.points_mm.cols(); ++i) {
    const Eigen::Vector3d p = scan.reed_from_scan * scan.cloud.points_mm.col(i);
    if (std::abs(p.z() - kPads_mm) > 0.05 || std::abs(p.y()) < 8.0) continue;
    const Eigen::Vector3d basis(1.0, p.x(), p.y());
    normal += basis * basis.transpose();
  }
  const Eigen::Matrix3d expected = 4e-6 * Eigen::Matrix3d(normal.inverse());
  const Eigen::Matrix3d& found = aligned.uncertainty.plate_plane;
  // From the scatter of some 120 blocks: each variance to 13 %.
  for (int k = 0; k < 3; ++k) {
    EXPECT_GT(found(k, k) / expected(k, k), 0.6) << k;
    EXPECT_LT(found(k, k) / expected(k, k), 1.5) << k;
  }
  const auto correlation = [](const Eigen::Matrix3d& c, int i, int k) {
    return c(i, k) / std::sqrt(c(i, i) * c(k, k));
  };
  EXPECT_LT(correlation(expected, 0, 1), -0.8) << "the pads lie about x = 36 mm, on one side of the tip";
  EXPECT_NEAR(correlation(found, 0, 1), correlation(expected, 0, 1), 0.1);
  EXPECT_NEAR(correlation(found, 0, 2), 0.0, 0.35);
  EXPECT_NEAR(correlation(found, 1, 2), 0.0, 0.35);

  // The jig's own calibration comes on top, as a height alone.
  rig.pads->u_above_table_um = 3.0;
  const Eigen::Matrix3d more = place_reed({scan.cloud}, rig).uncertainty.plate_plane - found;
  EXPECT_NEAR(more(0, 0), 9e-6, 1e-12);
  EXPECT_LT((more.bottomRightCorner<2, 2>().cwiseAbs().maxCoeff()), 1e-15);
}

TEST(PlaceReed, TheTiesCovarianceStandsInTheReedsFrameWhereverTheScannersLies) {
  fixtures::SceneOptions scene;
  scene.content = fixtures::SceneContent::on_carrier;
  scene.plate_margin_mm = 22.0;
  scene.balls = fixtures::carrier_balls();
  const Cloud top = fixtures::scan_reed(fixtures::Reed({}), scanner(), scene, 4).cloud;
  scene.content = fixtures::SceneContent::from_below;
  const Cloud underside = fixtures::scan_reed(fixtures::Reed({}), scanner(), scene, 5).cloud;
  // The same scan in other axes: a quarter turn, so that the balls fall into like blocks, and far away.
  Cloud elsewhere = top;
  const Eigen::Isometry3d moved =
      Eigen::Translation3d(200.0, -150.0, 80.0) * Eigen::AngleAxisd(0.5 * std::numbers::pi, Eigen::Vector3d::UnitZ());
  elsewhere.points_mm = moved.linear() * elsewhere.points_mm;
  elsewhere.points_mm.colwise() += moved.translation();
  const Aligned here = place_reed({top, underside}, {}), there = place_reed({elsewhere, underside}, {});
  ASSERT_EQ(here.datum, DatumMode::two_sided);
  ASSERT_TRUE(here.registration && there.registration);
  const auto& c = here.registration->covariance;
  for (int k = 0; k < 6; ++k) EXPECT_NEAR(there.registration->covariance(k, k) / c(k, k), 1.0, 0.1) << k;

  // A small motion of the table lifts it by t_z + w_x y - w_y x: height, slope along x and slope along y.
  const Eigen::Matrix3d& plane = here.uncertainty.plate_plane;
  EXPECT_NEAR(plane(0, 0), c(2, 2), 1e-12);
  EXPECT_NEAR(plane(1, 1), c(4, 4), 1e-15);
  EXPECT_NEAR(plane(2, 2), c(3, 3), 1e-15);
  EXPECT_NEAR(plane(0, 1), -c(2, 4), 1e-14);
  EXPECT_NEAR(plane(0, 2), c(2, 3), 1e-14);
  EXPECT_NEAR(plane(1, 2), -c(4, 3), 1e-16);
  // Least squares over the balls' caps know a ball's height to 0.27 um in each scan; four balls about x = 38 mm, 36 mm
  // from it in the mean, know that of the tip to 0.28 um, more where they disagree.
  EXPECT_GT(std::sqrt(plane(0, 0)), 0.00018);
  EXPECT_LT(std::sqrt(plane(0, 0)), 0.0007);
}

TEST(PlaceReed, PassesOfAMirroringRigAreTurnedRightOnce) {
  fixtures::SceneOptions scene;
  scene.mirrored = true;
  scene.random_pose = false;
  Rig rig;
  rig.mirrored = true;
  const fixtures::Reed reed = heavy_at_the_right();
  const Cloud one = fixtures::scan_reed(reed, scanner(), scene, 6).cloud,
              other = fixtures::scan_reed(reed, scanner(), scene, 7).cloud;
  EXPECT_GT(right_minus_left_mm(place_reed({one}, rig)), 0.03);
  const Aligned joined = place_reed({one, other}, rig);
  EXPECT_TRUE(joined.registration.has_value());
  EXPECT_GT(right_minus_left_mm(joined), 0.03);
}

TEST(PlaceReed, ATrayOfAMirroringRigIsSplitFromTheTrueLeft) {
  fixtures::ReedShape shorter;
  shorter.length_mm = 64.5;
  fixtures::SceneOptions scene;
  scene.mirrored = true;
  scene.neighbours = {fixtures::Reed(shorter)};  // To the right; 20 mm from middle to middle.
  auto scan = fixtures::scan_reed(heavy_at_the_right(), scanner(), scene, 8);
  Cloud& tray = scan.cloud;
  tray.u_mm.resize(tray.points_mm.cols());
  for (Eigen::Index i = 0; i < tray.u_mm.size(); ++i) tray.u_mm(i) = static_cast<float>(tray.points_mm(1, i));
  Rig rig;
  rig.mirrored = true;
  auto parts = split_reeds(tray, rig);
  ASSERT_EQ(parts.size(), 2U);
  constexpr std::array lengths{68.0, 64.5};
  for (std::size_t k = 0; k < 2; ++k) {
    // The other reed is gone with a margin, the plate is not; what each point came with stays with it.
    std::size_t foreign = 0, plate = 0, mixed = 0;
    for (Eigen::Index i = 0; i < parts[k].points_mm.cols(); ++i) {
      const Eigen::Vector3d p = scan.reed_from_scan * parts[k].points_mm.col(i);
      const double from_other = -p.y() - (k == 0 ? 20.0 : 0.0);  // The scan is mirrored.
      foreign += p.x() > -0.5 && p.x() < lengths.at(1 - k) + 0.5 && std::abs(from_other) < 6.5;
      plate += std::abs(p.z()) < 0.01;
      mixed += parts[k].u_mm(i) != static_cast<float>(parts[k].points_mm(1, i));
    }
    EXPECT_EQ(foreign, 0U) << k;
    EXPECT_EQ(mixed, 0U) << k;
    EXPECT_GT(plate, 20000U) << k;
    parts[k].u_mm.resize(0);
    const Aligned aligned = place_reed({parts[k]}, rig);
    EXPECT_NEAR(aligned.outline.length_mm, lengths.at(k), 0.06) << k;
    EXPECT_NEAR(right_minus_left_mm(aligned), k == 0 ? 0.06 : 0.0, 0.01) << k;
  }
}

}  // namespace
}  // namespace canewise
