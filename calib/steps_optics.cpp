#include <fmt/format.h>

#include <cmath>
#include <iterator>

#include "calib/camera_calibration.h"
#include "calib/depth_calibration.h"
#include "calib/laser_plane_calibration.h"
#include "calib/pictures.h"
#include "calib/rig_consistency.h"
#include "calib/stage_calibration.h"
#include "calib/steps.h"
#include "scanproc/core/budget.h"
#include "scanproc/core/error.h"
#include "scanproc/core/parallel.h"
#include "scanproc/core/utc.h"
#include "scanproc/scan/frames.h"
#include "scanproc/scan/geometry_uncertainty.h"

namespace canewise {
namespace {

constexpr std::size_t kMostPhotographs = 300;

/// Photographs of a folder with their boards.
std::vector<BoardView> boards_in(const std::filesystem::path& folder, const Board& board, const Progress& progress) {
  validate(board);
  const auto files = picture_files(folder, {}, kMostPhotographs, "photograph");
  std::vector<BoardView> views(files.size());
  for (std::size_t i = 0; i < files.size(); ++i) {
    if (progress) {
      progress(fmt::format("looking for the board, photograph {} of {}", i + 1, files.size()),
               0.3 * static_cast<double>(i) / static_cast<double>(files.size()));
    }
    views[i] = find_board(read_picture(ScanFile(files[i])), board, files[i].filename().string());
  }
  return views;
}

const CalibratedCamera& camera_of(const Rig& rig) {
  if (!rig.camera) throw UsageError("the rig file has no camera yet. Run 'canewise calibrate camera' first.");
  return *rig.camera;
}

std::string view_lines(const std::vector<ViewVerdict>& views) {
  std::string lines;
  for (const auto& view : views) {
    if (!view.used) lines += fmt::format("{}left out: {}: {}", lines.empty() ? "" : "\n", view.name, view.advice);
  }
  return lines;
}

/// The terms that were found, and those that the photographs do not determine.
std::string distortion_words(const CameraCalibration& calibration) {
  const auto p = calibration.found.camera.parameters();
  std::string words = "distortion", left_out;
  for (const auto& term : calibration.left_out) {
    left_out += fmt::format(
        "{}{}: the photographs leave it uncertain by {:.2g}, more than lenses differ from none "
        "({:g})",
        left_out.empty() ? "; left out, " : "; ", term.name, term.u_free, term.u_assumed);
  }
  const struct {
    const char* name;
    int place, digits;
  } terms[] = {{"k1", 4, 4}, {"k2", 5, 3}, {"p1", 6, 5}, {"p2", 7, 5}, {"k3", 8, 2}};
  for (const auto& term : terms) {
    if (left_out.find(term.name) != std::string::npos) continue;
    words +=
        fmt::format("{} {} {:.{}f} ±{:.{}f}", words.back() == 'n' ? "" : ",", term.name, p(term.place), term.digits,
                    kCoverage95 * std::sqrt(calibration.found.covariance(term.place, term.place)), term.digits);
  }
  return words + left_out;
}

}  // namespace

StepOutcome camera_step(const std::filesystem::path& photographs, const Board& board, Rig rig,
                        const Progress& progress) {
  const auto views = boards_in(photographs, board, progress);
  CameraCalibration calibration;
  try {
    calibration = calibrate_camera(views, board, progress);
  } catch (const InputError& error) {
    throw InputError(photographs.string() + ": " + error.what());
  }
  StepOutcome outcome;
  const CalibratedCamera& found = calibration.found;
  const auto u95 = [&](int k) { return kCoverage95 * std::sqrt(found.covariance(k, k)); };
  outcome.sentence = fmt::format(
      "The camera is known to {:.2f} px: its corners miss by {:.2f} px in photographs that the fit had not seen (limit "
      "{:g} "
      "px), {:.0f} µm at the board.",
      found.rms_px, found.cross_validated_px, kRmsLimit_px, 1e3 * found.cross_validated_px * calibration.mm_per_px);
  const auto p = found.camera.parameters();
  outcome.details.push_back(
      fmt::format("focal lengths {:.1f} ±{:.1f}, {:.1f} ±{:.1f} px; middle {:.1f} ±{:.1f}, {:.1f} ±{:.1f} px "
                  "(95 %)",
                  p(0), u95(0), p(1), u95(1), p(2), u95(2), p(3), u95(3)));
  outcome.details.push_back(distortion_words(calibration));
  if (const auto lines = view_lines(calibration.views); !lines.empty()) outcome.details.push_back(lines);
  for (const auto& remark : calibration.remarks) outcome.details.push_back(remark);
  outcome.pictures.push_back({"camera.png", camera_png(calibration)});
  // What was found with another camera no longer holds.
  if (forget_geometry(rig)) {
    outcome.details.emplace_back(
        "Plane of light, stage, plate and step gauge were found with the camera as it was: calibrate them anew.");
  }
  rig.camera = found;
  rig.obtained["camera"] = fmt::format("{} photographs, {}", calibration.used.size(), now_utc().substr(0, 10));
  outcome.rig = std::move(rig);
  outcome.next =
      "next: in the dark, take a picture of the laser's line on the board in 8 to 12 poses, and in each pose a "
      "photograph with "
      "light; then 'canewise calibrate plane --boards DIR --lines DIR'.";
  return outcome;
}

StepOutcome plane_step(const std::filesystem::path& photographs, const std::filesystem::path& lines, const Board& board,
                       Rig rig, const Progress& progress) {
  const CalibratedCamera& camera = camera_of(rig);
  const auto views = boards_in(photographs, board, progress);
  const auto files = picture_files(lines, {}, kMostPhotographs, "line picture");
  if (files.size() != views.size()) {
    throw InputError(
        fmt::format("{} holds {} photographs and {} holds {} line pictures; there must be one line picture for each "
                    "photograph, in the same order of names.",
                    photographs.string(), views.size(), lines.string(), files.size()));
  }
  std::vector<LineOnBoard> poses;
  for (std::size_t i = 0; i < files.size(); ++i) {
    const ScanFile file(files[i]);
    LineOnBoard pose{views[i], read_picture(file)};
    if (pose.line.columns != camera.camera.width || pose.line.rows != camera.camera.height) {
      file.fail(
          fmt::format("is {} by {} pixels, but the calibrated camera has {} by {}. Use one camera mode for everything.",
                      pose.line.columns, pose.line.rows, camera.camera.width, camera.camera.height));
    }
    poses.push_back(std::move(pose));
  }
  StepOutcome outcome;
  LaserPlaneCalibration calibration;
  try {
    calibration = calibrate_laser_plane(camera, poses, board, progress);
  } catch (const InputError& error) {
    throw InputError(lines.string() + ": " + error.what());
  }
  const LaserPlane& found = calibration.found;
  const Eigen::Vector3d normal = found.q.normalized();
  const Eigen::Matrix3d total = found.covariance + found.by_camera * camera.covariance * found.by_camera.transpose();
  // Height of the plane over its own best place: q's error along the axis, as a distance.
  const double u_angle_deg = std::sqrt(std::max(0.0, (total.trace() - normal.dot(total * normal)) / 2.0)) /
                             found.q.norm() * 180.0 / 3.14159265358979;
  outcome.sentence = fmt::format(
      "The sheet of light is a plane to {:.1f} µm (root mean square), and its direction is known to ±{:.3f} degrees "
      "(95 %).",
      found.residual_um, kCoverage95 * u_angle_deg);
  outcome.details.push_back(
      fmt::format("the line is {:.1f} px wide (standard deviation); its middle scatters by {:.2f} px",
                  found.line_sigma_px, found.centre_noise_px));
  for (const auto& pose : calibration.poses) {
    if (!pose.advice.empty()) outcome.details.push_back("left out: " + pose.name + ": " + pose.advice);
  }
  constexpr double odd = 3.0;
  if (calibration.chi_square_per_degree > odd) {
    outcome.details.push_back(
        fmt::format("The boards agree {:.1f} times worse than their corners promise: a bent sheet, most likely. "
                    "The uncertainty was widened for it.",
                    std::sqrt(calibration.chi_square_per_degree)));
  }
  outcome.pictures.push_back({"plane.png", plane_png(calibration, camera.camera)});
  if (forget_geometry(rig)) {
    outcome.details.emplace_back(
        "Stage, plate and step gauge were found with the plane as it was: calibrate them anew.");
  }
  rig.laser_plane = found;
  rig.obtained["laser_plane"] = fmt::format("squares of {:g} mm, stated, {}", board.square_mm, now_utc().substr(0, 10));
  outcome.rig = std::move(rig);
  outcome.next =
      "next: fix the board on the stage, photograph it every few millimetres along the whole way, and run 'canewise "
      "calibrate "
      "stage --boards DIR --step-mm 5 --per-frame-mm 0.2'.";
  return outcome;
}

namespace {

/// The stage's own step is a length that the board had no part in.
void hold_step_against_squares(const StageCalibration& calibration, const StageInputs& inputs, const Board& board) {
  hold_against({inputs.u_square_rel, "the board's squares, --u-square-rel",
                fmt::format("the squares' side (--square-mm {:g})", board.square_mm)},
               {calibration.length_ratio, std::hypot(calibration.u_length_ratio, inputs.u_step_rel)},
               fmt::format("by the board, the stage's step of {:g} mm comes out", std::abs(inputs.step_mm)),
               fmt::format("the stage's step (--step-mm {:g}; how sure it is, --u-step-rel {:g})", inputs.step_mm,
                           inputs.u_step_rel));
}

}  // namespace

StepOutcome stage_step(const StageInputs& inputs, const Board& board, Rig rig, const Progress& progress) {
  const CalibratedCamera& camera = camera_of(rig);
  if (!(std::abs(inputs.travel_per_frame_mm) > 1e-4 && std::abs(inputs.travel_per_frame_mm) <= 10.0))
    throw UsageError("say how far the stage moves from frame to frame of a scan, --per-frame-mm, for example 0.2.");
  const auto views = boards_in(inputs.photographs, board, progress);
  StageCalibration calibration;
  try {
    calibration = calibrate_stage(camera, views, inputs.step_mm, rig.laser_plane, progress);
    hold_step_against_squares(calibration, inputs, board);
  } catch (const InputError& error) {
    throw InputError(inputs.photographs.string() + ": " + error.what());
  }
  StepOutcome outcome;
  calibration.found.travel_per_frame_mm = inputs.travel_per_frame_mm;
  outcome.sentence = fmt::format(
      "The stage moves {:.4f} mm (U95 {:.4f}) for each millimetre that was stated, straight to {:.0f} µm.",
      calibration.length_ratio, kCoverage95 * calibration.u_length_ratio, calibration.found.straightness_um);
  if (rig.laser_plane) {
    outcome.details.push_back(
        fmt::format("its way is {:.2f} degrees out of square to the sheet of light; that is allowed for",
                    calibration.found.out_of_square_deg));
  }
  outcome.details.push_back(
      fmt::format("the board lay {:.1f} degrees off the way", std::abs(calibration.to_board_deg)));
  for (const auto& told : calibration.positions) {
    if (!told.advice.empty()) outcome.details.push_back("left out: " + told.name + ": " + told.advice);
  }
  for (const auto& remark : calibration.remarks) outcome.details.push_back(remark);
  outcome.pictures.push_back({"stage.png", stage_png(calibration)});
  if (forget_heights(rig))
    outcome.details.emplace_back("Plate and step gauge were found with the stage as it was: calibrate them anew.");
  rig.stage = calibration.found;
  const std::string date = now_utc().substr(0, 10);
  if (rig.is_laser_line()) {
    const GeometryUncertainty geometry = propagate_geometry(rig);
    rig.scale_parts["printed board"] = inputs.u_square_rel;
    rig.obtained["scale of printed board"] = fmt::format("squares of {:g} mm, stated, {}", board.square_mm, date);
    add_geometry(rig, "calibration of " + date);
    // Until the plate's form is mapped, what the geometry bends is all that is known of it.
    if (!rig.plate_form) {
      rig.priors.plate_form_um = std::hypot(Priors{}.plate_form_um, geometry.form_um);
      rig.obtained["plate_form_um"] = "assumed plate, and calibration of " + date;
    }
    outcome.details.push_back(
        fmt::format("camera, plane and stage together leave heights uncertain by {:.2f} %, lengths by {:.2f} %, and "
                    "may bend a plate by "
                    "{:.1f} µm (one standard uncertainty)",
                    100.0 * geometry.height_rel, 100.0 * geometry.length_rel, geometry.form_um));
  }
  outcome.rig = std::move(rig);
  outcome.next =
      "next: scan the empty plate three times, lifted and wiped between, and run 'canewise calibrate plate SCAN SCAN "
      "SCAN'.";
  return outcome;
}

StepOutcome depth_step(const Paths& folders, Rig rig, const Progress& progress) {
  std::vector<PlateView> views;
  for (std::size_t i = 0; i < folders.size(); ++i) {
    if (progress) {
      progress(fmt::format("reading depth frames, height {} of {}", i + 1, folders.size()),
               0.8 * static_cast<double>(i) / static_cast<double>(folders.size()));
    }
    views.push_back({folders[i].string(), fuse_depth_folder(folders[i])});
  }
  const DepthCalibration calibration = calibrate_depth(views);
  StepOutcome outcome;
  outcome.sentence = fmt::format(
      "Depths were wrong by {:.0f} µm (root mean square over the picture) and are corrected from now on, {}.",
      calibration.before_um,
      std::isnan(calibration.after_um) ? std::string("to what two distances can tell")
                                       : fmt::format("to {:.1f} µm", calibration.after_um));
  outcome.details.push_back(calibration.advice);
  for (const auto& view : calibration.views) {
    outcome.details.push_back(fmt::format("{}: {:.1f} mm away, tilted {:.1f} degrees, error {:.0f} µm, noise {:.0f} µm",
                                          view.name, view.depth_mm, view.tilt_deg, view.error_um, view.noise_um));
  }
  outcome.pictures.push_back({"depth.png", depth_png(calibration)});
  rig.depth = calibration.found;
  // What was found through the old depths does not fit the new ones.
  if (forget_heights(rig))
    outcome.details.emplace_back("Plate and step gauge were found with the depths as they were: calibrate them anew.");
  rig.priors.plate_form_um = std::hypot(Priors{}.plate_form_um, calibration.found.u_um);
  rig.obtained["plate_form_um"] = "assumed plate, and depth correction of " + now_utc().substr(0, 10);
  outcome.rig = std::move(rig);
  outcome.next = "next: scan the empty plate three times, and run 'canewise calibrate plate DIR DIR DIR'.";
  return outcome;
}

}  // namespace canewise
