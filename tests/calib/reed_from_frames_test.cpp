// A reed measured from frames of a laser line, all the way from rendered pictures: its thickness and its uncertainty.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <Eigen/Eigenvalues>
#include <mutex>
#include <random>

#include "calib/rig_budget.h"
#include "fixtures/rig_session.h"
#include "fixtures/scanner.h"
#include "scanproc/core/budget.h"
#include "scanproc/core/parallel.h"
#include "scanproc/pipeline/pipeline.h"
#include "tests/support/scans.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

constexpr double kTravel_mm = 0.2, kWay_mm = 78.0;

/// Error of the vamp's cells.
struct Errors {
  double count = 0, squares = 0, sum = 0, inside = 0, zones = 0, zones_inside = 0;
};

void add_errors(const Result& result, const fixtures::Reed& reed, Errors& errors) {
  const ThicknessMap& map = result.map;
  std::array<double, 24> sums{}, counts{};
  for (Eigen::Index r = 0; r < map.grid.rows; ++r) {
    for (Eigen::Index c = 0; c < map.grid.columns; ++c) {
      const auto label = result.assessment.zones.label(r, c);
      if (label < 0 || !map.measured(r, c)) continue;
      const double error =
          static_cast<double>(map.thickness_mm(r, c)) - reed.thickness_mm(map.grid.x_mm(r), map.grid.y_mm(c));
      errors.count += 1, errors.squares += error * error, errors.sum += error;
      errors.inside += std::abs(error) <= kCoverage95 * static_cast<double>(map.u_mm(r, c));
      const auto zone = static_cast<std::size_t>(2 * label + (2 * c < map.grid.columns ? 0 : 1));
      sums.at(zone) += error, counts.at(zone) += 1;
    }
  }
  for (const auto& zone : result.assessment.zone_thickness) {
    const auto k = static_cast<std::size_t>(2 * ZoneMap::label_of(zone.zone.along, zone.zone.across) +
                                            (zone.zone.side == Side::left ? 0 : 1));
    if (counts.at(k) == 0) continue;
    errors.zones += 1;
    errors.zones_inside += std::abs(sums.at(k) / counts.at(k)) <= kCoverage95 * zone.thickness.u_mm;
  }
}

/// The rig as a person writes it: normal and distance, the way from frame to frame, no uncertainties.
std::string by_hand(const fixtures::VirtualRig& rig) {
  const Camera& c = rig.camera;
  const Eigen::Vector3d n = rig.sheet_normal, step = rig.travel_per_frame_mm * rig.motion;
  return fmt::format(
      "[camera]\nwidth = {}\nheight = {}\nfx = {:.4f}\nfy = {:.4f}\ncx = {:.4f}\ncy = {:.4f}\ndistortion = [{}, {}, "
      "{}, "
      "{}, {}]\n[laser_plane]\nnormal = [{:.9f}, {:.9f}, {:.9f}]\ndistance_mm = {:.7f}\ncrosses_columns = {}\n"
      "line_sigma_px = {}\n[stage]\nstep_mm = [{:.9f}, {:.9f}, {:.9f}]\n",
      c.width, c.height, c.fx, c.fy, c.cx, c.cy, c.k1, c.k2, c.p1, c.p2, c.k3, n.x(), n.y(), n.z(),
      rig.sheet_distance_mm, rig.true_rig().laser_plane->crosses_columns, rig.line_sigma_px, step.x(), step.y(),
      step.z());
}

TEST(ReedFromFrames, ThicknessIsRightToFiveMicrometresAtEightOfLineNoise) {
  fixtures::VirtualRig rig = fixtures::small_virtual_rig();
  ASSERT_EQ(rig.line_noise_um, 8.0);
  rig.travel_per_frame_mm = kTravel_mm;
  const fixtures::Reed reed({}, test::rough_cane(3));
  fixtures::ReedOnStage scene;
  scene.reed = &reed;
  scene.apex_x_mm = 5.0, scene.apex_y_mm = 0.4, scene.yaw_deg = 1.5;
  const test::TempFolder folder;
  fixtures::write_frames(folder.path() / "frames", rig, scene, kTravel_mm, static_cast<int>(kWay_mm / kTravel_mm), 3);
  MeasureInputs inputs;
  inputs.scans = {folder.path() / "frames"};
  rig.travel_per_frame_mm = kTravel_mm;
  inputs.rig = read_rig(folder.file("rig.toml", by_hand(rig)));
  std::filesystem::remove(folder.path() / "frames" / "scan.toml");  // Says what the stage says, not what it does.
  // A person's decimals: of the plane 0.1 um, of a direction a hundredth of a second of arc.
  EXPECT_LT((inputs.rig.laser_plane->q - rig.true_rig().laser_plane->q).norm() / rig.sheet_q().norm(), 1e-7);
  EXPECT_LT((inputs.rig.stage->motion * inputs.rig.stage->travel_per_frame_mm - kTravel_mm * rig.motion).norm(), 1e-7);
  const Result result = measure(inputs);
  EXPECT_EQ(result.scans.front().format, "390 laser-line frames");
  Errors errors;
  add_errors(result, reed, errors);
  const double rms_um = 1e3 * std::sqrt(errors.squares / errors.count);
  std::printf("cells %.0f, rms %.2f um, bias %.2f um\n", errors.count, rms_um, 1e3 * errors.sum / errors.count);
  EXPECT_GT(errors.count, 5500) << "nearly the whole vamp";
  EXPECT_LT(rms_um, 5.0);
  EXPECT_NEAR(result.outline.length_mm, reed.shape().length_mm, 0.05);
}

