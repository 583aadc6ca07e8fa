#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>

#include "calib/camera_calibration.h"
#include "calib/depth_calibration.h"
#include "calib/laser_plane_calibration.h"
#include "calib/pictures.h"
#include "calib/rig_consistency.h"
#include "calib/stage_calibration.h"
#include "calib/step_scans.h"
#include "calib/steps.h"
#include "calib/usable_pictures.h"
#include "scanproc/core/budget.h"
#include "scanproc/core/error.h"
#include "scanproc/core/parallel.h"
#include "scanproc/frames/frames.h"
#include "scanproc/rig/geometry_uncertainty.h"
#include "scanproc/words/decimals.h"

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
      progress({"stage_calib.find_board", {{"at", count(i + 1)}, {"of", count(files.size())}}},
               0.3 * static_cast<double>(i) / static_cast<double>(files.size()));
    }
    views[i] = find_board(read_picture(ScanFile(files[i])), board, files[i].filename().string());
  }
  return views;
}

const CalibratedCamera& camera_of(const Rig& rig) {
  if (!rig.camera) throw UsageError({"calib.no_camera"});
  return *rig.camera;
}

/// A photograph that was not used, and why.
Message left_out(const std::string& name, const Message& advice) {
  return {"calib.left_out", {{"name", text(name)}, {"advice", part(advice)}}};
}

/// The terms that were found, and those that the photographs do not determine.
Messages distortion_words(const CameraCalibration& calibration) {
  const auto p = calibration.found.camera.parameters();
  const struct {
    const char* name;
    int place, digits;
  } terms[] = {{"k1", 4, 4}, {"k2", 5, 3}, {"p1", 6, 5}, {"p2", 7, 5}, {"k3", 8, 2}};
  Message found;
  for (const auto& term : terms) {
    const bool is_left_out =
        std::any_of(calibration.left_out.begin(), calibration.left_out.end(),
                    [&](const LeftOutTerm& out) { return out.name.find(term.name) != std::string::npos; });
    if (is_left_out) continue;
    const double u95 = kCoverage95 * std::sqrt(calibration.found.covariance(term.place, term.place));
    const Message told{
        "calib.term",
        {{"name", text(term.name)}, {"value", number(p(term.place), term.digits)}, {"u95", number(u95, term.digits)}}};
    found = found.empty() ? told : Message{"calib.terms", {{"first", part(found)}, {"next", part(told)}}};
  }
  Messages words;
  if (!found.empty()) words.push_back({"calib.distortion", {{"terms", part(found)}}});
  for (const auto& term : calibration.left_out) {
    words.push_back({"calib.left_out_term",
                     {{"term", text(term.name)},
                      {"u_free", number(term.u_free, significant_decimals(term.u_free, 2))},
                      {"u_assumed", number(term.u_assumed, decimals_of(term.u_assumed))}}});
  }
  return words;
}

/// The boards' photographs and, in the same order, the pictures of the line on them.
std::vector<LineOnBoard> lines_on_boards(const std::filesystem::path& lines, const std::vector<BoardView>& views,
                                         const std::filesystem::path& photographs, const Camera& camera) {
  const auto files = picture_files(lines, {}, kMostPhotographs, "line picture");
  if (files.size() != views.size()) {
    throw InputError({"calib.unequal_pictures",
                      {{"boards", text(photographs.string())},
                       {"photographs", count(views.size())},
                       {"lines", text(lines.string())},
                       {"pictures", count(files.size())}}});
  }
  std::vector<LineOnBoard> poses;
  for (std::size_t i = 0; i < files.size(); ++i) {
    const ScanFile file(files[i]);
    LineOnBoard pose{views[i], read_picture(file)};
    if (!has_size(camera, pose.line.columns, pose.line.rows))
      file.fail(other_size(camera, pose.line.columns, pose.line.rows));
    poses.push_back(std::move(pose));
  }
  return poses;
}

/// Standard uncertainty of the plane's direction: q's error but for its length, as an angle about its own best place.
double u_angle_deg(const LaserPlane& plane, const CalibratedCamera& camera) {
  const Eigen::Vector3d normal = plane.q.normalized();
  const Eigen::Matrix3d total = plane.covariance + plane.by_camera * camera.covariance * plane.by_camera.transpose();
  return std::sqrt(std::max(0.0, (total.trace() - normal.dot(total * normal)) / 2.0)) / plane.q.norm() * 180.0 /
         3.14159265358979;
}

}  // namespace

