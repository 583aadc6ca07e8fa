#include "calib/laser_plane_calibration.h"

#include <Eigen/Cholesky>
#include <Eigen/SVD>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "scanproc/core/error.h"
#include "scanproc/core/statistics.h"
#include "scanproc/core/units.h"

namespace canewise {
namespace {

constexpr double kFarOff_px = 0.2;          // A good camera's corners may be a little worse in other light.
constexpr double kCorrelatedCentres = 7.0;  // Neighbours that speckle moves together, on both sides of each.

/// Line centres of one pose that lie on plain board.
struct Stripe {
  std::size_t pose = 0;  ///< Of the caller's list.
  const BoardView* board = nullptr;
  std::vector<LineCentre> centres;
};

std::optional<Eigen::Vector3d> on_board(const Camera& camera, const Eigen::Isometry3d& pose, const LineCentre& centre) {
  const auto direction = direction_of(camera, centre.column, centre.row);
  if (!direction) return std::nullopt;
  const Eigen::Vector3d d(direction->x(), direction->y(), 1.0), n = pose.linear().col(2);
  const double facing = n.dot(d);
  constexpr double grazing = 0.05;
  if (std::abs(facing) < grazing * d.norm()) return std::nullopt;
  return d * n.dot(pose.translation()) / facing;
}

/// The ends of the line's straight piece on one board, camera axes, and where along it every centre lies.
struct Ends {
  Eigen::Vector3d first, last;
};

/// Straight line through the stripe's points on the board, evaluated at `at` places in the picture (so that the ends
/// stay comparable when camera or pose move a little).
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

struct Solution {
  Eigen::Vector3d q = Eigen::Vector3d::Zero();
  Eigen::Matrix3d covariance = Eigen::Matrix3d::Zero();
  double chi_square = 0.0;
};

/// Generalised least squares for q with the covariances of q . X at both ends.
Solution solve(const Camera& camera, const std::vector<Stripe>& stripes, double corner_sd_px, double end_noise_mm,
               const Eigen::Vector3d* reference) {
  std::vector<Ends> ends;
  std::vector<BoardPose> poses;
  for (const Stripe& stripe : stripes) {
    poses.push_back(pose_of(camera, *stripe.board, corner_sd_px));
    ends.push_back(ends_of(camera, poses.back().camera_from_board, stripe));
  }
  Solution solution;
  if (reference != nullptr) {
    solution.q = *reference;
  } else {
    std::vector<Eigen::Vector3d> all;
    for (const Ends& e : ends) all.push_back(e.first), all.push_back(e.last);
    solution.q = plane_by_svd(all);
  }
  constexpr int rounds = 3;
  for (int round = 0; round < rounds; ++round) {
    Eigen::Matrix3d normal = Eigen::Matrix3d::Zero();
    Eigen::Vector3d right = Eigen::Vector3d::Zero();
    std::vector<std::pair<Eigen::Matrix<double, 2, 3>, Eigen::Matrix2d>> rows;
    for (std::size_t k = 0; k < stripes.size(); ++k) {
      Eigen::Matrix<double, 2, 3> a;
      a << ends[k].first.transpose(), ends[k].last.transpose();
      Eigen::Matrix<double, 2, 6> by_motion;
      for (int i = 0; i < 6; ++i) {
        Vector6d step = Vector6d::Zero();
        step(i) = i < 3 ? 1e-6 : 1e-4;
        const Ends high = ends_of(camera, moved(poses[k].camera_from_board, step), stripes[k]);
        const Ends low = ends_of(camera, moved(poses[k].camera_from_board, -step), stripes[k]);
        by_motion(0, i) = solution.q.dot(high.first - low.first) / (2.0 * step(i));
        by_motion(1, i) = solution.q.dot(high.last - low.last) / (2.0 * step(i));
      }
      Eigen::Matrix2d covariance = by_motion * poses[k].covariance * by_motion.transpose();
      covariance += square(solution.q.norm() * end_noise_mm) * Eigen::Matrix2d::Identity();
      const Eigen::Matrix2d weight = covariance.inverse();
      normal += a.transpose() * weight * a;
      right += a.transpose() * weight * Eigen::Vector2d::Ones();
      rows.emplace_back(a, weight);
    }
    const Eigen::LDLT<Eigen::Matrix3d> factor(normal);
    solution.q = factor.solve(right);
    solution.covariance = factor.solve(Eigen::Matrix3d::Identity());
    solution.chi_square = 0.0;
    for (const auto& [a, weight] : rows) {
      const Eigen::Vector2d off = a * solution.q - Eigen::Vector2d::Ones();
      solution.chi_square += off.dot(weight * off);
    }
  }
  return solution;
}

std::vector<Stripe> find_stripes(const CalibratedCamera& camera, const std::vector<LineOnBoard>& poses,
                                 const Board& board, LaserPlaneCalibration& result, const Progress& progress) {
  std::vector<GreyPicture> pictures;
  constexpr std::size_t enough = 3;
  for (std::size_t i = 0; i < std::min(enough, poses.size()); ++i) pictures.push_back(poses[i].line);
  const LineLook look = look_at_line(pictures);
  result.found.crosses_columns = look.crosses_columns;
  if (look.sigma_px > 0.0) result.found.line_sigma_px = look.sigma_px;
  std::vector<Stripe> stripes;
  for (std::size_t i = 0; i < poses.size(); ++i) {
    if (progress) {
      progress({"stage_calib.find_line", {{"at", count(i + 1)}, {"of", count(poses.size())}}},
               0.3 + 0.4 * static_cast<double>(i) / static_cast<double>(poses.size()));
    }
    LaserPlaneCalibration::Pose told;
    told.name = poses[i].board.name;
    const auto leave_out = [&](const Message& why) {
      told.advice = why;
      result.poses.push_back(told);
    };
    if (!poses[i].board.refusal.empty()) {
      leave_out(poses[i].board.refusal);
      continue;
    }
    const BoardPose pose = pose_of(camera.camera, poses[i].board);
    // Corners are found as well here as when the camera was calibrated.
    if (pose.rms_px > std::max(kFarOff_px, 4.0 * std::max(camera.rms_px, camera.cross_validated_px))) {
      leave_out({"plane.board_off", {{"off", number(pose.rms_px, 2)}}});
      continue;
    }
    const FoundLine line = find_line(poses[i].line, {result.found.line_sigma_px, result.found.crosses_columns, 0.0});
    Stripe stripe{i, &poses[i].board, {}};
    const Eigen::Isometry3d back = pose.camera_from_board.inverse();
    const double mm_per_px = pose.camera_from_board.translation().z() / camera.camera.fx;
    const double margin = std::max(0.12 * board.square_mm, 3.0 * result.found.line_sigma_px * mm_per_px);
    for (const LineCentre& centre : line.centres) {
      const auto p = on_board(camera.camera, pose.camera_from_board, centre);
      if (!p || centre.clipped) continue;
      const Eigen::Vector3d b = back * *p;
      if (board.plain_at(b.x(), b.y(), margin)) stripe.centres.push_back(centre);
    }
    constexpr std::size_t fewest_centres = 30;
    if (stripe.centres.size() < fewest_centres) {
      leave_out(!line.centres.empty()       ? Message{"plane.little_plain"}
                : line.clipped_share > 0.02 ? Message{"plane.over_exposed"}
                                            : Message{"plane.no_line"});
      continue;
    }
    told.points = stripe.centres.size();
    result.poses.push_back(told);
    stripes.push_back(std::move(stripe));
  }
  return stripes;
}

/// Points far from the plane that all agree on are ink or reflections.
void drop_outliers(const Camera& camera, const Eigen::Vector3d& q, std::vector<Stripe>& stripes) {
  for (Stripe& stripe : stripes) {
    const Eigen::Isometry3d pose = pose_of(camera, *stripe.board).camera_from_board;
    std::vector<double> off;
    for (const LineCentre& c : stripe.centres) {
      const auto p = on_board(camera, pose, c);
      off.push_back(p ? (q.dot(*p) - 1.0) / q.norm() : 1e9);
    }
    const double middle = median(off), scatter = std::max(1e-4, mad_sigma(off, middle));
    std::vector<LineCentre> kept;
    for (std::size_t i = 0; i < off.size(); ++i) {
      if (std::abs(off[i] - middle) < 5.0 * scatter) kept.push_back(stripe.centres[i]);
    }
    stripe.centres = std::move(kept);
  }
}

}  // namespace

Eigen::Vector3d plane_by_svd(const std::vector<Eigen::Vector3d>& points) {
  Eigen::Vector3d mean = Eigen::Vector3d::Zero();
  for (const auto& p : points) mean += p / static_cast<double>(points.size());
  Eigen::MatrixXd centred(static_cast<Eigen::Index>(points.size()), 3);
  for (std::size_t i = 0; i < points.size(); ++i)
    centred.row(static_cast<Eigen::Index>(i)) = (points[i] - mean).transpose();
  const Eigen::JacobiSVD<Eigen::MatrixXd> svd(centred, Eigen::ComputeThinU | Eigen::ComputeFullV);
  const Eigen::Vector3d normal = svd.matrixV().col(2);
  return normal / normal.dot(mean);
}

LaserPlaneCalibration calibrate_laser_plane(const CalibratedCamera& camera, const std::vector<LineOnBoard>& poses,
                                            const Board& board, const Progress& progress) {
  LaserPlaneCalibration result;
  if (poses.empty()) throw InputError({"plane.no_pose"});
  for (const auto& pose : poses) {
    if (pose.line.columns == camera.camera.width && pose.line.rows == camera.camera.height &&
        pose.board.width == camera.camera.width && pose.board.height == camera.camera.height)
      continue;
    throw InputError({"plane.other_size",
                      {{"file", text(pose.board.name)},
                       {"width", number(static_cast<double>(camera.camera.width))},
                       {"height", number(static_cast<double>(camera.camera.height))}}});
  }
  std::vector<Stripe> stripes = find_stripes(camera, poses, board, result, progress);
  if (stripes.size() < kFewestPlanePoses) {
    Messages reasons;
    for (const auto& pose : result.poses) {
      if (!pose.advice.empty())
        reasons.push_back({"board.reason", {{"name", text(pose.name)}, {"advice", part(pose.advice)}}});
    }
    throw InputError({"plane.too_few",
                      {{"usable", count(stripes.size())},
                       {"all", count(poses.size())},
                       {"needed", count(kFewestPlanePoses)},
                       {"reasons", reasons}}});
  }
  // Corners scatter alike in all photographs.
  double squares = 0.0, degrees = 0.0;
  for (const Stripe& stripe : stripes) {
    const BoardPose pose = pose_of(camera.camera, *stripe.board);
    squares += square(pose.rms_px) * static_cast<double>(stripe.board->pixels.size());
    degrees += 2.0 * static_cast<double>(stripe.board->pixels.size()) - 6.0;
  }
  const double corner_sd_px = std::sqrt(squares / degrees);

  if (progress) progress({"stage_calib.fit_plane"}, 0.75);
  double end_noise_mm = 1e-3;
  Solution solution = solve(camera.camera, stripes, corner_sd_px, end_noise_mm, nullptr);
  drop_outliers(camera.camera, solution.q, stripes);

  // Noise of the centres along each line, about its own straight line: what an end's mean is made of.
  std::vector<double> centre_noise, noise_mm, lines_deg;
  std::vector<Eigen::Vector3d> directions;
  for (const Stripe& stripe : stripes) {
    const Eigen::Isometry3d pose = pose_of(camera.camera, *stripe.board).camera_from_board;
    const Ends ends = ends_of(camera.camera, pose, stripe);
    directions.push_back((ends.last - ends.first).normalized());
    std::vector<double> off_mm, off_px;
    for (const LineCentre& c : stripe.centres) {
      const auto p = on_board(camera.camera, pose, c);
      if (!p) continue;
      // Across the line within the board's plane, and what that is in pixels.
      const Eigen::Vector3d across = pose.linear().col(2).cross(directions.back()).normalized();
      const double off = across.dot(*p - ends.first);
      off_mm.push_back(off);
      const Eigen::Vector2d a = project(camera.camera, (*p).hnormalized()),
                            b = project(camera.camera, (*p + 0.01 * across).hnormalized());
      off_px.push_back(off * (b - a).norm() / 0.01);
    }
    noise_mm.push_back(mad_sigma(off_mm, median(off_mm)) /
                       std::sqrt(std::max(1.0, static_cast<double>(off_mm.size()) / kCorrelatedCentres)));
    centre_noise.push_back(mad_sigma(off_px, median(off_px)));
  }
  end_noise_mm = 1.5 * median(noise_mm);  // An end hangs on fewer points than the middle.
  solution = solve(camera.camera, stripes, corner_sd_px, end_noise_mm, &solution.q);
  for (std::size_t i = 0; i < directions.size(); ++i) {
    for (std::size_t j = i + 1; j < directions.size(); ++j) {
      const double angle =
          std::acos(std::min(1.0, std::abs(directions[i].dot(directions[j])))) * 180.0 / std::numbers::pi;
      result.crossing_deg = std::max(result.crossing_deg, angle);
    }
  }
  constexpr double fewest_degrees = 8.0;
  double depth_spread = 0.0;
  {
    double nearest = 1e9, farthest = 0.0;
    for (const Stripe& stripe : stripes) {
      const double z = pose_of(camera.camera, *stripe.board).camera_from_board.translation().z();
      nearest = std::min(nearest, z), farthest = std::max(farthest, z);
    }
    depth_spread = (farthest - nearest) / farthest;
  }
  constexpr double fewest_depths = 0.03;
  if (result.crossing_deg < fewest_degrees && depth_spread < fewest_depths) {
    throw InputError({"plane.one_pose", {{"crossing", number(result.crossing_deg, 1)}}});
  }
  const double degrees_of_freedom = 2.0 * static_cast<double>(stripes.size()) - 3.0;
  result.chi_square_per_degree = solution.chi_square / degrees_of_freedom;
  result.found.q = solution.q;
  result.found.covariance = std::max(1.0, result.chi_square_per_degree) * solution.covariance;
  result.found.centre_noise_px = median(centre_noise);

  if (progress) progress({"stage_calib.follow_camera"}, 0.85);
  const auto p = camera.camera.parameters();
  for (int k = 0; k < Camera::kParameters; ++k) {
    const double step = std::max(1e-9, std::sqrt(camera.covariance(k, k)));
    Camera high = camera.camera, low = camera.camera;
    auto moved_parameters = p;
    moved_parameters(k) += step;
    high.set_parameters(moved_parameters);
    moved_parameters(k) -= 2.0 * step;
    low.set_parameters(moved_parameters);
    const Eigen::Vector3d q_high = solve(high, stripes, corner_sd_px, end_noise_mm, &solution.q).q;
    const Eigen::Vector3d q_low = solve(low, stripes, corner_sd_px, end_noise_mm, &solution.q).q;
    result.found.by_camera.col(k) = (q_high - q_low) / (2.0 * step);
  }

  double sum = 0.0, count = 0.0;
  for (const Stripe& stripe : stripes) {
    const Eigen::Isometry3d pose = pose_of(camera.camera, *stripe.board).camera_from_board;
    double own = 0.0, own_mean = 0.0;
    for (const LineCentre& c : stripe.centres) {
      const auto point = on_board(camera.camera, pose, c);
      if (!point) continue;
      const double distance_um = um_from_mm((solution.q.dot(*point) - 1.0) / solution.q.norm());
      result.residuals.push_back({c.column, c.row, distance_um, stripe.pose});
      result.found.middle_mm += *point;
      own += square(distance_um), own_mean += distance_um;
    }
    const auto n = static_cast<double>(stripe.centres.size());
    for (auto& told : result.poses) {
      if (told.name != stripe.board->name) continue;
      told.rms_um = std::sqrt(own / n), told.offset_um = own_mean / n, told.points = stripe.centres.size();
    }
    sum += own, count += n;
  }
  result.found.residual_um = std::sqrt(sum / count);
  result.found.middle_mm /= static_cast<double>(std::max<std::size_t>(1, result.residuals.size()));
  return result;
}

}  // namespace canewise
