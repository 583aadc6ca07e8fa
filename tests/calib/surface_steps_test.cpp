// Plate form, depth errors, step gauge and handedness against generated truth.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <numbers>
#include <random>

#include "calib/depth_calibration.h"
#include "calib/handedness.h"
#include "calib/plate_calibration.h"
#include "calib/step_gauge.h"
#include "fixtures/scanner.h"
#include "scanproc/core/budget.h"
#include "scanproc/core/error.h"
#include "scanproc/datum/rig_correction.h"
#include "tests/support/in_english.h"
#include "tests/support/scans.h"

namespace canewise {
namespace {

using ::testing::HasSubstr;
using ::testing::ThrowsMessage;

/// Points over 90 x 40 mm, every 0.2 mm, with noise.
template <typename Height>
Cloud surface(const Height& height, double noise_um, std::uint64_t seed) {
  std::mt19937_64 random(seed);
  std::normal_distribution<double> normal;
  std::vector<Eigen::Vector3d> points;
  for (double x = 0.0; x < 90.0; x += 0.2) {
    for (double y = -20.0; y < 20.0; y += 0.2)
      points.emplace_back(x, y, height(x, y) + 1e-3 * noise_um * normal(random));
  }
  Cloud cloud;
  cloud.points_mm.resize(3, static_cast<Eigen::Index>(points.size()));
  for (std::size_t i = 0; i < points.size(); ++i) cloud.points_mm.col(static_cast<Eigen::Index>(i)) = points[i];
  cloud.unit_known = true;
  return cloud;
}

double bowed(double x, double y) {
  const double u = (x - 45.0) / 30.0, v = y / 30.0;
  return 0.012 * u * u - 0.008 * v * v + 0.004 * u * v;
}

TEST(PlateForm, ItIsFoundAndTakenOff) {
  std::vector<Cloud> scans;
  for (std::uint64_t seed = 0; seed < 3; ++seed)
    scans.push_back(surface([](double x, double y) { return 5.0 + 0.01 * x + bowed(x, y); }, 8.0, seed));
  const PlateCalibration found = calibrate_plate(scans, {});
  Rig rig;
  rig.plate_form = found.found;
  Cloud again = surface([](double x, double y) { return 5.0 + 0.01 * x + bowed(x, y); }, 0.0, 9);
  EXPECT_THAT(test::each_in_english(correct_by_rig(again, rig)), testing::ElementsAre(HasSubstr("was taken off")));
  // What is left of a noise-free scan about its own plane: the map's own noise.
  Eigen::MatrixXd design(again.points_mm.cols(), 3);
  design.col(0).setOnes();
  design.rightCols<2>() = again.points_mm.topRows<2>().transpose();
  const Eigen::VectorXd z = again.points_mm.row(2).transpose();
  const Eigen::VectorXd left = z - design * design.colPivHouseholderQr().solve(z);
  const double rms_um = 1e3 * std::sqrt(left.squaredNorm() / static_cast<double>(left.size()));
  EXPECT_LT(rms_um, 0.6);
  EXPECT_GT(found.form_um, 5.0);
  EXPECT_NEAR(found.noise_um, 10.0, 3.0) << "noise and form together";
  // 100 points a tile and three scans leave 0.46 um of 8, a little less after smoothing.
  EXPECT_NEAR(found.found.u_um, 8.0 / std::sqrt(300.0), 0.1);
  EXPECT_LT(found.left_over_um, 1.0);
}

TEST(PlateForm, WhatDriftsFromScanToScanIsFoundWithItsLength) {
  for (const double drift_um : {0.0, 3.0}) {
    std::vector<Cloud> scans;
    for (std::uint64_t seed = 0; seed < 6; ++seed) {
      std::mt19937_64 random(seed + 77);
      std::uniform_real_distribution<double> turn(0.0, 2.0 * std::numbers::pi);
      std::array<std::array<double, 2>, 12> waves{};
      for (auto& wave : waves) wave = {turn(random), turn(random)};
      scans.push_back(surface(
          [&](double x, double y) {
            double sum = 0.0;
            for (const auto& [way, phase] : waves)
              sum += std::cos(2.0 * std::numbers::pi / 16.0 * (x * std::cos(way) + y * std::sin(way)) + phase);
            return bowed(x, y) + 1e-3 * drift_um * std::sqrt(2.0 / 12.0) * sum;
          },
          5.0, seed));
    }
    const PlateCalibration found = calibrate_plate(scans, {});
    // Tiles of two millimetres that lie side by side share most of a wave of sixteen; the next scan's own adds a sixth.
    EXPECT_NEAR(found.slow_um, drift_um, 0.15 * drift_um + 0.15) << "without drift, what noise hides";
    if (drift_um > 0.0) {
      EXPECT_NEAR(found.slow_length_mm, 8.0, 3.0);
    }
  }
  EXPECT_TRUE(std::isnan(calibrate_plate({surface(bowed, 5.0, 1)}, {}).slow_um)) << "one scan shows no drift";
}

TEST(PlateForm, AScanOfThePlateElsewhereIsNotChanged) {
  std::vector<Cloud> scans{surface(bowed, 5.0, 1), surface(bowed, 5.0, 2)};
  Rig rig;
  rig.plate_form = calibrate_plate(scans, {}).found;
  Cloud moved = surface([](double x, double y) { return 3.0 + bowed(x, y); }, 5.0, 3);
  const Eigen::Matrix3Xd before = moved.points_mm;
  EXPECT_THAT(test::each_in_english(correct_by_rig(moved, rig)), testing::ElementsAre(HasSubstr("not taken off")));
  EXPECT_EQ(moved.points_mm, before);
}

TEST(PlateForm, WhatIsNotEmptyIsRefused) {
  const auto with_block = [](double x, double y) { return x > 40 && x < 60 && std::abs(y) < 8 ? 1.0 : 0.0; };
  EXPECT_THAT([&] { (void)calibrate_plate({surface(with_block, 5.0, 1)}, {}); },
              ThrowsMessage<InputError>(HasSubstr("off the plate")));
  EXPECT_THAT(
      [&] {
        (void)calibrate_plate(
            {surface(bowed, 5.0, 1), surface([](double x, double y) { return 4.0 + bowed(x, y); }, 5.0, 2)}, {});
      },
      ThrowsMessage<InputError>(HasSubstr("another place")));
}

/// A strip 12 mm wide across the plate, `scale` of its true height.
Cloud strip(double height_um, double scale, double noise_um, std::uint64_t seed, double climb_um = 0.0) {
  return surface(
      [=](double x, double y) {
        return std::abs(x - 45.0) < 6.0 && std::abs(y) < 15.0 ? scale * 1e-3 * (height_um + climb_um * y / 15.0) : 0.0;
      },
      noise_um, seed);
}

TEST(StepGauge, TheScaleIsFoundWithinItsUncertainty) {
  constexpr double true_scale = 1.004;
  int inside = 0;
  constexpr int rounds = 20;
  for (int round = 0; round < rounds; ++round) {
    std::mt19937_64 random(static_cast<std::uint64_t>(round));
    std::normal_distribution<double> normal;
    std::vector<GaugeStep> steps;
    for (const double nominal : {300.0, 1000.0}) {
      GaugeStep step{nominal, 2.0, {}};
      const double real = nominal + 2.0 * normal(random);  // The strip is not quite what it says.
      for (std::uint64_t k = 0; k < 2; ++k)
        step.scans.push_back(measure_gauge(strip(real, true_scale, 8.0, random()), nominal, {}, "strip"));
      steps.push_back(std::move(step));
    }
    const GaugeCheck check = evaluate_gauge(steps, {});
    inside += std::abs(check.scale - true_scale) <= kCoverage95 * check.u_scale;
    EXPECT_NEAR(check.correction.factor * check.scale, 1.0, 1e-12);
    EXPECT_TRUE(check.is_linear);
    EXPECT_NEAR(check.u_scale, 2.0 / std::hypot(300.0, 1000.0), 6e-4);
  }
  EXPECT_GE(inside, 17);  // Of 20 at 95 %: fewer than 17 come once in 60 such tests.
}

TEST(StepGauge, TheCorrectionMakesHeightsRight) {
  std::vector<GaugeStep> steps{{1000.0,
                                0.5,
                                {measure_gauge(strip(1000.0, 1.01, 5.0, 1), 1000.0, {}, "a"),
                                 measure_gauge(strip(1000.0, 1.01, 5.0, 2), 1000.0, {}, "b")}}};
  Rig rig;
  rig.height_scale = evaluate_gauge(steps, {}).correction;
  Cloud other = strip(700.0, 1.01, 5.0, 3);
  (void)correct_by_rig(other, rig);
  EXPECT_NEAR(measure_gauge(other, 700.0, {}, "c").height_um, 700.0, 1.0);
}

TEST(StepGauge, AStripThatIsNotWhatItSaysStandsOut) {
  std::vector<GaugeStep> steps;
  for (const double nominal : {200.0, 500.0, 1000.0}) {
    const double real = nominal == 500.0 ? 530.0 : nominal;
    steps.push_back({nominal, 1.5, {measure_gauge(strip(real, 1.0, 5.0, 1), nominal, {}, "a")}});
  }
  const GaugeCheck check = evaluate_gauge(steps, {});
  EXPECT_FALSE(check.is_linear);
  EXPECT_THAT(test::in_english(check.verdict), HasSubstr("one strip lies"));
}

TEST(StepGauge, AStripThatDoesNotLieFlatShowsInItsProfiles) {
  const GaugeScan flat = measure_gauge(strip(500.0, 1.0, 5.0, 1), 500.0, {}, "a"),
                  climbing = measure_gauge(strip(500.0, 1.0, 5.0, 1, 20.0), 500.0, {}, "b");
  EXPECT_GT(climbing.u_um, 5.0 * flat.u_um);
}

TEST(StepGauge, WhatIsNoStripIsRefused) {
  EXPECT_THAT([] { (void)measure_gauge(surface([](double, double) { return 0.0; }, 5.0, 1), 500.0, {}, "bare.ply"); },
              ThrowsMessage<InputError>(testing::AllOf(HasSubstr("bare.ply"), HasSubstr("500"))));
  // As wide as the plate: nothing beside it.
  const auto wide = [](double x, double y) { return x > 20.0 && x < 70.0 && y > -25.0 && y < 25.0 ? 0.5 : 0.0; };
  EXPECT_THROW((void)measure_gauge(surface(wide, 5.0, 1), 500.0, {}, "wide.ply"), InputError);
}

TEST(Ball, SizeAndFormComeOut) {
  // A ball of 10 mm on the plate, 20 um too large in this rig's eyes.
  const auto ball = [](double x, double y) {
    const double r = 5.010, dx = x - 45.0, dy = y, inside = r * r - dx * dx - dy * dy;
    return inside > 0.0 && dx * dx + dy * dy < 20.0 ? 5.0 + std::sqrt(inside) : 0.0;
  };
  const BallCheck check = check_ball(surface(ball, 4.0, 1), 10.0, 1.0, "ball.ply");
  EXPECT_NEAR(check.size_error_um, 20.0, 2.0);
  // The noise is vertical: of 4 um some 3.1 are radial on average over a cap of 63 degrees (the root of the mean square
  // of the cosine, 0.77 weighted by the raster's density).
  EXPECT_NEAR(check.form_95_um, 2.0 * 1.96 * 3.1, 1.0);
  EXPECT_LT(check.form_25_um, 8.0);
}

/// Frames of a flat plate as a depth camera with a wavy error sees it.
PlateView depth_view(double distance_mm, double noise_um, std::uint64_t seed, double tilt = 0.02) {
  PlateView view;
  view.name = std::to_string(distance_mm);
  DepthCamera& camera = view.folder.camera;
  camera.width = 320, camera.height = 240, camera.fx = camera.fy = 400, camera.cx = 160, camera.cy = 120,
  camera.depth_unit_mm = 0.001;
  std::mt19937_64 random(seed);
  std::normal_distribution<double> normal;
  std::vector<DepthImage> frames(8);
  for (DepthImage& frame : frames) {
    frame.columns = 320, frame.rows = 240;
    for (std::size_t v = 0; v < 240; ++v) {
      for (std::size_t u = 0; u < 320; ++u) {
        const double x = (static_cast<double>(u) - 160) / 400, y = (static_cast<double>(v) - 120) / 400;
        // Plane z = distance + tilt x z: on this ray z = distance / (1 - tilt x).
        const double z = distance_mm / (1.0 - tilt * x);
        const double error_um = (30.0 + 2.0 * (distance_mm - 50.0)) * std::sin(9.0 * x) * std::cos(7.0 * y);
        frame.values.push_back(static_cast<std::uint16_t>(std::lround(1e3 * z + error_um + noise_um * normal(random))));
      }
    }
  }
  view.folder.fused = fuse_depth(frames);
  view.folder.frames = frames.size();
  return view;
}

TEST(DepthCamera, ErrorsAreMappedAndForetellOtherDistances) {
  const DepthCalibration found =
      calibrate_depth({depth_view(50.0, 20.0, 1), depth_view(53.0, 20.0, 2), depth_view(56.0, 20.0, 3)});
  EXPECT_GT(found.before_um, 12.0);
  EXPECT_LT(found.after_um, 2.0) << "at the middle distance, foretold by the others";
  // The median of sample deviations of eight frames, the farthest left out, lies a tenth below the law's own.
  EXPECT_NEAR(found.found.noise_um, 18.0, 1.5);
  // At a distance between: within a tile the wave bends by some 5 %.
  double worst = 0.0;
  for (double u = 20.0; u < 300.0; u += 20.0) {
    const double x = (u - 160) / 400, error_um = (30.0 + 2.0 * 1.5) * std::sin(9.0 * x);
    // A plane takes what of the wave is straight: compare up to a straight line by differences of second order.
    (void)error_um;
    worst = std::max(worst, std::abs(found.found.error_mm(u, 120, 51.5) -
                                     0.5 * (found.found.error_mm(u, 120, 50.0) + found.found.error_mm(u, 120, 53.0))));
  }
  EXPECT_LT(1e3 * worst, 1e-6 + 0.01) << "linear between distances";
  EXPECT_GT(found.found.advised_frames, 1U);
}

TEST(DepthCamera, CorrectedDepthsAreFlat) {
  const DepthCalibration found =
      calibrate_depth({depth_view(50.0, 5.0, 1), depth_view(53.0, 5.0, 2), depth_view(56.0, 5.0, 3)});
  // Another distance and tilt, seen anew.
  const PlateView other = depth_view(51.7, 0.0, 4, -0.03);
  double before = 0.0, after = 0.0, n = 0.0;
  std::vector<Eigen::Vector3d> raw, mended;
  for (std::size_t i = 0; i < other.folder.fused.depth.size(); i += 7) {
    const auto u = static_cast<double>(i % 320), v = static_cast<double>(i / 320);
    const double z = 1e-3 * static_cast<double>(other.folder.fused.depth[i]), right = z - found.found.error_mm(u, v, z);
    raw.emplace_back((u - 160) / 400 * z, (v - 120) / 400 * z, z);
    mended.emplace_back((u - 160) / 400 * right, (v - 120) / 400 * right, right);
  }
  const auto rms_um = [](const std::vector<Eigen::Vector3d>& points) {
    Eigen::MatrixXd design(static_cast<Eigen::Index>(points.size()), 3);
    Eigen::VectorXd z(design.rows());
    for (std::size_t i = 0; i < points.size(); ++i) {
      design.row(static_cast<Eigen::Index>(i)) << 1.0, points[i].x(), points[i].y();
      z(static_cast<Eigen::Index>(i)) = points[i].z();
    }
    return 1e3 * std::sqrt((z - design * design.colPivHouseholderQr().solve(z)).squaredNorm() /
                           static_cast<double>(z.size()));
  };
  before = rms_um(raw), after = rms_um(mended), n = before / after;
  EXPECT_GT(before, 10.0);
  EXPECT_LT(after, 1.5);
  EXPECT_GT(n, 8.0);
}

TEST(DepthCamera, OneDistanceOrTwoAlikeSayNothing) {
  EXPECT_THAT([] { (void)calibrate_depth({depth_view(50.0, 5.0, 1)}); },
              ThrowsMessage<InputError>(HasSubstr("one distance")));
  EXPECT_THAT(
      [] {
        (void)calibrate_depth({depth_view(50.0, 5.0, 1), depth_view(50.01, 5.0, 2)});
      },
      ThrowsMessage<InputError>(HasSubstr("same")));
}

/// A reed with a strip of card to its right, as a rig shows it.
Cloud reed_with_mark(bool mirrored, int side, std::uint64_t seed) {
  fixtures::SceneOptions scene;
  scene.plate_margin_mm = 18.0;
  scene.random_pose = false;
  fixtures::GeneratedScan scan = fixtures::scan_reed(fixtures::Reed({}), fixtures::laser_line(), scene, seed);
  for (Eigen::Index i = 0; i < scan.cloud.points_mm.cols(); ++i) {
    const Eigen::Vector3d p = scan.reed_from_scan * scan.cloud.points_mm.col(i);
    if (p.x() > 20 && p.x() < 32 && side * p.y() > 10 && side * p.y() < 14)
      scan.cloud.points_mm.col(i) += 0.3 * (scan.reed_from_scan.linear().transpose() * Eigen::Vector3d::UnitZ());
  }
  if (mirrored) scan.cloud.points_mm.row(0) = -scan.cloud.points_mm.row(0);
  return scan.cloud;
}

TEST(Handedness, ARigThatMirrorsIsToldFromOneThatDoesNot) {
  for (std::uint64_t seed = 0; seed < 3; ++seed) {
    EXPECT_FALSE(check_handedness(reed_with_mark(false, +1, seed), {}).mirrored);
    const Handedness mirrored = check_handedness(reed_with_mark(true, +1, seed), {});
    EXPECT_TRUE(mirrored.mirrored);
    EXPECT_THAT(test::in_english(mirrored.verdict), HasSubstr("mirrors"));
    EXPECT_LT(mirrored.mark_mm.y(), -8.0);
  }
  // A rig file that already turns it right must not turn it back.
  Rig rig;
  rig.mirrored = true;
  EXPECT_TRUE(check_handedness(reed_with_mark(true, +1, 5), rig).mirrored);
}

TEST(Handedness, WithoutAMarkItSaysWhatToLayDown) {
  EXPECT_THAT(
      [] { (void)check_handedness(fixtures::scan_reed(fixtures::Reed({}), fixtures::laser_line(), {}, 1).cloud, {}); },
      ThrowsMessage<NotMeasurable>(HasSubstr("no mark")));
}

}  // namespace
}  // namespace canewise