StepOutcome camera_step(const std::filesystem::path& photographs, const Board& board, Rig rig,
                        const Progress& progress) {
  const auto views = boards_in(photographs, board, progress);
  CameraCalibration calibration;
  try {
    calibration = calibrate_camera(views, board, progress);
  } catch (const InputError& error) {
    throw InputError(in_file(photographs, error));
  }
  StepOutcome outcome;
  const CalibratedCamera& found = calibration.found;
  const auto u95 = [&](int k) { return kCoverage95 * std::sqrt(found.covariance(k, k)); };
  outcome.sentence.push_back({"calib.camera_known",
                              {{"seen", number(found.rms_px, 2)},
                               {"unseen", number(found.cross_validated_px, 2)},
                               {"limit", number(kRmsLimit_px, decimals_of(kRmsLimit_px))},
                               {"at_board", um(1e3 * found.cross_validated_px * calibration.mm_per_px)}}});
  const auto p = found.camera.parameters();
  outcome.details.push_back({"calib.focal_lengths",
                             {{"fx", number(p(0), 1)},
                              {"u_fx", number(u95(0), 1)},
                              {"fy", number(p(1), 1)},
                              {"u_fy", number(u95(1), 1)},
                              {"cx", number(p(2), 1)},
                              {"u_cx", number(u95(2), 1)},
                              {"cy", number(p(3), 1)},
                              {"u_cy", number(u95(3), 1)}}});
  for (const Message& words : distortion_words(calibration)) outcome.details.push_back(words);
  for (const auto& view : calibration.views) {
    if (!view.used) outcome.details.push_back(left_out(view.name, view.advice));
  }
  for (const auto& remark : calibration.remarks) outcome.details.push_back(remark);
  outcome.pictures.push_back(
      {"camera.png", [calibration](const Speech& speech) { return camera_png(calibration, speech); }});
  // What was found with another camera no longer holds.
  if (forget_geometry(rig)) outcome.details.push_back({"calib.camera_changed"});
  rig.camera = found;
  rig.obtained["camera"] = fmt::format("{} photographs, {}", calibration.used.size(), today());
  outcome.rig = std::move(rig);
  outcome.next.push_back({"calib.next_plane"});
  return outcome;
}

StepOutcome plane_step(const PlaneInputs& inputs, const Board& board, Rig rig, const Progress& progress) {
  const auto& [photographs, lines] = inputs;
  const CalibratedCamera& camera = camera_of(rig);
  const auto views = boards_in(photographs, board, progress);
  const auto poses = lines_on_boards(lines, views, photographs, camera.camera);
  StepOutcome outcome;
  LaserPlaneCalibration calibration;
  try {
    calibration = calibrate_laser_plane(camera, poses, board, progress);
  } catch (const InputError& error) {
    throw InputError(in_file(lines, error));
  }
  const LaserPlane& found = calibration.found;
  outcome.sentence.push_back(
      {"calib.plane_known",
       {{"off", um(found.residual_um, 1)}, {"u95", number(kCoverage95 * u_angle_deg(found, camera), 3)}}});
  outcome.details.push_back(
      {"calib.line_width", {{"width", number(found.line_sigma_px, 1)}, {"noise", number(found.centre_noise_px, 2)}}});
  for (const auto& pose : calibration.poses) {
    if (!pose.advice.empty()) outcome.details.push_back(left_out(pose.name, pose.advice));
  }
  constexpr double odd = 3.0;
  if (calibration.chi_square_per_degree > odd) {
    outcome.details.push_back(
        {"calib.boards_disagree", {{"times", number(std::sqrt(calibration.chi_square_per_degree), 1)}}});
  }
  outcome.pictures.push_back({"plane.png", [calibration, seen_by = camera.camera](const Speech& speech) {
                                return plane_png(calibration, seen_by, speech);
                              }});
  if (forget_geometry(rig)) outcome.details.push_back({"calib.plane_changed"});
  rig.laser_plane = found;
  rig.obtained["laser_plane"] = fmt::format("squares of {:g} mm, stated, {}", board.square_mm, today());
  outcome.rig = std::move(rig);
  outcome.next.push_back({"calib.next_stage"});
  return outcome;
}

namespace {

/// The stage's own step is a length that the board had no part in.
void hold_step_against_squares(const StageCalibration& calibration, const StageInputs& inputs, const Board& board) {
  // Options as they are typed, whatever the language.
  const auto typed = [](double value) { return text(fmt::format("{:g}", value)); };
  const double step_mm = std::abs(inputs.step_mm);
  hold_against({inputs.u_square_rel,
                {"consistency.stated_squares"},
                {"consistency.squares_side", {{"square", typed(board.square_mm)}}}},
               {calibration.length_ratio, std::hypot(calibration.u_length_ratio, inputs.u_step_rel)},
               {"consistency.step_found", {{"step", mm(step_mm, decimals_of(step_mm))}}},
               {"consistency.step_stated", {{"step", typed(inputs.step_mm)}, {"u", typed(inputs.u_step_rel)}}});
}

}  // namespace

