#include "calib/board_pose.h"

#include <Eigen/Cholesky>
#include <Eigen/SVD>
#include <cmath>
#include <stdexcept>

#include "calib/by_camera.h"
#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

Eigen::Vector2d pixel_of(const Camera& camera, const Eigen::Isometry3d& pose, const Eigen::Vector2d& on_board) {
  const Eigen::Vector3d p = pose * Eigen::Vector3d(on_board.x(), on_board.y(), 0.0);
  return project(camera, p.hnormalized());
}

Eigen::VectorXd projections_of(const Camera& camera, const BoardView& view, const Eigen::Isometry3d& pose) {
  Eigen::VectorXd all(2 * static_cast<Eigen::Index>(view.pixels.size()));
  for (std::size_t i = 0; i < view.pixels.size(); ++i)
    all.segment<2>(2 * static_cast<Eigen::Index>(i)) = pixel_of(camera, pose, view.board_mm[i]);
  return all;
}

/// Pose from the homography between board and undistorted directions.
Eigen::Isometry3d first_pose(const Camera& camera, const BoardView& view) {
  const auto n = static_cast<Eigen::Index>(view.pixels.size());
  Eigen::MatrixXd rows(2 * n, 9);
  for (Eigen::Index i = 0; i < n; ++i) {
    const Eigen::Vector2d b = view.board_mm[static_cast<std::size_t>(i)];
    const Eigen::Vector2d pixel = view.pixels[static_cast<std::size_t>(i)];
    const auto found = direction_of(camera, pixel.x(), pixel.y());
    const Eigen::Vector2d d =
        found ? *found : Eigen::Vector2d((pixel.x() - camera.cx) / camera.fx, (pixel.y() - camera.cy) / camera.fy);
    rows.row(2 * i) << b.x(), b.y(), 1, 0, 0, 0, -d.x() * b.x(), -d.x() * b.y(), -d.x();
    rows.row(2 * i + 1) << 0, 0, 0, b.x(), b.y(), 1, -d.y() * b.x(), -d.y() * b.y(), -d.y();
  }
  const Eigen::JacobiSVD<Eigen::MatrixXd> svd(rows, Eigen::ComputeThinU | Eigen::ComputeFullV);
  const Eigen::Matrix<double, 9, 1> h = svd.matrixV().col(8);
  Eigen::Matrix3d homography;
  homography << h(0), h(1), h(2), h(3), h(4), h(5), h(6), h(7), h(8);
  double scale = 0.5 * (homography.col(0).norm() + homography.col(1).norm());
  if (homography(2, 2) < 0.0) scale = -scale;  // The board lies before the camera.
  homography /= scale;
  Eigen::Matrix3d turn;
  turn.col(0) = homography.col(0);
  turn.col(1) = homography.col(1);
  turn.col(2) = homography.col(0).cross(homography.col(1));
  const Eigen::JacobiSVD<Eigen::Matrix3d> nearest(turn, Eigen::ComputeFullU | Eigen::ComputeFullV);
  Eigen::Isometry3d pose = Eigen::Isometry3d::Identity();
  pose.linear() = nearest.matrixU() * nearest.matrixV().transpose();
  pose.translation() = homography.col(2);
  return pose;
}

}  // namespace

Eigen::Isometry3d moved(const Eigen::Isometry3d& pose, const Vector6d& step) {
  const double angle = step.head<3>().norm();
  Eigen::Isometry3d result = pose;
  if (angle > 0.0)
    result.linear() = Eigen::AngleAxisd(angle, step.head<3>() / angle).toRotationMatrix() * pose.linear();
  result.translation() += step.tail<3>();
  return result;
}

Eigen::VectorXd residuals_of(const Camera& camera, const BoardView& view, const Eigen::Isometry3d& pose) {
  Eigen::VectorXd r = -projections_of(camera, view, pose);
  for (std::size_t i = 0; i < view.pixels.size(); ++i) r.segment<2>(2 * static_cast<Eigen::Index>(i)) += view.pixels[i];
  return r;
}

Eigen::MatrixXd by_camera(const Camera& camera, const BoardView& view, const Eigen::Isometry3d& pose) {
  const auto p = camera.parameters();
  Eigen::MatrixXd jacobian(2 * static_cast<Eigen::Index>(view.pixels.size()), Camera::kParameters);
  for (int k = 0; k < Camera::kParameters; ++k) {
    const double step = k < 4 ? 1e-3 * std::max(1.0, std::abs(p(k)) * 1e-2) : 1e-5;
    const CamerasBeside beside = cameras_beside(camera, k, step);
    jacobian.col(k) =
        (projections_of(beside.higher, view, pose) - projections_of(beside.lower, view, pose)) / (2.0 * step);
  }
  return jacobian;
}

Eigen::MatrixXd by_pose(const Camera& camera, const BoardView& view, const Eigen::Isometry3d& pose) {
  Eigen::MatrixXd jacobian(2 * static_cast<Eigen::Index>(view.pixels.size()), 6);
  for (int k = 0; k < 6; ++k) {
    Vector6d step = Vector6d::Zero();
    step(k) = k < 3 ? 1e-6 : 1e-6 * pose.translation().norm();
    jacobian.col(k) =
        (projections_of(camera, view, moved(pose, step)) - projections_of(camera, view, moved(pose, -step))) /
        (2.0 * step(k));
  }
  return jacobian;
}

BoardPose pose_of(const Camera& camera, const BoardView& view, double sd_px) {
  constexpr std::size_t fewest = 4;
  if (view.pixels.size() < fewest) throw std::invalid_argument("pose_of: fewer than four corners");
  BoardPose found;
  Eigen::Isometry3d pose = first_pose(camera, view);
  double before = residuals_of(camera, view, pose).squaredNorm();
  Eigen::Matrix<double, 6, 6> normal = Eigen::Matrix<double, 6, 6>::Identity();
  double damping = 1e-6;
  constexpr int most_rounds = 40;
  for (int round = 0; round < most_rounds; ++round) {
    const Eigen::MatrixXd j = by_pose(camera, view, pose);
    normal = j.transpose() * j;
    Eigen::Matrix<double, 6, 6> damped = normal;
    damped.diagonal() *= 1.0 + damping;
    const Vector6d step = damped.ldlt().solve(j.transpose() * residuals_of(camera, view, pose));
    const Eigen::Isometry3d next = moved(pose, step);
    const double after = residuals_of(camera, view, next).squaredNorm();
    if (after <= before) {
      pose = next;
      damping = std::max(1e-9, 0.1 * damping);
      const bool at_rest = before - after <= 1e-12 * before + 1e-20;
      before = after;
      if (at_rest) break;
    } else {
      damping = std::max(1e-6, 10.0 * damping);
      if (damping > 1e6) break;
    }
  }
  const auto count = static_cast<double>(view.pixels.size());
  found.camera_from_board = pose;
  found.rms_px = std::sqrt(before / count);
  const double variance = sd_px > 0.0 ? square(sd_px) : before / std::max(1.0, 2.0 * count - 6.0);
  found.covariance = variance * normal.inverse();
  return found;
}

}  // namespace canewise
