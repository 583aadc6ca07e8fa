#include "calib/camera_calibration.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "calib/camera_fit.h"
#include "calib/usable_pictures.h"
#include "scanproc/core/error.h"
#include "scanproc/core/statistics.h"
#include "scanproc/words/decimals.h"

namespace canewise {
namespace {

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

void check_sizes(const std::vector<BoardView>& views) {
  for (const auto& view : views) {
    if (view.width == views.front().width && view.height == views.front().height) continue;
    throw InputError({"camera.other_size",
                      {{"file", text(view.name)},
                       {"width", number(static_cast<double>(view.width))},
                       {"height", number(static_cast<double>(view.height))},
                       {"first", text(views.front().name)},
                       {"first_width", number(static_cast<double>(views.front().width))},
                       {"first_height", number(static_cast<double>(views.front().height))}}});
  }
}

Views usable_of(const std::vector<BoardView>& views) {
  Views usable;
  for (const auto& view : views) {
    if (view.refusal.empty() && view.pixels.size() >= 6) usable.push_back(&view);
  }
  return usable;
}

void check_count(const std::vector<BoardView>& views, std::size_t usable) {
  if (usable >= kFewestViews) return;
  throw InputError({"camera.too_few",
                    {{"usable", count(usable)},
                     {"all", count(views.size())},
                     {"needed", count(kFewestViews)},
                     {"reasons", reasons_of(views, &BoardView::refusal)}}});
}

void check_marker_size(const Views& views, const Board& board) {
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

/// Photographs that fit one another, and the rest.
struct FittingViews {
  Views views;
  CameraFit fit;
  std::vector<std::pair<const BoardView*, double>> dropped;  ///< With what they were off, pixels.
};

/// The worst view goes as long as it fits far worse than its like.
FittingViews without_misfits(const Views& views) {
  FittingViews kept{views, fit_camera(views, {}), {}};
  constexpr double far_worse = 2.5;
  while (kept.views.size() > kFewestViews) {
    const std::vector<double>& rms_px = kept.fit.rms_px;
    const auto worst = std::max_element(rms_px.begin(), rms_px.end());
    if (*worst < std::max(far_worse * median(rms_px), 0.1)) break;
    const auto at = worst - rms_px.begin();
    kept.dropped.emplace_back(kept.views[static_cast<std::size_t>(at)], *worst);
    kept.views.erase(kept.views.begin() + at);
    kept.fit = fit_camera(kept.views, {});
  }
  return kept;
}

void check_fit(const CameraFit& fit, double rms_px, const Board& board) {
  constexpr double fewest_degrees = 12.0;
  const double spread = spread_deg(fit.poses);
  if (spread < fewest_degrees) {
    throw InputError({"camera.one_pose", {{"tilt", number(spread)}}});
  }
  if (rms_px > kRmsLimit_px) {
    throw InputError({"camera.no_fit",
                      {{"off", number(rms_px, 2)},
                       {"limit", number(kRmsLimit_px, decimals_of(kRmsLimit_px))},
                       {"columns", number(board.columns)},
                       {"rows", number(board.rows)}}});
  }
}

void check_focal_length(const CalibratedCamera& found) {
  constexpr double loose = 0.02;
  if (!(std::sqrt(found.covariance(0, 0)) > loose * found.camera.fx)) return;
  throw InputError(
      {"camera.loose_focal", {{"share", number(100.0 * std::sqrt(found.covariance(0, 0)) / found.camera.fx, 1)}}});
}

using Coverage = decltype(CameraCalibration::coverage);

Coverage coverage_of(const Camera& camera, const Views& views) {
  const auto part_of = [](double at, std::size_t size, int parts) {
    return std::clamp(static_cast<int>(at / static_cast<double>(size) * parts), 0, parts - 1);
  };
  Coverage coverage{};
  for (const BoardView* view : views) {
    for (const auto& pixel : view->pixels) {
      const int across = part_of(pixel.x(), camera.width, CameraCalibration::kAcross);
      const int down = part_of(pixel.y(), camera.height, CameraCalibration::kDown);
      ++coverage.at(static_cast<std::size_t>(down * CameraCalibration::kAcross + across));
    }
  }
  return coverage;
}

double mm_per_px(const CameraFit& fit) {
  std::vector<double> distances;
  for (const auto& pose : fit.poses) distances.push_back(pose.translation().z());
  return median(distances) / fit.camera.fx;
}

/// What became of one photograph.
ViewVerdict verdict_on(const BoardView& view, const FittingViews& kept) {
  ViewVerdict verdict;
  verdict.name = view.name;
  verdict.advice = view.refusal;
  for (std::size_t i = 0; i < kept.views.size(); ++i) {
    if (kept.views[i] != &view) continue;
    verdict.used = true;
    verdict.rms_px = kept.fit.rms_px[i];
    verdict.tilt_deg = tilt_deg(kept.fit.poses[i]);
  }
  for (const auto& [left_out, rms] : kept.dropped) {
    if (left_out != &view) continue;
    verdict.rms_px = rms;
    verdict.advice = Message{"camera.view_off", {{"off", number(rms, 2)}}};
  }
  if (!verdict.used && verdict.advice.empty()) verdict.advice = Message{"board.few_corners"};
  return verdict;
}

Messages remarks_on(const CameraCalibration& result) {
  Messages remarks;
  int empty = 0;
  for (const int count : result.coverage) empty += count == 0;
  constexpr int many = CameraCalibration::kAcross * CameraCalibration::kDown / 4;
  if (empty > many) {
    remarks.push_back({"camera.unseen_parts", {{"empty", number(empty)}, {"all", count(result.coverage.size())}}});
  }
  const auto p = result.found.camera.parameters();
  constexpr double odd = 0.02;
  if (std::abs(p(0) / p(1) - 1.0) > odd) {
    remarks.push_back({"camera.stretched", {{"share", number(100.0 * std::abs(p(0) / p(1) - 1.0), 1)}}});
  }
  const CalibratedCamera& found = result.found;
  if (found.cross_validated_px > 1.5 * found.rms_px) {
    remarks.push_back(
        {"camera.unseen_worse", {{"unseen", number(found.cross_validated_px, 2)}, {"seen", number(found.rms_px, 2)}}});
  }
  return remarks;
}

}  // namespace

CameraCalibration calibrate_camera(const std::vector<BoardView>& views, const Board& board, const Progress& progress) {
  const Views usable = usable_of(views);
  check_sizes(views);
  check_count(views, usable.size());
  check_marker_size(usable, board);

  if (progress) progress({"stage_calib.fit_camera"}, 0.4);
  FittingViews kept = without_misfits(usable);
  DeterminedFit best = determined_fit(kept.views, std::move(kept.fit));
  kept.fit = best.fit;
  CameraCalibration result;
  CalibratedCamera& found = result.found;
  found.camera = best.fit.camera;
  found.rms_px = std::sqrt(best.fit.squares / static_cast<double>(best.fit.corners));
  check_fit(best.fit, found.rms_px, board);
  found.covariance = covariance_of(best.fit, kept.views, best.held);
  check_focal_length(found);
  found.cross_validated_px = cross_validated_px(kept.views, best.held, progress);

  result.corner_sd_px = std::sqrt(corner_variance(best.fit, kept.views.size(), best.held));
  result.coverage = coverage_of(found.camera, kept.views);
  result.mm_per_px = mm_per_px(best.fit);
  for (const BoardView* view : kept.views) result.used.push_back(*view);
  for (const auto& view : views) result.views.push_back(verdict_on(view, kept));
  result.left_out = std::move(best.left_out);
  result.poses = std::move(best.fit.poses);
  result.remarks = remarks_on(result);
  return result;
}

}  // namespace canewise
