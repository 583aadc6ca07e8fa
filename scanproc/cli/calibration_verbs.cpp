#include "scanproc/cli/calibration_verbs.h"

#include <filesystem>
#include <optional>
#include <utility>

namespace canewise {
namespace {

Paths paths_of(const std::vector<std::string>& names) { return {names.begin(), names.end()}; }

std::optional<LengthUnit> unit_of(const CalibrateArguments& a) {
  return a.units.empty() ? std::nullopt : length_unit_from(a.units);
}

void add_units_option(const VerbOptions& options) {
  options.add("--units", options.arguments.units, {"cli.calibrate.units"})
      ->check(CLI::IsMember({"mm", "um", "m", "in"}));
}

CalibrationVerb camera_verb() {
  return {"camera",
          {"cli.calibrate.camera"},
          [](const VerbOptions& options) {
            options.add("--boards", options.arguments.boards, {"cli.calibrate.boards"})->required();
            add_board_options(options);
          },
          [](const CalibrateArguments& a, Rig rig, const Progress& p) {
            return camera_step(a.boards, board_of(a), std::move(rig), p);
          }};
}

CalibrationVerb import_verb() {
  return {"import",
          {"cli.calibrate.import"},
          [](const VerbOptions& options) {
            CalibrateArguments& a = options.arguments;
            options.add("file", a.file, {"cli.calibrate.camera_file"})->required();
            auto* width = options.add("--width", a.width, {"cli.calibrate.width"})->check(CLI::Range(2, 20000));
            auto* height = options.add("--height", a.height, {"cli.calibrate.height"})->check(CLI::Range(2, 20000));
            width->needs(height);
            height->needs(width);
            options.add("--u-focal-rel", a.stated_camera.u_focal_rel, {"cli.calibrate.u_focal"})
                ->check(CLI::Range(0.0, 0.2));
            options.add("--u-centre-px", a.stated_camera.u_centre_px, {"cli.calibrate.u_centre"})
                ->check(CLI::Range(0.0, 1000.0));
          },
          [](const CalibrateArguments& a, Rig rig, const Progress&) {
            return import_step({a.file, a.width, a.height, a.stated_camera}, std::move(rig));
          }};
}

CalibrationVerb plane_verb() {
  return {"plane",
          {"cli.calibrate.plane"},
          [](const VerbOptions& options) {
            options.add("--boards", options.arguments.boards, {"cli.calibrate.boards"})->required();
            options.add("--lines", options.arguments.lines, {"cli.calibrate.lines"})->required();
            add_board_options(options);
          },
          [](const CalibrateArguments& a, Rig rig, const Progress& p) {
            return plane_step({a.boards, a.lines}, board_of(a), std::move(rig), p);
          }};
}

CalibrationVerb stage_verb() {
  return {"stage",
          {"cli.calibrate.stage"},
          [](const VerbOptions& options) {
            CalibrateArguments& a = options.arguments;
            options.add("--boards", a.boards, {"cli.calibrate.stage_boards"})->required();
            options.add("--step-mm", a.step_mm, {"cli.calibrate.step_mm"})->required();
            options.add("--per-frame-mm", a.per_frame_mm, {"cli.calibrate.per_frame"})->required();
            options.add("--u-square-rel", a.u_square_rel, {"cli.calibrate.u_square"})->check(CLI::Range(0.0, 0.1));
            options.add("--u-step-rel", a.u_step_rel, {"cli.calibrate.u_step"})->check(CLI::Range(0.0, 0.1));
            add_board_options(options);
          },
          [](const CalibrateArguments& a, Rig rig, const Progress& p) {
            return stage_step({a.boards, a.step_mm, a.per_frame_mm, a.u_square_rel, a.u_step_rel}, board_of(a),
                              std::move(rig), p);
          }};
}

CalibrationVerb depth_verb() {
  return {"depth",
          {"cli.calibrate.depth"},
          [](const VerbOptions& options) {
            options.add("folders", options.arguments.scans, {"cli.calibrate.depth_folders"})->required();
          },
          [](const CalibrateArguments& a, Rig rig, const Progress& p) {
            return depth_step(paths_of(a.scans), std::move(rig), p);
          }};
}

CalibrationVerb plate_verb() {
  return {"plate",
          {"cli.calibrate.plate"},
          [](const VerbOptions& options) {
            options.add("scans", options.arguments.scans, {"cli.calibrate.plate_scans"})->required();
            add_units_option(options);
          },
          [](const CalibrateArguments& a, Rig rig, const Progress& p) {
            return plate_step(paths_of(a.scans), unit_of(a), std::move(rig), p);
          }};
}

CalibrationVerb gauge_verb() {
  return {"step",
          {"cli.calibrate.step"},
          [](const VerbOptions& options) {
            options.add("list", options.arguments.list, {"cli.calibrate.step_list"})->required();
            add_units_option(options);
          },
          [](const CalibrateArguments& a, Rig rig, const Progress& p) {
            return gauge_step(a.list, unit_of(a), std::move(rig), p);
          }};
}

CalibrationVerb hand_verb() {
  return {"hand",
          {"cli.calibrate.hand"},
          [](const VerbOptions& options) {
            options.add("scan", options.arguments.scan, {"cli.calibrate.hand_scan"})->required();
            add_units_option(options);
          },
          [](const CalibrateArguments& a, Rig rig, const Progress& p) {
            return hand_step(a.scan, unit_of(a), std::move(rig), p);
          }};
}

CalibrationVerb reversal_verb() {
  return {"reversal",
          {"cli.calibrate.reversal"},
          [](const VerbOptions& options) {
            options.add("--straight", options.arguments.straight, {"cli.calibrate.straight"})->required();
            options.add("--turned", options.arguments.turned, {"cli.calibrate.turned"})->required();
          },
          [](const CalibrateArguments& a, Rig rig, const Progress& p) {
            return reversal_step(paths_of(a.straight), paths_of(a.turned), std::move(rig), p);
          }};
}

CalibrationVerb touch_verb() {
  return {"touch",
          {"cli.calibrate.touch"},
          [](const VerbOptions& options) {
            options.add("list", options.arguments.list, {"cli.calibrate.touch_list"})->required();
            add_units_option(options);
          },
          [](const CalibrateArguments& a, Rig rig, const Progress& p) {
            return touch_step(a.list, unit_of(a), std::move(rig), p);
          }};
}

CalibrationVerb study_verb() {
  return {
      "study",
      {"cli.calibrate.study"},
      [](const VerbOptions& options) {
        options.add("list", options.arguments.list, {"cli.calibrate.study_list"})->required();
      },
      [](const CalibrateArguments& a, Rig rig, const Progress& p) { return study_step(a.list, std::move(rig), p); }};
}

CalibrationVerb check_verb() {
  return {"check",
          {"cli.calibrate.check"},
          [](const VerbOptions& options) {
            CalibrateArguments& a = options.arguments;
            options.add("scan", a.scan, {"cli.calibrate.check_scan"})->required();
            options.add("--reed-before", a.before, {"cli.calibrate.reed_before"});
            options.add("--reed-after", a.after, {"cli.calibrate.reed_after"});
          },
          [](const CalibrateArguments& a, Rig rig, const Progress& p) {
            const auto path = [](const std::string& name) {
              return name.empty() ? std::nullopt : std::optional<std::filesystem::path>(name);
            };
            return check_step({a.scan, path(a.before), path(a.after)}, std::move(rig), p);
          }};
}

CalibrationVerb budget_verb() {
  return {"budget",
          {"cli.calibrate.budget"},
          [](const VerbOptions& options) {
            options.add("scan", options.arguments.scan, {"cli.calibrate.budget_scan"})->required();
            add_units_option(options);
          },
          [](const CalibrateArguments& a, Rig rig, const Progress& p) {
            return budget_step(a.scan, unit_of(a), std::move(rig), p);
          }};
}

}  // namespace

Board board_of(const CalibrateArguments& a) {
  Board board;
  board.kind = a.board_kind == "chessboard" ? BoardKind::chessboard : BoardKind::charuco;
  if (a.columns > 0) board.columns = a.columns;
  if (a.rows > 0) board.rows = a.rows;
  const double share = board.marker_mm / board.square_mm;
  if (a.square_mm > 0.0) board.square_mm = a.square_mm;
  board.marker_mm = a.marker_mm > 0.0 ? a.marker_mm : share * board.square_mm;
  validate(board);
  return board;
}

void add_board_options(const VerbOptions& options) {
  CalibrateArguments& a = options.arguments;
  options.add("--board", a.board_kind, {"cli.calibrate.board"})->check(CLI::IsMember({"charuco", "chessboard"}));
  options.add("--columns", a.columns, {"cli.calibrate.columns"})->check(CLI::Range(4, 40));
  options.add("--rows", a.rows, {"cli.calibrate.rows"})->check(CLI::Range(4, 40));
  options.add("--square-mm", a.square_mm, {"cli.calibrate.square"})->check(CLI::PositiveNumber);
  options.add("--marker-mm", a.marker_mm, {"cli.calibrate.marker"})->check(CLI::PositiveNumber);
}

std::vector<CalibrationVerb> calibration_verbs() {
  return {camera_verb(), import_verb(),   plane_verb(), stage_verb(), depth_verb(), plate_verb(), gauge_verb(),
          hand_verb(),   reversal_verb(), touch_verb(), study_verb(), check_verb(), budget_verb()};
}

}  // namespace canewise