/// One standard-normal draw of a covariance.
Eigen::VectorXd drawn(const Eigen::MatrixXd& covariance, std::mt19937_64& random) {
  const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> eigen(covariance);
  std::normal_distribution<double> normal;
  Eigen::VectorXd values(covariance.rows());
  for (Eigen::Index k = 0; k < values.size(); ++k)
    values(k) = normal(random) * std::sqrt(std::max(0.0, eigen.eigenvalues()(k)));
  return eigen.eigenvectors() * values;
}

TEST(ReedFromFrames, ItsStatedUncertaintyHoldsWhateverTheCalibrationGotWrong) {
  // Seating, table and tip drawn from their priors; plane and stage wrong by what their covariances allow.
  constexpr std::uint64_t scans = 10;
  Errors errors;
  std::mutex lock;
  run_parts([&](std::size_t part) {
    for (std::uint64_t seed = part; seed < scans; seed += kParallelParts) {
      std::mt19937_64 random(seed + 40);
      fixtures::VirtualRig rig = fixtures::small_virtual_rig();
      constexpr double travel_mm = 0.25;
      rig.travel_per_frame_mm = travel_mm;
      const fixtures::Reed reed({}, test::rough_cane(seed));
      const fixtures::Nuisance nuisance = fixtures::draw_nuisance({}, random);
      fixtures::ReedOnStage scene;
      scene.reed = &reed;
      scene.lie = nuisance.lie;
      scene.apex_x_mm = 5.0, scene.apex_y_mm = 0.4, scene.yaw_deg = 1.5;
      rig.penetration_um = nuisance.penetration_um;
      rig.plate_height_mm = [&](double x, double y) {
        const double u = (x - 39.0) / 30.0, v = y / 30.0;
        return 1e-3 *
               (nuisance.plate_bow_x_um * u * u + nuisance.plate_bow_y_um * v * v + nuisance.plate_twist_um * u * v);
      };
      Rig believed = rig.true_rig();
      // Standard deviations as the calibrations of this rig have them (virtual_rig_test).
      believed.laser_plane->covariance = 2.2e-11 * Eigen::Matrix3d::Identity();
      believed.stage->covariance = 4e-7 * Eigen::Matrix3d::Identity();
      believed.laser_plane->q += drawn(believed.laser_plane->covariance, random);
      believed.stage->motion += drawn(believed.stage->covariance, random);
      believed.scale_parts["stage"] = std::sqrt(4e-7);
      believed.scale_parts["plane"] = 4e-4;
      combine_scale(believed);
      const test::TempFolder folder;
      fixtures::write_frames(folder.path() / "frames", rig, scene, travel_mm, static_cast<int>(kWay_mm / travel_mm),
                             seed + 11);
      MeasureInputs inputs;
      inputs.scans = {folder.path() / "frames"};
      inputs.rig = believed;
      const Result result = measure(inputs);
      const std::scoped_lock guard(lock);
      add_errors(result, reed, errors);
    }
  });
  std::printf("cells within U95: %.1f %%, zones %.1f %%\n", 100 * errors.inside / errors.count,
              100 * errors.zones_inside / errors.zones);
  // Errors of one scan hang together through tip lift, table and seating: ten scans are about 25 independent draws, of
  // which 95 +- 4.4 % lie inside (one standard deviation).
  EXPECT_GT(errors.inside / errors.count, 0.86);
  EXPECT_GT(errors.zones_inside / errors.zones, 0.84);
  // Not by being far too large: the cells' errors are half as large as U95 at least.
  EXPECT_LT(errors.inside / errors.count, 0.999);
}

}  // namespace
}  // namespace canewise
