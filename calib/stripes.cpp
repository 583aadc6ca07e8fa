#include "calib/stripes.h"

#include <Eigen/SVD>
#include <algorithm>
#include <cmath>

#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

constexpr double kFarOff_px = 0.2;          // A good camera's corners may be a little worse in other light.
constexpr double kCorrelatedCentres = 7.0;  // Neighbours that speckle moves together, on both sides of each.

/// Width and way of the line, from the first pictures.
LineOptions line_in(const std::vector<LineOnBoard>& poses) {
  std::vector<GreyPicture> pictures;
  constexpr std::size_t enough = 3;
  for (std::size_t i = 0; i < std::min(enough, poses.size()); ++i) pictures.push_back(poses[i].line);
  const LineLook look = look_at_line(pictures);
  LineOptions line{LaserPlane{}.line_sigma_px, look.crosses_columns, 0.0};
  if (look.sigma_px > 0.0) line.sigma_px = look.sigma_px;
  return line;
}

/// What all poses have in common.
struct Setting {
  const CalibratedCamera& camera;
  const Board& board;
  LineOptions line;
};

std::vector<LineCentre> on_plain_board(const Setting& setting, const Eigen::Isometry3d& camera_from_board,
                                       const std::vector<LineCentre>& centres) {
  const Camera& camera = setting.camera.camera;
  const Eigen::Isometry3d back = camera_from_board.inverse();
  const double mm_per_px = camera_from_board.translation().z() / camera.fx;
  const double margin = std::max(0.12 * setting.board.square_mm, 3.0 * setting.line.sigma_px * mm_per_px);
  std::vector<LineCentre> plain;
  for (const LineCentre& centre : centres) {
    const auto p = on_board(camera, camera_from_board, centre);
    if (!p || centre.clipped) continue;
    const Eigen::Vector3d b = back * *p;
    if (setting.board.plain_at(b.x(), b.y(), margin)) plain.push_back(centre);
  }
  return plain;
}

/// Centres of one pose, or why it is left out.
struct PoseCentres {
  std::vector<LineCentre> centres;
  Message advice;
};

PoseCentres centres_of(const Setting& setting, const LineOnBoard& pose) {
  if (!pose.board.refusal.empty()) return {{}, pose.board.refusal};
  const CalibratedCamera& camera = setting.camera;
  const BoardPose lies = pose_of(camera.camera, pose.board);
  // Corners are found as well here as when the camera was calibrated.
  if (lies.rms_px > std::max(kFarOff_px, 4.0 * std::max(camera.rms_px, camera.cross_validated_px)))
    return {{}, {"plane.board_off", {{"off", number(lies.rms_px, 2)}}}};
  const FoundLine line = find_line(pose.line, setting.line);
  PoseCentres found{on_plain_board(setting, lies.camera_from_board, line.centres), {}};
  constexpr std::size_t fewest_centres = 30;
  if (found.centres.size() < fewest_centres) {
    found.advice = !line.centres.empty()       ? Message{"plane.little_plain"}
                   : line.clipped_share > 0.02 ? Message{"plane.over_exposed"}
                                               : Message{"plane.no_line"};
  }
  return found;
}

}  // namespace

std::optional<Eigen::Vector3d> on_board(const Camera& camera, const Eigen::Isometry3d& pose, const LineCentre& centre) {
  const auto direction = direction_of(camera, centre.column, centre.row);
  if (!direction) return std::nullopt;
  const Eigen::Vector3d d(direction->x(), direction->y(), 1.0), n = pose.linear().col(2);
  const double facing = n.dot(d);
  constexpr double grazing = 0.05;
  if (std::abs(facing) < grazing * d.norm()) return std::nullopt;
  return d * n.dot(pose.translation()) / facing;
}

