#include "calib/camera_calibration.h"

#include <Eigen/Cholesky>
#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <opencv2/calib3d.hpp>

#include "scanproc/core/error.h"
#include "scanproc/core/statistics.h"
#include "scanproc/words/decimals.h"

namespace canewise {
namespace {

/// Terms of the lens that are held at nought, by their places among a camera's parameters.
struct Terms {
  std::vector<Eigen::Index> left_out;
  std::vector<double> assumed;  ///< Standard uncertainty of each.

  [[nodiscard]] bool holds(Eigen::Index k) const {
    return std::find(left_out.begin(), left_out.end(), k) != left_out.end();
  }
  [[nodiscard]] int flags() const {
    return (holds(4) ? cv::CALIB_FIX_K1 : 0) | (holds(5) ? cv::CALIB_FIX_K2 : 0) |
           (holds(6) ? cv::CALIB_ZERO_TANGENT_DIST : 0) | (holds(8) ? cv::CALIB_FIX_K3 : 0);
  }
};

struct Fit {
  Camera camera;
  std::vector<Eigen::Isometry3d> poses;
  std::vector<double> rms_px;  ///< By view.
  double squares = 0.0;
  std::size_t corners = 0;
};

Camera start_from_library(const std::vector<const BoardView*>& views, const Terms& terms) {
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
  cv::calibrateCamera(object, image, size, matrix, distortion, turns, shifts, terms.flags(),
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

Fit fit(const std::vector<const BoardView*>& views, const Terms& terms) {
  Fit result;
  try {
    result.camera = start_from_library(views, terms);
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

/// Inverse of the camera's block of the normal matrix after the poses are eliminated. What is left out moves the
/// others: c = -N_ff^-1 N_fo o for terms o that are not nought, so that C = [N_ff^-1 + B S B', B S; S B', S] with B =
/// -N_ff^-1 N_fo.
CameraCovariance covariance_of(const Fit& fit, const std::vector<const BoardView*>& views, double variance,
                               const Terms& terms) {
  CameraCovariance normal = CameraCovariance::Zero();
  for (std::size_t i = 0; i < views.size(); ++i) {
    const Eigen::MatrixXd c = by_camera(fit.camera, *views[i], fit.poses[i]);
    const Eigen::MatrixXd p = by_pose(fit.camera, *views[i], fit.poses[i]);
    const Eigen::Matrix<double, 6, 6> pp = p.transpose() * p;
    const Eigen::MatrixXd pc = p.transpose() * c;
    normal += c.transpose() * c - pc.transpose() * pp.ldlt().solve(pc);
  }
  std::vector<Eigen::Index> fitted;
  for (Eigen::Index k = 0; k < Camera::kParameters; ++k) {
    if (!terms.holds(k)) fitted.push_back(k);
  }
  // Columns of very different size: scaled first, or digits are lost.
  const Eigen::Matrix<double, Camera::kParameters, 1> scale =
      normal.diagonal().cwiseMax(1e-300).cwiseSqrt().cwiseInverse();
  const Eigen::MatrixXd scaled = scale.asDiagonal() * normal * scale.asDiagonal();
  const auto& out = terms.left_out;
  const Eigen::LDLT<Eigen::MatrixXd> factor(scaled(fitted, fitted));
  const auto size = static_cast<Eigen::Index>(fitted.size());
  Eigen::MatrixXd covariance = Eigen::MatrixXd::Zero(Camera::kParameters, Camera::kParameters);
  covariance(fitted, fitted) = variance * factor.solve(Eigen::MatrixXd::Identity(size, size));
  if (!out.empty()) {
    const Eigen::MatrixXd moved = -factor.solve(Eigen::MatrixXd(scaled(fitted, out)));
    Eigen::VectorXd squares(static_cast<Eigen::Index>(out.size()));
    for (std::size_t i = 0; i < out.size(); ++i)
      squares(static_cast<Eigen::Index>(i)) = square(terms.assumed[i] / scale(out[i]));
    const Eigen::MatrixXd spread = squares.asDiagonal();
    covariance(fitted, fitted) += moved * spread * moved.transpose();
    covariance(fitted, out) = moved * spread;
    covariance(out, fitted) = spread * moved.transpose();
    covariance(out, out) = spread;
  }
  const CameraCovariance unscaled = scale.asDiagonal() * covariance * scale.asDiagonal();
  return 0.5 * (unscaled + unscaled.transpose());
}

double variance_of(const Fit& fit, std::size_t views, const Terms& terms) {
  const double degrees_of_freedom = 2.0 * static_cast<double>(fit.corners) - 6.0 * static_cast<double>(views) -
                                    static_cast<double>(Camera::kParameters) +
                                    static_cast<double>(terms.left_out.size());
  return fit.squares / std::max(1.0, degrees_of_freedom);
}

/// Leaves out one term after the other, the highest power first, as long as the photographs do not determine it.
Terms choose_terms(const std::vector<const BoardView*>& views, Fit& best, std::vector<LeftOutTerm>& told) {
  const UsualLens usual;
  const struct {
    const char* name;
    std::vector<Eigen::Index> places;
    double u_assumed;
  } candidates[] = {{"k3", {8}, usual.k3}, {"k2", {5}, usual.k2}, {"p1, p2", {6, 7}, usual.p}, {"k1", {4}, usual.k1}};
  Terms terms;
  for (const auto& candidate : candidates) {
    const CameraCovariance covariance = covariance_of(best, views, variance_of(best, views.size(), terms), terms);
    double u_free = 0.0;
    for (const Eigen::Index k : candidate.places) u_free = std::max(u_free, std::sqrt(covariance(k, k)));
    if (u_free <= candidate.u_assumed) continue;
    told.push_back({candidate.name, u_free, candidate.u_assumed});
    for (const Eigen::Index k : candidate.places) {
      terms.left_out.push_back(k);
      terms.assumed.push_back(candidate.u_assumed);
    }
    best = fit(views, terms);
  }
  return terms;
}

/// Error of views that the camera was not fitted to.
double cross_validated_px(const std::vector<const BoardView*>& views, const Terms& terms, const Progress& progress) {
  constexpr std::size_t folds = 5;
  double squares = 0.0, count = 0.0;
  for (std::size_t fold = 0; fold < folds; ++fold) {
    if (progress) {
      progress({"stage_calib.judge",
                {{"at", number(static_cast<double>(fold + 1))}, {"of", number(static_cast<double>(folds))}}},
               0.6 + 0.07 * static_cast<double>(fold));
    }
    std::vector<const BoardView*> rest, left_out;
    for (std::size_t i = 0; i < views.size(); ++i) (i % folds == fold ? left_out : rest).push_back(views[i]);
    if (left_out.empty() || rest.size() < 3) continue;
    const Fit others = fit(rest, terms);
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

double tilt_deg(const Eigen::Isometry3d& pose) {
  return std::acos(std::min(1.0, std::abs(pose.linear()(2, 2)))) * 180.0 / std::numbers::pi;
}

/// How far the boards' directions lie apart.
double spread_deg(const std::vector<Eigen::Isometry3d>& poses) {
  double widest = 0.0;
  for (std::size_t i = 0; i < poses.size(); ++i) {
    for (std::size_t j = i + 1; j < poses.size(); ++j) {
      const double c = poses[i].linear().col(2).dot(poses[j].linear().col(2));
      widest = std::max(widest, std::acos(std::clamp(c, -1.0, 1.0)) * 180.0 / std::numbers::pi);
    }
  }
  return widest;
}

void check_views(const std::vector<BoardView>& views, std::size_t usable) {
  for (const auto& view : views) {
    if (view.width != views.front().width || view.height != views.front().height) {
      throw InputError({"camera.other_size",
                        {{"file", text(view.name)},
                         {"width", number(static_cast<double>(view.width))},
                         {"height", number(static_cast<double>(view.height))},
                         {"first", text(views.front().name)},
                         {"first_width", number(static_cast<double>(views.front().width))},
                         {"first_height", number(static_cast<double>(views.front().height))}}});
    }
  }
  if (usable >= kFewestViews) return;
  Messages reasons;
  for (const auto& view : views) {
    if (!view.refusal.empty())
      reasons.push_back({"board.reason", {{"name", text(view.name)}, {"advice", part(view.refusal)}}});
  }
  throw InputError({"camera.too_few",
                    {{"usable", count(usable)},
                     {"all", count(views.size())},
                     {"needed", count(kFewestViews)},
                     {"reasons", reasons}}});
}

void check_marker_size(const std::vector<const BoardView*>& views, const Board& board) {
  if (board.kind != BoardKind::charuco) return;
  std::vector<double> shares;
  for (const BoardView* view : views) shares.push_back(view->marker_share);
  const double seen = median(shares), said = board.marker_mm / board.square_mm;
  constexpr double tolerance = 0.04;
  if (std::abs(seen / said - 1.0) < tolerance) return;
  throw InputError({"camera.marker_size",
                    {{"seen", number(seen, 3)},
                     {"marker", mm(board.marker_mm, decimals_of(board.marker_mm))},
                     {"square", mm(board.square_mm, decimals_of(board.square_mm))},
                     {"said", number(said, 3)}}});
}

void add_remarks(CameraCalibration& result) {
  int empty = 0;
  for (const int count : result.coverage) empty += count == 0;
  constexpr int many = CameraCalibration::kAcross * CameraCalibration::kDown / 4;
  if (empty > many) {
    result.remarks.push_back(
        {"camera.unseen_parts", {{"empty", number(empty)}, {"all", count(result.coverage.size())}}});
  }
  const auto p = result.found.camera.parameters();
  constexpr double odd = 0.02;
  if (std::abs(p(0) / p(1) - 1.0) > odd) {
    result.remarks.push_back({"camera.stretched", {{"share", number(100.0 * std::abs(p(0) / p(1) - 1.0), 1)}}});
  }
  const CalibratedCamera& found = result.found;
  if (found.cross_validated_px > 1.5 * found.rms_px) {
    result.remarks.push_back(
        {"camera.unseen_worse", {{"unseen", number(found.cross_validated_px, 2)}, {"seen", number(found.rms_px, 2)}}});
  }
}

}  // namespace

CameraCalibration calibrate_camera(const std::vector<BoardView>& views, const Board& board, const Progress& progress) {
  CameraCalibration result;
  std::vector<const BoardView*> usable;
  for (const auto& view : views) {
    if (view.refusal.empty() && view.pixels.size() >= 6) usable.push_back(&view);
  }
  check_views(views, usable.size());
  check_marker_size(usable, board);

  if (progress) progress({"stage_calib.fit_camera"}, 0.4);
  Fit best = fit(usable, {});
  std::vector<std::pair<const BoardView*, double>> dropped;
  // The worst view goes as long as it fits far worse than its like.
  constexpr double far_worse = 2.5;
  while (usable.size() > kFewestViews) {
    const double usual = median(best.rms_px);
    const auto worst = std::max_element(best.rms_px.begin(), best.rms_px.end());
    if (*worst < std::max(far_worse * usual, 0.1)) break;
    const auto at = worst - best.rms_px.begin();
    dropped.emplace_back(usable[static_cast<std::size_t>(at)], *worst);
    usable.erase(usable.begin() + at);
    best = fit(usable, {});
  }
  const Terms terms = choose_terms(usable, best, result.left_out);
  const double variance = variance_of(best, usable.size(), terms);
  result.corner_sd_px = std::sqrt(variance);
  result.found.camera = best.camera;
  result.found.rms_px = std::sqrt(best.squares / static_cast<double>(best.corners));
  result.poses = best.poses;
  for (const BoardView* view : usable) result.used.push_back(*view);

  constexpr double fewest_degrees = 12.0;
  const double spread = spread_deg(best.poses);
  if (spread < fewest_degrees) {
    throw InputError({"camera.one_pose", {{"tilt", number(spread)}}});
  }
  if (result.found.rms_px > kRmsLimit_px) {
    throw InputError({"camera.no_fit",
                      {{"off", number(result.found.rms_px, 2)},
                       {"limit", number(kRmsLimit_px, decimals_of(kRmsLimit_px))},
                       {"columns", number(board.columns)},
                       {"rows", number(board.rows)}}});
  }
  result.found.covariance = covariance_of(best, usable, variance, terms);
  constexpr double loose = 0.02;
  if (std::sqrt(result.found.covariance(0, 0)) > loose * best.camera.fx) {
    throw InputError({"camera.loose_focal",
                      {{"share", number(100.0 * std::sqrt(result.found.covariance(0, 0)) / best.camera.fx, 1)}}});
  }
  result.found.cross_validated_px = cross_validated_px(usable, terms, progress);

  std::vector<double> distances;
  for (std::size_t i = 0; i < usable.size(); ++i) {
    distances.push_back(best.poses[i].translation().z());
    for (const auto& pixel : usable[i]->pixels) {
      const auto part = [](double at, std::size_t size, int parts) {
        return std::clamp(static_cast<int>(at / static_cast<double>(size) * parts), 0, parts - 1);
      };
      const int across = part(pixel.x(), best.camera.width, CameraCalibration::kAcross);
      const int down = part(pixel.y(), best.camera.height, CameraCalibration::kDown);
      ++result.coverage.at(static_cast<std::size_t>(down * CameraCalibration::kAcross + across));
    }
  }
  result.mm_per_px = median(distances) / best.camera.fx;
  for (const auto& view : views) {
    ViewVerdict verdict;
    verdict.name = view.name;
    verdict.advice = view.refusal;
    for (std::size_t i = 0; i < usable.size(); ++i) {
      if (usable[i] != &view) continue;
      verdict.used = true;
      verdict.rms_px = best.rms_px[i];
      verdict.tilt_deg = tilt_deg(best.poses[i]);
    }
    for (const auto& [left_out, rms] : dropped) {
      if (left_out != &view) continue;
      verdict.rms_px = rms;
      verdict.advice = Message{"camera.view_off", {{"off", number(rms, 2)}}};
    }
    if (!verdict.used && verdict.advice.empty()) verdict.advice = Message{"board.few_corners"};
    result.views.push_back(std::move(verdict));
  }
  add_remarks(result);
  return result;
}

}  // namespace canewise
