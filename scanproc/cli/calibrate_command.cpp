#include <fmt/format.h>

#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "calib/sheets.h"
#include "calib/steps.h"
#include "scanproc/cli/commands.h"
#include "scanproc/cli/print_out.h"
#include "scanproc/cli/progress_line.h"
#include "scanproc/core/error.h"
#include "scanproc/core/output_folder.h"
#include "scanproc/core/utc.h"
#include "scanproc/report/screen.h"

namespace canewise {
namespace {

struct CalibrateArguments {
  std::string rig = "rig.toml", name, out, units, boards, lines, list, scan, before, after;
  std::vector<std::string> scans, straight, turned;
  std::string board_kind = "charuco";
  int columns = 0, rows = 0;
  std::string file;
  std::size_t width = 0, height = 0;
  StatedCamera stated_camera;
  double square_mm = 0.0, marker_mm = 0.0, step_mm = 0.0, per_frame_mm = 0.0, u_square_rel = 1e-3, u_step_rel = 1e-3;
};

Paths paths_of(const std::vector<std::string>& names) { return {names.begin(), names.end()}; }

std::optional<LengthUnit> unit_of(const CalibrateArguments& a) {
  return a.units.empty() ? std::nullopt : length_unit_from(a.units);
}

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

/// What is known so far; a first step begins with nothing.
Rig rig_of(const CalibrateArguments& a) {
  Rig rig;
  if (is_there(a.rig)) {
    rig = read_rig(a.rig);
  } else {
    rig.name = std::filesystem::path(a.rig).stem().string();
  }
  if (!a.name.empty()) rig.name = a.name;
  return rig;
}

/// A paragraph of the screen; rows of a table begin with a blank and stay as they are.
std::string detail_text(const std::string& words) {
  constexpr std::size_t width = 98;
  return "  " + (words.starts_with(' ') || words.size() <= width ? words + "\n" : wrapped(words, width - 2, 4));
}

/// Pictures first, then the rig file with a copy of the old one, then words.
void keep(const CalibrateArguments& a, StepOutcome outcome, const Speech& speech) {
  const std::filesystem::path rig_path(a.rig);
  const auto beside = rig_path.has_parent_path() ? rig_path.parent_path() : std::filesystem::path(".");
  const std::filesystem::path folder =
      a.out.empty() ? beside / (rig_path.stem().string() + "-pictures") : std::filesystem::path(a.out);
  std::vector<OutputFile> pictures;
  for (const auto& picture : outcome.pictures) pictures.push_back({picture.file_name, picture.draw(speech)});
  if (!pictures.empty()) write_output_folder(folder, pictures);
  std::string screen = wrapped(sentences(outcome.sentence, speech), 98, 0);
  for (const Message& detail : outcome.details) screen += detail_text(phrase(detail, speech));
  for (const auto& picture : pictures)
    screen += phrase({"cli.calibrate.look_at", {{"file", text((folder / picture.name).string())}}}, speech) + "\n";
  if (outcome.changes_rig) {
    outcome.rig.calibrated_at = now_utc();
    const std::string kept = save_rig(rig_path, outcome.rig);
    const Message wrote = kept.empty() ? Message{"cli.wrote", {{"file", text(a.rig)}}}
                                       : Message{"cli.calibrate.wrote_and_kept",
                                                 {{"file", text(a.rig)}, {"kept", text((beside / kept).string())}}};
    screen += phrase(wrote, speech) + "\n";
  }
  for (const Message& next : outcome.next) screen += wrapped(phrase(next, speech), 98, 2);
  print_out(screen);
}

template <typename Step>
void run_step(const CalibrateArguments& a, const Speech& speech, const Step& step) {
  std::optional<ProgressLine> line;
  line.emplace(Message(), ProgressFor::people, speech);
  StepOutcome outcome = step(rig_of(a), line->callback());
  line.reset();
  keep(a, std::move(outcome), speech);
}

void write_sheets(const CalibrateArguments& a, const Speech& speech) {
  const Board chosen = board_of(a);
  const bool own = a.columns > 0 || a.rows > 0 || a.square_mm > 0.0 || a.marker_mm > 0.0;
  std::vector<OutputFile> files;
  const auto add = [&](const Board& board) {
    files.push_back({fmt::format("{}-{}x{}-{:g}mm.pdf", board.kind == BoardKind::charuco ? "charuco" : "chessboard",
                                 board.columns, board.rows, board.square_mm),
                     board_pdf(board, speech)});
  };
  if (own) {
    add(chosen);
  } else {
    // For a camera that sees a reed's width, a reed's length, and a whole plate.
    for (const double square : {3.0, 5.0, 12.0}) {
      add({BoardKind::charuco, 11, 8, square, 0.72 * square});
      add({BoardKind::chessboard, 10, 7, square, 0.72 * square});
    }
  }
  files.push_back({"step-gauge-and-plate.pdf", gauge_pdf(speech)});
  const std::filesystem::path folder = a.out.empty() ? "calibration-sheets" : a.out;
  write_output_folder(folder, files);
  std::string screen = phrase({"cli.calibrate.print"}, speech) + "\n";
  for (const auto& file : files)
    screen += phrase({"cli.wrote", {{"file", text((folder / file.name).string())}}}, speech) + "\n";
  print_out(screen + wrapped(phrase({"cli.calibrate.after_sheets"}, speech), 98, 2));
}

void add_board_options(CLI::App* verb, const std::shared_ptr<CalibrateArguments>& a, const Speech& speech) {
  verb->add_option("--board", a->board_kind, phrase({"cli.calibrate.board"}, speech))
      ->check(CLI::IsMember({"charuco", "chessboard"}));
  verb->add_option("--columns", a->columns, phrase({"cli.calibrate.columns"}, speech))->check(CLI::Range(4, 40));
  verb->add_option("--rows", a->rows, phrase({"cli.calibrate.rows"}, speech))->check(CLI::Range(4, 40));
  verb->add_option("--square-mm", a->square_mm, phrase({"cli.calibrate.square"}, speech))->check(CLI::PositiveNumber);
  verb->add_option("--marker-mm", a->marker_mm, phrase({"cli.calibrate.marker"}, speech))->check(CLI::PositiveNumber);
}

}  // namespace

std::function<void()> add_calibrate_command(CLI::App& app, const Speech& speech) {
  auto a = std::make_shared<CalibrateArguments>();
  auto* verb = app.add_subcommand("calibrate", phrase({"cli.calibrate"}, speech));
  verb->require_subcommand(1);
  std::vector<std::function<void()>> steps;
  const auto add = [&](const char* name, const Message& words, bool keeps, const auto& options, auto run) {
    auto* step = verb->add_subcommand(name, phrase(words, speech));
    if (keeps) {
      step->add_option("--rig", a->rig, phrase({"cli.calibrate.rig"}, speech));
      step->add_option("--name", a->name, phrase({"cli.calibrate.name"}, speech));
    }
    step->add_option("--out", a->out, phrase({"cli.calibrate.out"}, speech));
    options(step);
    steps.emplace_back([step, run] {
      if (step->parsed()) run();
    });
  };
  const auto units = [&](CLI::App* s) {
    s->add_option("--units", a->units, phrase({"cli.calibrate.units"}, speech))
        ->check(CLI::IsMember({"mm", "um", "m", "in"}));
  };
  add(
      "sheets", {"cli.calibrate.sheets"}, false, [&](CLI::App* s) { add_board_options(s, a, speech); },
      [a, speech] { write_sheets(*a, speech); });
  add(
      "camera", {"cli.calibrate.camera"}, true,
      [&](CLI::App* s) {
        s->add_option("--boards", a->boards, phrase({"cli.calibrate.boards"}, speech))->required();
        add_board_options(s, a, speech);
      },
      [a, speech] {
        run_step(*a, speech,
                 [&](Rig rig, const Progress& p) { return camera_step(a->boards, board_of(*a), std::move(rig), p); });
      });
  add(
      "import", {"cli.calibrate.import"}, true,
      [&](CLI::App* s) {
        s->add_option("file", a->file, phrase({"cli.calibrate.camera_file"}, speech))->required();
        auto* width =
            s->add_option("--width", a->width, phrase({"cli.calibrate.width"}, speech))->check(CLI::Range(2, 20000));
        auto* height =
            s->add_option("--height", a->height, phrase({"cli.calibrate.height"}, speech))->check(CLI::Range(2, 20000));
        width->needs(height);
        height->needs(width);
        s->add_option("--u-focal-rel", a->stated_camera.u_focal_rel, phrase({"cli.calibrate.u_focal"}, speech))
            ->check(CLI::Range(0.0, 0.2));
        s->add_option("--u-centre-px", a->stated_camera.u_centre_px, phrase({"cli.calibrate.u_centre"}, speech))
            ->check(CLI::Range(0.0, 1000.0));
      },
      [a, speech] {
        run_step(*a, speech, [&](Rig rig, const Progress&) {
          return import_step({a->file, a->width, a->height, a->stated_camera}, std::move(rig));
        });
      });
  add(
      "plane", {"cli.calibrate.plane"}, true,
      [&](CLI::App* s) {
        s->add_option("--boards", a->boards, phrase({"cli.calibrate.boards"}, speech))->required();
        s->add_option("--lines", a->lines, phrase({"cli.calibrate.lines"}, speech))->required();
        add_board_options(s, a, speech);
      },
      [a, speech] {
        run_step(*a, speech, [&](Rig rig, const Progress& p) {
          return plane_step(a->boards, a->lines, board_of(*a), std::move(rig), p);
        });
      });
  add(
      "stage", {"cli.calibrate.stage"}, true,
      [&](CLI::App* s) {
        s->add_option("--boards", a->boards, phrase({"cli.calibrate.stage_boards"}, speech))->required();
        s->add_option("--step-mm", a->step_mm, phrase({"cli.calibrate.step_mm"}, speech))->required();
        s->add_option("--per-frame-mm", a->per_frame_mm, phrase({"cli.calibrate.per_frame"}, speech))->required();
        s->add_option("--u-square-rel", a->u_square_rel, phrase({"cli.calibrate.u_square"}, speech))
            ->check(CLI::Range(0.0, 0.1));
        s->add_option("--u-step-rel", a->u_step_rel, phrase({"cli.calibrate.u_step"}, speech))
            ->check(CLI::Range(0.0, 0.1));
        add_board_options(s, a, speech);
      },
      [a, speech] {
        run_step(*a, speech, [&](Rig rig, const Progress& p) {
          return stage_step({a->boards, a->step_mm, a->per_frame_mm, a->u_square_rel, a->u_step_rel}, board_of(*a),
                            std::move(rig), p);
        });
      });
  add(
      "depth", {"cli.calibrate.depth"}, true,
      [&](CLI::App* s) {
        s->add_option("folders", a->scans, phrase({"cli.calibrate.depth_folders"}, speech))->required();
      },
      [a, speech] {
        run_step(*a, speech,
                 [&](Rig rig, const Progress& p) { return depth_step(paths_of(a->scans), std::move(rig), p); });
      });
  add(
      "plate", {"cli.calibrate.plate"}, true,
      [&](CLI::App* s) {
        s->add_option("scans", a->scans, phrase({"cli.calibrate.plate_scans"}, speech))->required();
        units(s);
      },
      [a, speech] {
        run_step(*a, speech, [&](Rig rig, const Progress& p) {
          return plate_step(paths_of(a->scans), unit_of(*a), std::move(rig), p);
        });
      });
  add(
      "step", {"cli.calibrate.step"}, true,
      [&](CLI::App* s) {
        s->add_option("list", a->list, phrase({"cli.calibrate.step_list"}, speech))->required();
        units(s);
      },
      [a, speech] {
        run_step(*a, speech,
                 [&](Rig rig, const Progress& p) { return gauge_step(a->list, unit_of(*a), std::move(rig), p); });
      });
  add(
      "hand", {"cli.calibrate.hand"}, true,
      [&](CLI::App* s) {
        s->add_option("scan", a->scan, phrase({"cli.calibrate.hand_scan"}, speech))->required();
        units(s);
      },
      [a, speech] {
        run_step(*a, speech,
                 [&](Rig rig, const Progress& p) { return hand_step(a->scan, unit_of(*a), std::move(rig), p); });
      });
  add(
      "reversal", {"cli.calibrate.reversal"}, true,
      [&](CLI::App* s) {
        s->add_option("--straight", a->straight, phrase({"cli.calibrate.straight"}, speech))->required();
        s->add_option("--turned", a->turned, phrase({"cli.calibrate.turned"}, speech))->required();
      },
      [a, speech] {
        run_step(*a, speech, [&](Rig rig, const Progress& p) {
          return reversal_step(paths_of(a->straight), paths_of(a->turned), std::move(rig), p);
        });
      });
  add(
      "touch", {"cli.calibrate.touch"}, true,
      [&](CLI::App* s) {
        s->add_option("list", a->list, phrase({"cli.calibrate.touch_list"}, speech))->required();
        units(s);
      },
      [a, speech] {
        run_step(*a, speech,
                 [&](Rig rig, const Progress& p) { return touch_step(a->list, unit_of(*a), std::move(rig), p); });
      });
  add(
      "study", {"cli.calibrate.study"}, true,
      [&](CLI::App* s) { s->add_option("list", a->list, phrase({"cli.calibrate.study_list"}, speech))->required(); },
      [a, speech] {
        run_step(*a, speech, [&](Rig rig, const Progress& p) { return study_step(a->list, std::move(rig), p); });
      });
  add(
      "check", {"cli.calibrate.check"}, true,
      [&](CLI::App* s) {
        s->add_option("scan", a->scan, phrase({"cli.calibrate.check_scan"}, speech))->required();
        s->add_option("--reed-before", a->before, phrase({"cli.calibrate.reed_before"}, speech));
        s->add_option("--reed-after", a->after, phrase({"cli.calibrate.reed_after"}, speech));
      },
      [a, speech] {
        const auto path = [](const std::string& name) {
          return name.empty() ? std::nullopt : std::optional<std::filesystem::path>(name);
        };
        run_step(*a, speech, [&](Rig rig, const Progress& p) {
          return check_step({a->scan, path(a->before), path(a->after)}, std::move(rig), p);
        });
      });
  add(
      "budget", {"cli.calibrate.budget"}, true,
      [&](CLI::App* s) {
        s->add_option("scan", a->scan, phrase({"cli.calibrate.budget_scan"}, speech))->required();
        units(s);
      },
      [a, speech] {
        run_step(*a, speech,
                 [&](Rig rig, const Progress& p) { return budget_step(a->scan, unit_of(*a), std::move(rig), p); });
      });
  return [verb, steps = std::move(steps)] {
    if (!verb->parsed()) return;
    for (const auto& run : steps) run();
  };
}

}  // namespace canewise
