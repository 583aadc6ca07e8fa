// Lens terms that photographs do not determine.
#include "calib/camera_calibration.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <random>

#include "scanproc/core/budget.h"
#include "tests/support/virtual_calibration.h"

namespace canewise {
namespace {

/// Corners of boards as a camera sees them, with noise, without rendering: many calibrations in a short time.
std::vector<BoardView> views_of(const Camera& camera, double distance_mm, int count, std::uint64_t seed) {
  std::mt19937_64 random(seed);
  std::normal_distribution<double> noise(0.0, 0.05);
  std::uniform_real_distribution<double> uniform(-1.0, 1.0);
  const double square_mm = 0.09 * distance_mm * static_cast<double>(camera.width) / camera.fx;
  std::vector<BoardView> views;
  for (int i = 0; i < count; ++i) {
    BoardView view;
    view.name = "view " + std::to_string(i + 1);
    view.width = camera.width, view.height = camera.height;
    Eigen::Isometry3d pose = Eigen::Isometry3d::Identity();
    pose.linear() = (Eigen::AngleAxisd(0.5 * uniform(random), Eigen::Vector3d::UnitX()) *
                     Eigen::AngleAxisd(0.5 * uniform(random), Eigen::Vector3d::UnitY()) *
                     Eigen::AngleAxisd(0.3 * uniform(random), Eigen::Vector3d::UnitZ()))
                        .toRotationMatrix();
    pose.translation() = Eigen::Vector3d(square_mm * uniform(random), square_mm * uniform(random),
                                         distance_mm * (1.0 + 0.1 * uniform(random))) -
                         pose.linear() * Eigen::Vector3d(4.0 * square_mm, 2.5 * square_mm, 0.0);
    for (int row = 0; row < 6; ++row) {
      for (int column = 0; column < 9; ++column) {
        const Eigen::Vector2d at(square_mm * column, square_mm * row);
        const Eigen::Vector3d point = pose * Eigen::Vector3d(at.x(), at.y(), 0.0);
        const Eigen::Vector2d pixel = project(camera, point.hnormalized());
        if (pixel.x() < 0 || pixel.y() < 0 || pixel.x() > static_cast<double>(camera.width - 1) ||
            pixel.y() > static_cast<double>(camera.height - 1))
          continue;
        view.board_mm.push_back(at);
        view.pixels.emplace_back(pixel + Eigen::Vector2d(noise(random), noise(random)));
        view.corners.push_back(9 * row + column);
      }
    }
    views.push_back(std::move(view));
  }
  return views;
}

Camera camera_of(double focal_px) {
  Camera camera;
  camera.width = 800, camera.height = 600;
  camera.fx = focal_px, camera.fy = 1.001 * focal_px, camera.cx = 404.0, camera.cy = 297.0;
  camera.k1 = -0.11, camera.k2 = 0.06, camera.p1 = 4e-4, camera.p2 = -3e-4, camera.k3 = 0.02;
  return camera;
}

Board board() { return {BoardKind::chessboard, 10, 7, 3.0, 2.16}; }

bool leaves_out(const CameraCalibration& calibration, const std::string& name) {
  return std::any_of(calibration.left_out.begin(), calibration.left_out.end(),
                     [&](const LeftOutTerm& term) { return term.name == name; });
}

TEST(LensTerms, ALongLensLeavesK3OutAndAWideOneKeepsIt) {
  const CameraCalibration narrow = calibrate_camera(views_of(camera_of(4000), 300.0, 14, 1), board());
  ASSERT_TRUE(leaves_out(narrow, "k3"));
  EXPECT_EQ(narrow.found.camera.k3, 0.0);
  EXPECT_NEAR(std::sqrt(narrow.found.covariance(8, 8)), UsualLens{}.k3, 1e-9) << "unknown is not sure";
  EXPECT_GT(narrow.left_out.front().u_free, UsualLens{}.k3);
  const CameraCalibration wide = calibrate_camera(views_of(camera_of(600), 60.0, 20, 1), board());
  EXPECT_TRUE(wide.left_out.empty());
  EXPECT_LT(std::sqrt(wide.found.covariance(8, 8)), UsualLens{}.k3);
}

TEST(LensTerms, WithTermsLeftOutTheOthersStayWithinTheirStatedUncertainty) {
  // Lenses drawn from what is assumed of them, seen through long focal lengths.
  std::mt19937_64 random(11);
  std::normal_distribution<double> normal;
  const UsualLens usual;
  double inside = 0, count = 0, bent = 0;
  constexpr int seeds = 24;
  for (int seed = 0; seed < seeds; ++seed) {
    Camera truth = camera_of(3000);
    truth.k2 += 0.3 * usual.k2 * normal(random);
    truth.k3 = usual.k3 * normal(random);
    const CameraCalibration calibration =
        calibrate_camera(views_of(truth, 200.0, 14, 100 + static_cast<std::uint64_t>(seed)), board());
    bent += leaves_out(calibration, "k3");
    const Eigen::Matrix<double, 9, 1> error = calibration.found.camera.parameters() - truth.parameters();
    for (Eigen::Index k = 0; k < 9; ++k) {
      inside += std::abs(error(k)) <= kCoverage95 * std::sqrt(calibration.found.covariance(k, k));
      count += 1;
    }
  }
  EXPECT_GT(bent, 0.9 * seeds) << "k3 is not determined here";
  std::printf("%.1f %% of the parameters within U95\n", 100 * inside / count);
  // 216 values, perhaps 100 of them independent: 95 % scatter by 2.2 %. (60 lenses: 95.4 %.)
  EXPECT_GT(inside / count, 0.90);
  EXPECT_LT(inside / count, 0.995);
}

}  // namespace
}  // namespace canewise
