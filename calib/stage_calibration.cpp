#include "calib/stage_calibration.h"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "calib/by_camera.h"
#include "calib/usable_pictures.h"
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

/// All photographs as they are told, and those that can be used.
struct Photographs {
  std::vector<StageCalibration::Position> positions;
  std::vector<Step> steps;
  std::vector<std::size_t> place;  ///< Of each step among the positions.
};

Photographs usable_of(const Camera& camera, const StageViews& taken) {
  const std::vector<BoardView>& views = taken.boards;
  Photographs photographs;
  for (std::size_t i = 0; i < views.size(); ++i) {
    StageCalibration::Position told;
    told.name = views[i].name;
    told.nominal_mm = taken.nominal_step_mm * static_cast<double>(i);
    if (!has_size(camera, views[i].width, views[i].height)) {
      throw InputError(
          {"in_file",
           {{"file", text(views[i].name)}, {"what", part(other_size(camera, views[i].width, views[i].height))}}});
    }
    told.advice = views[i].refusal;
    if (told.advice.empty() && views[i].pixels.size() < 8) told.advice = Message{"board.few_corners"};
    if (told.advice.empty()) {
      photographs.steps.push_back({&views[i], told.nominal_mm});
      photographs.place.push_back(i);
    }
    photographs.positions.push_back(std::move(told));
  }
  if (photographs.steps.size() < kFewestStagePhotographs) {
    throw InputError({"stage_calib.too_few",
                      {{"usable", count(photographs.steps.size())},
                       {"all", count(views.size())},
                       {"needed", count(kFewestStagePhotographs)},
                       {"reasons", reasons_of(photographs.positions, &StageCalibration::Position::advice)}}});
  }
  return photographs;
}

/// Along the way, across it in the picture, and in depth.
struct WayAxes {
  Eigen::Vector3d along, across, deep;
};

WayAxes axes_of(const Way& way) {
  WayAxes axes;
  axes.along = way.motion.normalized();
  axes.deep = (Eigen::Vector3d::UnitZ() - axes.along.z() * axes.along).normalized();
  axes.across = axes.deep.cross(axes.along);
  return axes;
}

/// One photograph by itself, held against the straight way.
struct OwnPose {
  BoardPose pose;
  Eigen::Vector3d
      middle;  ///< Of the board, in its axes: its corner lies too far out for a turn not to show as a shift.
  Eigen::Vector3d off_mm;  ///< Of the middle from where the straight way has it.
};

OwnPose own_pose_of(const Camera& camera, const Step& step, const Way& way) {
  OwnPose own{pose_of(camera, *step.view), Eigen::Vector3d::Zero(), Eigen::Vector3d::Zero()};
  for (const auto& b : step.view->board_mm)
    own.middle += Eigen::Vector3d(b.x(), b.y(), 0.0) / static_cast<double>(step.view->board_mm.size());
  own.off_mm = own.pose.camera_from_board * own.middle - at(way, step.nominal_mm) * own.middle;
  return own;
}

/// Standard uncertainty of the board's middle along the way. A small turn moves the middle too.
double u_along_um(const OwnPose& own, const Eigen::Vector3d& along) {
  Eigen::Matrix<double, 3, 6> by_motion = Eigen::Matrix<double, 3, 6>::Zero();
  const Eigen::Vector3d arm = own.pose.camera_from_board.linear() * own.middle;
  by_motion.leftCols<3>() << 0, arm.z(), -arm.y(), -arm.z(), 0, arm.x(), arm.y(), -arm.x(), 0;
  by_motion.rightCols<3>() = Eigen::Matrix3d::Identity();
  return um_from_mm(std::sqrt((by_motion * own.pose.covariance * by_motion.transpose() * along).dot(along)));
}

StageCalibration::Position with_own_pose(StageCalibration::Position told, const OwnPose& own, const Way& way,
                                         const WayAxes& axes) {
  const Eigen::Vector3d& off = own.off_mm;
  told.rms_px = own.pose.rms_px;
  told.off_um = 1e3 * Eigen::Vector3d(axes.along.dot(off), axes.across.dot(off), axes.deep.dot(off));
  const Eigen::AngleAxisd turn(own.pose.camera_from_board.linear() * way.start.linear().transpose());
  told.turn_deg = std::abs(turn.angle()) * 180.0 / std::numbers::pi;
  told.u_along_um = u_along_um(own, axes.along);
  return told;
}

/// Root mean square distance from the straight way. Depth from one photograph is noise mostly and does not count.
double straightness_um(const std::vector<OwnPose>& own, const Eigen::Vector3d& deep) {
  double crooked = 0.0;
  for (const OwnPose& one : own) crooked += one.off_mm.dot(one.off_mm) - square(deep.dot(one.off_mm));
  return um_from_mm(std::sqrt(crooked / static_cast<double>(own.size())));
}

