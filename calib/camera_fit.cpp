#include "calib/camera_fit.h"

#include <Eigen/Cholesky>
#include <cmath>
#include <opencv2/calib3d.hpp>
#include <utility>

#include "scanproc/core/error.h"
#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

int flags_of(const HeldTerms& held) {
  return (held.holds(4) ? cv::CALIB_FIX_K1 : 0) | (held.holds(5) ? cv::CALIB_FIX_K2 : 0) |
         (held.holds(6) ? cv::CALIB_ZERO_TANGENT_DIST : 0) | (held.holds(8) ? cv::CALIB_FIX_K3 : 0);
}

Camera start_from_library(const Views& views, const HeldTerms& held) {
  std::vector<std::vector<cv::Point3f>> object;
  std::vector<std::vector<cv::Point2f>> image;
  for (const BoardView* view : views) {
    object.emplace_back();
    image.emplace_back();
    for (std::size_t i = 0; i < view->pixels.size(); ++i) {
      object.back().emplace_back(static_cast<float>(view->board_mm[i].x()), static_cast<float>(view->board_mm[i].y()),
                                 0.0F);
      image.back().emplace_back(static_cast<float>(view->pixels[i].x()), static_cast<float>(view->pixels[i].y()));
    }
  }
  const cv::Size size(static_cast<int>(views.front()->width), static_cast<int>(views.front()->height));
  cv::Mat matrix = cv::Mat::eye(3, 3, CV_64F), distortion = cv::Mat::zeros(5, 1, CV_64F);
  std::vector<cv::Mat> turns, shifts;
  cv::calibrateCamera(object, image, size, matrix, distortion, turns, shifts, flags_of(held),
                      {cv::TermCriteria::COUNT + cv::TermCriteria::EPS, 100, 1e-10});
  Camera camera;
  camera.width = views.front()->width;
  camera.height = views.front()->height;
  Eigen::Matrix<double, Camera::kParameters, 1> p;
  p << matrix.at<double>(0, 0), matrix.at<double>(1, 1), matrix.at<double>(0, 2), matrix.at<double>(1, 2),
      distortion.at<double>(0), distortion.at<double>(1), distortion.at<double>(2), distortion.at<double>(3),
      distortion.at<double>(4);
  camera.set_parameters(p);
  return camera;
}

/// Normal matrix of the camera's parameters, each view's pose eliminated.
CameraCovariance normal_matrix(const CameraFit& fit, const Views& views) {
  CameraCovariance normal = CameraCovariance::Zero();
  for (std::size_t i = 0; i < views.size(); ++i) {
    const Eigen::MatrixXd c = by_camera(fit.camera, *views[i], fit.poses[i]);
    const Eigen::MatrixXd p = by_pose(fit.camera, *views[i], fit.poses[i]);
    const Eigen::Matrix<double, 6, 6> pp = p.transpose() * p;
    const Eigen::MatrixXd pc = p.transpose() * c;
    normal += c.transpose() * c - pc.transpose() * pp.ldlt().solve(pc);
  }
  return normal;
}

}  // namespace

CameraFit fit_camera(const Views& views, const HeldTerms& held) {
  CameraFit result;
  try {
    result.camera = start_from_library(views, held);
  } catch (const cv::Exception&) {
    throw InputError({"camera.boards_alike"});
  }
  for (const BoardView* view : views) {
    const BoardPose pose = pose_of(result.camera, *view);
    result.poses.push_back(pose.camera_from_board);
    result.rms_px.push_back(pose.rms_px);
    result.squares += square(pose.rms_px) * static_cast<double>(view->pixels.size());
    result.corners += view->pixels.size();
  }
  return result;
}

double corner_variance(const CameraFit& fit, std::size_t views, const HeldTerms& held) {
  const double degrees_of_freedom = 2.0 * static_cast<double>(fit.corners) - 6.0 * static_cast<double>(views) -
                                    static_cast<double>(Camera::kParameters) + static_cast<double>(held.places.size());
  return fit.squares / std::max(1.0, degrees_of_freedom);
}