Ends ends_of(const Camera& camera, const Eigen::Isometry3d& pose, const Stripe& stripe) {
  std::vector<Eigen::Vector3d> points;
  Eigen::Vector3d mean = Eigen::Vector3d::Zero();
  for (const LineCentre& centre : stripe.centres) {
    if (const auto p = on_board(camera, pose, centre)) points.push_back(*p), mean += *p;
  }
  mean /= static_cast<double>(points.size());
  Eigen::Matrix3d scatter = Eigen::Matrix3d::Zero();
  for (const auto& p : points) scatter += (p - mean) * (p - mean).transpose();
  const Eigen::JacobiSVD<Eigen::Matrix3d> svd(scatter, Eigen::ComputeFullU);
  Eigen::Vector3d along = svd.matrixU().col(0);
  const Eigen::Vector3d way = points.back() - points.front();
  if (along.dot(way) < 0.0) along = -along;
  const double reach = std::sqrt(svd.singularValues()(0) / static_cast<double>(points.size()));
  return {mean - reach * along, mean + reach * along};
}

FoundStripes find_stripes(const CalibratedCamera& camera, const std::vector<LineOnBoard>& poses, const Board& board,
                          const Progress& progress) {
  FoundStripes found{line_in(poses), {}, {}};
  const Setting setting{camera, board, found.line};
  for (std::size_t i = 0; i < poses.size(); ++i) {
    if (progress) {
      progress({"stage_calib.find_line", {{"at", count(i + 1)}, {"of", count(poses.size())}}},
               0.3 + 0.4 * static_cast<double>(i) / static_cast<double>(poses.size()));
    }
    PoseCentres own = centres_of(setting, poses[i]);
    LaserPlaneCalibration::Pose told;
    told.name = poses[i].board.name;
    told.advice = own.advice;
    if (own.advice.empty()) {
      told.points = own.centres.size();
      found.stripes.push_back({i, &poses[i].board, std::move(own.centres)});
    }
    found.poses.push_back(std::move(told));
  }
  return found;
}

std::vector<Stripe> without_outliers(const Camera& camera, const Eigen::Vector3d& q,
                                     const std::vector<Stripe>& stripes) {
  std::vector<Stripe> cleared;
  for (const Stripe& stripe : stripes) {
    const Eigen::Isometry3d pose = pose_of(camera, *stripe.board).camera_from_board;
    std::vector<double> off;
    for (const LineCentre& c : stripe.centres) {
      const auto p = on_board(camera, pose, c);
      off.push_back(p ? (q.dot(*p) - 1.0) / q.norm() : 1e9);
    }
    const double middle = median(off), scatter = std::max(1e-4, mad_sigma(off, middle));
    Stripe kept{stripe.pose, stripe.board, {}};
    for (std::size_t i = 0; i < off.size(); ++i) {
      if (std::abs(off[i] - middle) < 5.0 * scatter) kept.centres.push_back(stripe.centres[i]);
    }
    cleared.push_back(std::move(kept));
  }
  return cleared;
}

StripeScatter scatter_of(const Camera& camera, const Stripe& stripe) {
  const Eigen::Isometry3d pose = pose_of(camera, *stripe.board).camera_from_board;
  const Ends ends = ends_of(camera, pose, stripe);
  StripeScatter scatter;
  scatter.along = (ends.last - ends.first).normalized();
  std::vector<double> off_mm, off_px;
  for (const LineCentre& c : stripe.centres) {
    const auto p = on_board(camera, pose, c);
    if (!p) continue;
    // Across the line within the board's plane, and what that is in pixels.
    const Eigen::Vector3d across = pose.linear().col(2).cross(scatter.along).normalized();
    const double off = across.dot(*p - ends.first);
    off_mm.push_back(off);
    const Eigen::Vector2d a = project(camera, (*p).hnormalized()),
                          b = project(camera, (*p + 0.01 * across).hnormalized());
    off_px.push_back(off * (b - a).norm() / 0.01);
  }
  scatter.end_mm = mad_sigma(off_mm, median(off_mm)) /
                   std::sqrt(std::max(1.0, static_cast<double>(off_mm.size()) / kCorrelatedCentres));
  scatter.centre_px = mad_sigma(off_px, median(off_px));
  return scatter;
}

}  // namespace canewise