StepOutcome stage_step(const StageInputs& inputs, const Board& board, Rig rig, const Progress& progress) {
  const CalibratedCamera& camera = camera_of(rig);
  if (!(std::abs(inputs.travel_per_frame_mm) > 1e-4 && std::abs(inputs.travel_per_frame_mm) <= 10.0))
    throw UsageError({"calib.say_per_frame"});
  const auto views = boards_in(inputs.photographs, board, progress);
  StageCalibration calibration;
  try {
    calibration = calibrate_stage(camera, {views, inputs.step_mm}, rig.laser_plane, progress);
    hold_step_against_squares(calibration, inputs, board);
  } catch (const InputError& error) {
    throw InputError(in_file(inputs.photographs, error));
  }
  StepOutcome outcome;
  calibration.found.travel_per_frame_mm = inputs.travel_per_frame_mm;
  outcome.sentence.push_back({"calib.stage_known",
                              {{"way", mm(calibration.length_ratio, 4)},
                               {"u95", mm(kCoverage95 * calibration.u_length_ratio, 4)},
                               {"off", um(calibration.found.straightness_um)}}});
  if (rig.laser_plane) {
    outcome.details.push_back({"calib.out_of_square", {{"angle", number(calibration.found.out_of_square_deg, 2)}}});
  }
  outcome.details.push_back({"calib.board_off_way", {{"angle", number(std::abs(calibration.to_board_deg), 1)}}});
  for (const auto& told : calibration.positions) {
    if (!told.advice.empty()) outcome.details.push_back(left_out(told.name, told.advice));
  }
  for (const auto& remark : calibration.remarks) outcome.details.push_back(remark);
  outcome.pictures.push_back(
      {"stage.png", [calibration](const Speech& speech) { return stage_png(calibration, speech); }});
  if (forget_heights(rig)) outcome.details.push_back({"calib.stage_changed"});
  rig.stage = calibration.found;
  const std::string date = today();
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
    outcome.details.push_back({"calib.geometry",
                               {{"heights", number(100.0 * geometry.height_rel, 2)},
                                {"lengths", number(100.0 * geometry.length_rel, 2)},
                                {"form", um(geometry.form_um, 1)}}});
  }
  outcome.rig = std::move(rig);
  outcome.next.push_back({"calib.next_plate"});
  return outcome;
}

StepOutcome depth_step(const Paths& folders, Rig rig, const Progress& progress) {
  std::vector<PlateView> views;
  for (std::size_t i = 0; i < folders.size(); ++i) {
    if (progress) {
      progress({"stage_calib.read_depth", {{"at", count(i + 1)}, {"of", count(folders.size())}}},
               0.8 * static_cast<double>(i) / static_cast<double>(folders.size()));
    }
    views.push_back({folders[i].string(), fuse_depth_folder(folders[i])});
  }
  const DepthCalibration calibration = calibrate_depth(views);
  StepOutcome outcome;
  const Argument before = um(calibration.before_um);
  outcome.sentence.push_back(
      std::isnan(calibration.after_um)
          ? Message{"calib.depths_by_two", {{"before", before}}}
          : Message{"calib.depths_known", {{"before", before}, {"after", um(calibration.after_um, 1)}}});
  outcome.details.push_back(calibration.advice);
  for (const auto& view : calibration.views) {
    outcome.details.push_back({"calib.depth_view",
                               {{"name", text(view.name)},
                                {"depth", mm(view.depth_mm, 1)},
                                {"tilt", number(view.tilt_deg, 1)},
                                {"error", um(view.error_um)},
                                {"noise", um(view.noise_um)}}});
  }
  outcome.pictures.push_back(
      {"depth.png", [calibration](const Speech& speech) { return depth_png(calibration, speech); }});
  rig.depth = calibration.found;
  // What was found through the old depths does not fit the new ones.
  if (forget_heights(rig)) outcome.details.push_back({"calib.depths_changed"});
  rig.priors.plate_form_um = std::hypot(Priors{}.plate_form_um, calibration.found.u_um);
  rig.obtained["plate_form_um"] = "assumed plate, and depth correction of " + today();
  outcome.rig = std::move(rig);
  outcome.next.push_back({"calib.next_plate_depth"});
  return outcome;
}

}  // namespace canewise