/// A board that turns on its way has come loose.
void check_turns(const Photographs& photographs, const std::vector<OwnPose>& own) {
  std::vector<double> u_turns;
  for (const OwnPose& one : own)
    u_turns.push_back(std::sqrt(one.pose.covariance.topLeftCorner<3, 3>().trace()) * 180.0 / std::numbers::pi);
  const double usual_turn = std::max(0.3, 6.0 * median(u_turns));
  for (const std::size_t i : photographs.place) {
    const StageCalibration::Position& told = photographs.positions[i];
    if (told.turn_deg < usual_turn) continue;
    throw InputError({"stage_calib.turned", {{"file", text(told.name)}, {"turn", number(told.turn_deg, 1)}}});
  }
}

/// Variance of a corner's coordinate with every photograph's board where it shows it, not on one straight way.
double own_variance(const std::vector<Step>& steps, const std::vector<OwnPose>& own) {
  double squares = 0.0, values = 0.0;
  for (std::size_t k = 0; k < steps.size(); ++k) {
    squares += square(own[k].pose.rms_px) * static_cast<double>(steps[k].view->pixels.size());
    values += 2.0 * static_cast<double>(steps[k].view->pixels.size());
  }
  return squares / std::max(1.0, values - 6.0 * static_cast<double>(steps.size()));
}

/// Each position of a crooked way counts as one value, not each corner.
double crooked_per_mm(const std::vector<Step>& steps, double straightness_um) {
  const double far_mm = std::abs(steps.back().nominal_mm - steps.front().nominal_mm);
  return straightness_um * 1e-3 / far_mm * std::sqrt(12.0 / static_cast<double>(steps.size()));
}

void check_length(double length_ratio, double nominal_step_mm) {
  constexpr double too_far_off = 0.03;
  if (!(std::abs(length_ratio - 1.0) > too_far_off)) return;
  throw InputError({"stage_calib.sizes_differ",
                    {{"moved", mm(length_ratio * std::abs(nominal_step_mm), 3)},
                     {"stated", mm(std::abs(nominal_step_mm), decimals_of(nominal_step_mm))},
                     {"off", number(100.0 * std::abs(length_ratio - 1.0), 1)}}});
}

}  // namespace

StageCalibration calibrate_stage(const CalibratedCamera& camera, const StageViews& views,
                                 const std::optional<LaserPlane>& plane, const Progress& progress) {
  const double nominal_step_mm = views.nominal_step_mm;
  if (!(std::abs(nominal_step_mm) > 1e-4 && std::abs(nominal_step_mm) < 1000.0))
    throw UsageError({"stage_calib.say_step"});
  Photographs photographs = usable_of(camera.camera, views);
  const std::vector<Step>& steps = photographs.steps;
  if (progress) progress({"stage_calib.follow_board"}, 0.6);
  const Way way = solve(camera.camera, steps);
  const WayAxes axes = axes_of(way);
  std::vector<OwnPose> own;
  for (std::size_t k = 0; k < steps.size(); ++k) {
    own.push_back(own_pose_of(camera.camera, steps[k], way));
    auto& told = photographs.positions[photographs.place[k]];
    told = with_own_pose(told, own.back(), way, axes);
  }
  check_turns(photographs, own);

  StageCalibration result;
  Stage& found = result.found;
  found.motion = way.motion;
  found.straightness_um = straightness_um(own, axes.deep);
  const double variance = way.squares / std::max(1.0, way.values - 9.0);
  found.covariance = variance * way.inverse.bottomRightCorner<3, 3>();
  // Errors of single positions (screw, slip) are no corner noise: they widen the motion's covariance.
  if (way.squares / way.values > 1.5 * own_variance(steps, own)) {
    found.covariance += square(crooked_per_mm(steps, found.straightness_um)) * Eigen::Matrix3d::Identity();
    result.remarks.push_back({"stage_calib.crooked", {{"off", um(found.straightness_um)}}});
  }
  if (progress) progress({"stage_calib.follow_camera"}, 0.8);
  found.by_camera = derivative_by_camera(camera, [&](const Camera& other) { return solve(other, steps).motion; });
  const Eigen::Matrix3d total = found.covariance + found.by_camera * camera.covariance * found.by_camera.transpose();
  result.length_ratio = way.motion.norm();
  result.u_length_ratio = std::sqrt(std::max(0.0, axes.along.dot(total * axes.along)));
  check_length(result.length_ratio, nominal_step_mm);
  result.to_board_deg = 90.0 - angle_deg(way.motion, way.start.linear().col(2));
  if (plane) found.out_of_square_deg = angle_deg(way.motion, plane->q);
  result.positions = std::move(photographs.positions);
  return result;
}

}  // namespace canewise