CameraCovariance covariance_of(const CameraFit& fit, const Views& views, const HeldTerms& held) {
  const double variance = corner_variance(fit, views.size(), held);
  const CameraCovariance normal = normal_matrix(fit, views);
  std::vector<Eigen::Index> fitted;
  for (Eigen::Index k = 0; k < Camera::kParameters; ++k) {
    if (!held.holds(k)) fitted.push_back(k);
  }
  // Columns of very different size: scaled first, or digits are lost.
  const Eigen::Matrix<double, Camera::kParameters, 1> scale =
      normal.diagonal().cwiseMax(1e-300).cwiseSqrt().cwiseInverse();
  const Eigen::MatrixXd scaled = scale.asDiagonal() * normal * scale.asDiagonal();
  const auto& out = held.places;
  const Eigen::LDLT<Eigen::MatrixXd> factor(scaled(fitted, fitted));
  const auto size = static_cast<Eigen::Index>(fitted.size());
  Eigen::MatrixXd covariance = Eigen::MatrixXd::Zero(Camera::kParameters, Camera::kParameters);
  covariance(fitted, fitted) = variance * factor.solve(Eigen::MatrixXd::Identity(size, size));
  if (!out.empty()) {
    const Eigen::MatrixXd moved = -factor.solve(Eigen::MatrixXd(scaled(fitted, out)));
    Eigen::VectorXd squares(static_cast<Eigen::Index>(out.size()));
    for (std::size_t i = 0; i < out.size(); ++i)
      squares(static_cast<Eigen::Index>(i)) = square(held.assumed[i] / scale(out[i]));
    const Eigen::MatrixXd spread = squares.asDiagonal();
    covariance(fitted, fitted) += moved * spread * moved.transpose();
    covariance(fitted, out) = moved * spread;
    covariance(out, fitted) = spread * moved.transpose();
    covariance(out, out) = spread;
  }
  const CameraCovariance unscaled = scale.asDiagonal() * covariance * scale.asDiagonal();
  return 0.5 * (unscaled + unscaled.transpose());
}

DeterminedFit determined_fit(const Views& views, CameraFit of_all_terms) {
  const UsualLens usual;
  const struct {
    const char* name;
    std::vector<Eigen::Index> places;
    double u_assumed;
  } candidates[] = {{"k3", {8}, usual.k3}, {"k2", {5}, usual.k2}, {"p1, p2", {6, 7}, usual.p}, {"k1", {4}, usual.k1}};
  DeterminedFit best{std::move(of_all_terms), {}, {}};
  for (const auto& candidate : candidates) {
    const CameraCovariance covariance = covariance_of(best.fit, views, best.held);
    double u_free = 0.0;
    for (const Eigen::Index k : candidate.places) u_free = std::max(u_free, std::sqrt(covariance(k, k)));
    if (u_free <= candidate.u_assumed) continue;
    best.left_out.push_back({candidate.name, u_free, candidate.u_assumed});
    for (const Eigen::Index k : candidate.places) {
      best.held.places.push_back(k);
      best.held.assumed.push_back(candidate.u_assumed);
    }
    best.fit = fit_camera(views, best.held);
  }
  return best;
}

double cross_validated_px(const Views& views, const HeldTerms& held, const Progress& progress) {
  constexpr std::size_t folds = 5;
  double squares = 0.0, count = 0.0;
  for (std::size_t fold = 0; fold < folds; ++fold) {
    if (progress) {
      progress({"stage_calib.judge",
                {{"at", number(static_cast<double>(fold + 1))}, {"of", number(static_cast<double>(folds))}}},
               0.6 + 0.07 * static_cast<double>(fold));
    }
    Views rest, left_out;
    for (std::size_t i = 0; i < views.size(); ++i) (i % folds == fold ? left_out : rest).push_back(views[i]);
    if (left_out.empty() || rest.size() < 3) continue;
    const CameraFit others = fit_camera(rest, held);
    for (const BoardView* view : left_out) {
      BoardView posing, judging;
      for (std::size_t k = 0; k < view->pixels.size(); ++k) {
        BoardView& half = view->corners[k] % 2 == 0 ? posing : judging;
        half.board_mm.push_back(view->board_mm[k]);
        half.pixels.push_back(view->pixels[k]);
      }
      if (posing.pixels.size() < 6 || judging.pixels.empty()) continue;
      const BoardPose pose = pose_of(others.camera, posing);
      squares += residuals_of(others.camera, judging, pose.camera_from_board).squaredNorm();
      count += static_cast<double>(judging.pixels.size());
    }
  }
  return count > 0.0 ? std::sqrt(squares / count) : 0.0;
}

}  // namespace canewise
