#include "calib/laser_plane_calibration.h"

#include <Eigen/Cholesky>
#include <Eigen/SVD>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <utility>

#include "calib/by_camera.h"
#include "calib/stripes.h"
#include "calib/usable_pictures.h"
#include "scanproc/core/error.h"
#include "scanproc/core/statistics.h"
#include "scanproc/core/units.h"

namespace canewise {
namespace {

/// What makes the lines' ends unsure.
struct EndNoise {
  double corner_sd_px = 0.0;  ///< Through the board's pose.
  double own_mm = 0.0;        ///< Of the line itself.
};

struct Solution {
  Eigen::Vector3d q = Eigen::Vector3d::Zero();
  Eigen::Matrix3d covariance = Eigen::Matrix3d::Zero();
  double chi_square = 0.0;
};

/// A stripe on its board with the camera as it is.
struct PosedStripe {
  const Stripe* stripe = nullptr;
  BoardPose pose;
  Ends ends;
};

std::vector<PosedStripe> posed(const Camera& camera, const std::vector<Stripe>& stripes, double corner_sd_px) {
  std::vector<PosedStripe> all;
  for (const Stripe& stripe : stripes) {
    const BoardPose pose = pose_of(camera, *stripe.board, corner_sd_px);
    all.push_back({&stripe, pose, ends_of(camera, pose.camera_from_board, stripe)});
  }
  return all;
}

Eigen::Vector3d plane_through_ends(const std::vector<PosedStripe>& stripes) {
  std::vector<Eigen::Vector3d> all;
  for (const PosedStripe& stripe : stripes) all.push_back(stripe.ends.first), all.push_back(stripe.ends.last);
  return plane_by_svd(all);
}

/// How q . X at both ends changes with a small turn and shift of the board.
Eigen::Matrix<double, 2, 6> ends_by_motion(const Camera& camera, const PosedStripe& posed, const Eigen::Vector3d& q) {
  Eigen::Matrix<double, 2, 6> by_motion;
  for (int i = 0; i < 6; ++i) {
    Vector6d step = Vector6d::Zero();
    step(i) = i < 3 ? 1e-6 : 1e-4;
    const Ends high = ends_of(camera, moved(posed.pose.camera_from_board, step), *posed.stripe);
    const Ends low = ends_of(camera, moved(posed.pose.camera_from_board, -step), *posed.stripe);
    by_motion(0, i) = q.dot(high.first - low.first) / (2.0 * step(i));
    by_motion(1, i) = q.dot(high.last - low.last) / (2.0 * step(i));
  }
  return by_motion;
}

/// One pose's two rows of q . X = 1, and their weight.
struct EndEquations {
  Eigen::Matrix<double, 2, 3> ends;
  Eigen::Matrix2d weight;
};

EndEquations equations_of(const Camera& camera, const PosedStripe& posed, const Eigen::Vector3d& q, double end_mm) {
  EndEquations equations;
  equations.ends << posed.ends.first.transpose(), posed.ends.last.transpose();
  const Eigen::Matrix<double, 2, 6> by_motion = ends_by_motion(camera, posed, q);
  Eigen::Matrix2d covariance = by_motion * posed.pose.covariance * by_motion.transpose();
  covariance += square(q.norm() * end_mm) * Eigen::Matrix2d::Identity();
  equations.weight = covariance.inverse();
  return equations;
}

Solution least_squares(const std::vector<EndEquations>& equations) {
  Eigen::Matrix3d normal = Eigen::Matrix3d::Zero();
  Eigen::Vector3d right = Eigen::Vector3d::Zero();
  for (const auto& [a, weight] : equations) {
    normal += a.transpose() * weight * a;
    right += a.transpose() * weight * Eigen::Vector2d::Ones();
  }
  const Eigen::LDLT<Eigen::Matrix3d> factor(normal);
  Solution solution;
  solution.q = factor.solve(right);
  solution.covariance = factor.solve(Eigen::Matrix3d::Identity());
  for (const auto& [a, weight] : equations) {
    const Eigen::Vector2d off = a * solution.q - Eigen::Vector2d::Ones();
    solution.chi_square += off.dot(weight * off);
  }
  return solution;
}

/// Generalised least squares for q with the covariances of q . X at both ends. These follow q, which starts at
/// `reference` or at the plane through all ends.
Solution solve(const Camera& camera, const std::vector<Stripe>& stripes, const EndNoise& noise,
               const std::optional<Eigen::Vector3d>& reference) {
  const std::vector<PosedStripe> all = posed(camera, stripes, noise.corner_sd_px);
  Solution solution;
  solution.q = reference ? *reference : plane_through_ends(all);
  constexpr int rounds = 3;
  for (int round = 0; round < rounds; ++round) {
    std::vector<EndEquations> equations;
    for (const PosedStripe& one : all) equations.push_back(equations_of(camera, one, solution.q, noise.own_mm));
    solution = least_squares(equations);
  }
  return solution;
}

void check_sizes(const Camera& camera, const std::vector<LineOnBoard>& poses) {
  for (const auto& pose : poses) {
    if (has_size(camera, pose.line.columns, pose.line.rows) && has_size(camera, pose.board.width, pose.board.height))
      continue;
    throw InputError({"plane.other_size",
                      {{"file", text(pose.board.name)},
                       {"width", number(static_cast<double>(camera.width))},
                       {"height", number(static_cast<double>(camera.height))}}});
  }
}

void check_count(const FoundStripes& found) {
  if (found.stripes.size() >= kFewestPlanePoses) return;
  throw InputError({"plane.too_few",
                    {{"usable", count(found.stripes.size())},
                     {"all", count(found.poses.size())},
                     {"needed", count(kFewestPlanePoses)},
                     {"reasons", reasons_of(found.poses, &LaserPlaneCalibration::Pose::advice)}}});
}

/// Corners scatter alike in all photographs.
double corner_scatter_px(const Camera& camera, const std::vector<Stripe>& stripes) {
  double squares = 0.0, degrees = 0.0;
  for (const Stripe& stripe : stripes) {
    const BoardPose pose = pose_of(camera, *stripe.board);
    squares += square(pose.rms_px) * static_cast<double>(stripe.board->pixels.size());
    degrees += 2.0 * static_cast<double>(stripe.board->pixels.size()) - 6.0;
  }
  return std::sqrt(squares / degrees);
}

/// The lines' directions, and the usual noise of an end and of a centre.
struct LinesScatter {
  std::vector<Eigen::Vector3d> directions;
  double end_mm = 0.0, centre_px = 0.0;
};

LinesScatter scatter_of_all(const Camera& camera, const std::vector<Stripe>& stripes) {
  LinesScatter all;
  std::vector<double> ends_mm, centres_px;
  for (const Stripe& stripe : stripes) {
    const StripeScatter scatter = scatter_of(camera, stripe);
    all.directions.push_back(scatter.along);
    ends_mm.push_back(scatter.end_mm);
    centres_px.push_back(scatter.centre_px);
  }
  all.end_mm = median(ends_mm);
  all.centre_px = median(centres_px);
  return all;
}

/// Widest angle between two lines.
double widest_crossing_deg(const std::vector<Eigen::Vector3d>& directions) {
  double widest = 0.0;
  for (std::size_t i = 0; i < directions.size(); ++i) {
    for (std::size_t j = i + 1; j < directions.size(); ++j) {
      const double angle =
          std::acos(std::min(1.0, std::abs(directions[i].dot(directions[j])))) * 180.0 / std::numbers::pi;
      widest = std::max(widest, angle);
    }
  }
  return widest;
}

/// How far apart the boards lay in depth, as a share of the farthest.
double depth_spread(const Camera& camera, const std::vector<Stripe>& stripes) {
  double nearest = 1e9, farthest = 0.0;
  for (const Stripe& stripe : stripes) {
    const double z = pose_of(camera, *stripe.board).camera_from_board.translation().z();
    nearest = std::min(nearest, z), farthest = std::max(farthest, z);
  }
  return (farthest - nearest) / farthest;
}

/// Lines that are all alike leave a plane free to turn about them.
void check_spread(double crossing_deg, double depth_spread) {
  constexpr double fewest_degrees = 8.0, fewest_depths = 0.03;
  if (crossing_deg < fewest_degrees && depth_spread < fewest_depths)
    throw InputError({"plane.one_pose", {{"crossing", number(crossing_deg, 1)}}});
}

/// With every point's distance from the plane, and what they come to for each pose and for all.
LaserPlaneCalibration with_residuals(LaserPlaneCalibration result, const Camera& camera,
                                     const std::vector<Stripe>& stripes) {
  const Eigen::Vector3d& q = result.found.q;
  double sum = 0.0, count = 0.0;
  for (const Stripe& stripe : stripes) {
    const Eigen::Isometry3d pose = pose_of(camera, *stripe.board).camera_from_board;
    double own = 0.0, own_mean = 0.0;
    for (const LineCentre& c : stripe.centres) {
      const auto point = on_board(camera, pose, c);
      if (!point) continue;
      const double distance_um = um_from_mm((q.dot(*point) - 1.0) / q.norm());
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
  if (poses.empty()) throw InputError({"plane.no_pose"});
  check_sizes(camera.camera, poses);
  FoundStripes found = find_stripes(camera, poses, board, progress);
  check_count(found);
  EndNoise noise{corner_scatter_px(camera.camera, found.stripes), 1e-3};

  if (progress) progress({"stage_calib.fit_plane"}, 0.75);
  const Eigen::Vector3d first = solve(camera.camera, found.stripes, noise, std::nullopt).q;
  const std::vector<Stripe> stripes = without_outliers(camera.camera, first, found.stripes);
  const LinesScatter scatter = scatter_of_all(camera.camera, stripes);
  noise.own_mm = 1.5 * scatter.end_mm;  // An end hangs on fewer points than the middle.
  const Solution solution = solve(camera.camera, stripes, noise, first);

  LaserPlaneCalibration result;
  result.poses = std::move(found.poses);
  result.crossing_deg = widest_crossing_deg(scatter.directions);
  check_spread(result.crossing_deg, depth_spread(camera.camera, stripes));
  const double degrees_of_freedom = 2.0 * static_cast<double>(stripes.size()) - 3.0;
  result.chi_square_per_degree = solution.chi_square / degrees_of_freedom;
  result.found.crosses_columns = found.line.crosses_columns;
  result.found.line_sigma_px = found.line.sigma_px;
  result.found.q = solution.q;
  result.found.covariance = std::max(1.0, result.chi_square_per_degree) * solution.covariance;
  result.found.centre_noise_px = scatter.centre_px;

  if (progress) progress({"stage_calib.follow_camera"}, 0.85);
  result.found.by_camera =
      derivative_by_camera(camera, [&](const Camera& other) { return solve(other, stripes, noise, solution.q).q; });
  return with_residuals(std::move(result), camera.camera, stripes);
}

}  // namespace canewise
