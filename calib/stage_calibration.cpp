#include "calib/stage_calibration.h"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "scanproc/core/error.h"
#include "scanproc/core/statistics.h"
#include "scanproc/core/units.h"
#include "scanproc/words/decimals.h"

namespace canewise {
namespace {

/// A view and how far the stage had gone.
struct Step {
  const BoardView* view;
  double nominal_mm;
};

using Vector9d = Eigen::Matrix<double, 9, 1>;

struct Way {
  Eigen::Isometry3d start = Eigen::Isometry3d::Identity();
  Eigen::Vector3d motion = Eigen::Vector3d::Zero();
  Eigen::Matrix<double, 9, 9> inverse = Eigen::Matrix<double, 9, 9>::Zero();  ///< Turn, start, motion.
  double squares = 0.0;
  double values = 0.0;
};

Eigen::Isometry3d at(const Way& way, double nominal_mm) {
  Eigen::Isometry3d pose = way.start;
  pose.translation() += nominal_mm * way.motion;
  return pose;
}

/// Gauss-Newton for the common turn, the start and the motion.
Way solve(const Camera& camera, const std::vector<Step>& steps) {
  Way way;
  way.start = pose_of(camera, *steps.front().view).camera_from_board;
  const Eigen::Vector3d end = pose_of(camera, *steps.back().view).camera_from_board.translation();
  way.start.translation() = pose_of(camera, *steps.front().view).camera_from_board.translation();
  way.motion = (end - way.start.translation()) / (steps.back().nominal_mm - steps.front().nominal_mm);
  way.start.translation() -= steps.front().nominal_mm * way.motion;
  constexpr int rounds = 12;
  for (int round = 0; round < rounds; ++round) {
    Eigen::Matrix<double, 9, 9> normal = Eigen::Matrix<double, 9, 9>::Zero();
    Vector9d right = Vector9d::Zero();
    way.squares = way.values = 0.0;
    for (const Step& step : steps) {
      const Eigen::Isometry3d pose = at(way, step.nominal_mm);
      const Eigen::MatrixXd by = by_pose(camera, *step.view, pose);
      const Eigen::VectorXd off = residuals_of(camera, *step.view, pose);
      Eigen::MatrixXd jacobian(by.rows(), 9);
      jacobian << by, step.nominal_mm * by.rightCols<3>();
      normal += jacobian.transpose() * jacobian;
      right += jacobian.transpose() * off;
      way.squares += off.squaredNorm();
      way.values += static_cast<double>(off.size());
    }
    const Eigen::LDLT<Eigen::Matrix<double, 9, 9>> factor(normal);
    const Vector9d change = factor.solve(right);
    way.inverse = factor.solve(Eigen::Matrix<double, 9, 9>::Identity());
    way.start = moved(way.start, change.head<6>());
    way.motion += change.tail<3>();
    if (change.head<6>().norm() < 1e-10 && change.tail<3>().norm() < 1e-12) break;
  }
  return way;
}

double angle_deg(const Eigen::Vector3d& a, const Eigen::Vector3d& b) {
  return std::atan2(a.cross(b).norm(), std::abs(a.dot(b))) * 180.0 / std::numbers::pi;
}

}  // namespace

StageCalibration calibrate_stage(const CalibratedCamera& camera, const std::vector<BoardView>& views,
                                 double nominal_step_mm, const std::optional<LaserPlane>& plane,
                                 const Progress& progress) {
  if (!(std::abs(nominal_step_mm) > 1e-4 && std::abs(nominal_step_mm) < 1000.0))
    throw UsageError({"stage_calib.say_step"});
  StageCalibration result;
  std::vector<Step> steps;
  std::vector<std::size_t> place;
  for (std::size_t i = 0; i < views.size(); ++i) {
    StageCalibration::Position told;
    told.name = views[i].name;
    told.nominal_mm = nominal_step_mm * static_cast<double>(i);
    if (views[i].width != camera.camera.width || views[i].height != camera.camera.height) {
      const Message other_size{"calib.other_size",
                               {{"width", number(static_cast<double>(views[i].width))},
                                {"height", number(static_cast<double>(views[i].height))},
                                {"camera_width", number(static_cast<double>(camera.camera.width))},
                                {"camera_height", number(static_cast<double>(camera.camera.height))}}};
      throw InputError({"in_file", {{"file", text(views[i].name)}, {"what", part(other_size)}}});
    }
    told.advice = views[i].refusal;
    if (told.advice.empty() && views[i].pixels.size() < 8) told.advice = Message{"board.few_corners"};
    if (told.advice.empty()) {
      steps.push_back({&views[i], told.nominal_mm});
      place.push_back(i);
    }
    result.positions.push_back(std::move(told));
  }
  if (steps.size() < kFewestStagePhotographs) {
    Messages reasons;
    for (const auto& told : result.positions) {
      if (!told.advice.empty())
        reasons.push_back({"board.reason", {{"name", text(told.name)}, {"advice", part(told.advice)}}});
    }
    throw InputError({"stage_calib.too_few",
                      {{"usable", count(steps.size())},
                       {"all", count(views.size())},
                       {"needed", count(kFewestStagePhotographs)},
                       {"reasons", reasons}}});
  }
  if (progress) progress({"stage_calib.follow_board"}, 0.6);
  const Way way = solve(camera.camera, steps);
  const double variance = way.squares / std::max(1.0, way.values - 9.0);
  result.found.motion = way.motion;

  // Each photograph by itself: what the straight way does not explain.
  const Eigen::Vector3d along = way.motion.normalized();
  const Eigen::Vector3d deep = (Eigen::Vector3d::UnitZ() - along.z() * along).normalized();
  const Eigen::Vector3d across = deep.cross(along);
  std::vector<double> off_along, pose_u;
  double crooked = 0.0;
  for (std::size_t k = 0; k < steps.size(); ++k) {
    auto& told = result.positions[place[k]];
    const BoardPose own = pose_of(camera.camera, *steps[k].view);
    // The board's own middle: its corner lies too far out for a turn not to show as a shift.
    Eigen::Vector3d middle = Eigen::Vector3d::Zero();
    for (const auto& b : steps[k].view->board_mm)
      middle += Eigen::Vector3d(b.x(), b.y(), 0.0) / static_cast<double>(steps[k].view->board_mm.size());
    const Eigen::Vector3d off = own.camera_from_board * middle - at(way, steps[k].nominal_mm) * middle;
    told.rms_px = own.rms_px;
    told.off_um = 1e3 * Eigen::Vector3d(along.dot(off), across.dot(off), deep.dot(off));
    const Eigen::AngleAxisd turn(own.camera_from_board.linear() * way.start.linear().transpose());
    told.turn_deg = std::abs(turn.angle()) * 180.0 / std::numbers::pi;
    // A small turn moves the board's middle too.
    Eigen::Matrix<double, 3, 6> by_motion = Eigen::Matrix<double, 3, 6>::Zero();
    const Eigen::Vector3d arm = own.camera_from_board.linear() * middle;
    by_motion.leftCols<3>() << 0, arm.z(), -arm.y(), -arm.z(), 0, arm.x(), arm.y(), -arm.x(), 0;
    by_motion.rightCols<3>() = Eigen::Matrix3d::Identity();
    told.u_along_um = um_from_mm(std::sqrt((by_motion * own.covariance * by_motion.transpose() * along).dot(along)));
    crooked += off.dot(off) - square(deep.dot(off));  // Depth from one photograph is noise mostly.
    off_along.push_back(told.off_um.x());
    pose_u.push_back(std::sqrt(own.covariance.topLeftCorner<3, 3>().trace()) * 180.0 / std::numbers::pi);
  }
  result.found.straightness_um = um_from_mm(std::sqrt(crooked / static_cast<double>(steps.size())));
  const double usual_turn = std::max(0.3, 6.0 * median(pose_u));
  for (const std::size_t i : place) {
    if (result.positions[i].turn_deg < usual_turn) continue;
    throw InputError({"stage_calib.turned",
                      {{"file", text(result.positions[i].name)}, {"turn", number(result.positions[i].turn_deg, 1)}}});
  }
  // Errors of single positions (screw, slip) are no corner noise: they widen the motion's covariance.
  const double far_mm = std::abs(steps.back().nominal_mm - steps.front().nominal_mm);
  result.found.covariance = variance * way.inverse.bottomRightCorner<3, 3>();
  const double model_rms = way.squares / way.values;
  double own_squares = 0.0, own_values = 0.0;
  for (std::size_t k = 0; k < steps.size(); ++k) {
    own_squares += square(result.positions[place[k]].rms_px) * static_cast<double>(steps[k].view->pixels.size());
    own_values += 2.0 * static_cast<double>(steps[k].view->pixels.size());
  }
  const double own_variance = own_squares / std::max(1.0, own_values - 6.0 * static_cast<double>(steps.size()));
  if (model_rms > 1.5 * own_variance) {
    // The way is crooked: each position counts as one value, not each corner.
    const double per_mm =
        result.found.straightness_um * 1e-3 / far_mm * std::sqrt(12.0 / static_cast<double>(steps.size()));
    result.found.covariance += square(per_mm) * Eigen::Matrix3d::Identity();
    result.remarks.push_back({"stage_calib.crooked", {{"off", um(result.found.straightness_um)}}});
  }
  if (progress) progress({"stage_calib.follow_camera"}, 0.8);
  const auto p = camera.camera.parameters();
  for (int k = 0; k < Camera::kParameters; ++k) {
    const double step = std::max(1e-9, std::sqrt(camera.covariance(k, k)));
    Camera high = camera.camera, low = camera.camera;
    auto changed = p;
    changed(k) += step;
    high.set_parameters(changed);
    changed(k) -= 2.0 * step;
    low.set_parameters(changed);
    result.found.by_camera.col(k) = (solve(high, steps).motion - solve(low, steps).motion) / (2.0 * step);
  }
  const Eigen::Matrix3d total =
      result.found.covariance + result.found.by_camera * camera.covariance * result.found.by_camera.transpose();
  result.length_ratio = way.motion.norm();
  result.u_length_ratio = std::sqrt(std::max(0.0, along.dot(total * along)));
  constexpr double too_far_off = 0.03;
  if (std::abs(result.length_ratio - 1.0) > too_far_off) {
    throw InputError({"stage_calib.sizes_differ",
                      {{"moved", mm(result.length_ratio * std::abs(nominal_step_mm), 3)},
                       {"stated", mm(std::abs(nominal_step_mm), decimals_of(nominal_step_mm))},
                       {"off", number(100.0 * std::abs(result.length_ratio - 1.0), 1)}}});
  }
  result.to_board_deg = 90.0 - angle_deg(way.motion, way.start.linear().col(2));
  if (plane) result.found.out_of_square_deg = angle_deg(way.motion, plane->q);
  return result;
}

}  // namespace canewise
