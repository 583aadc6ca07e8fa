#include <fmt/format.h>

#include <cstdio>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "calib/sheets.h"
#include "calib/steps.h"
#include "scanproc/cli/commands.h"
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

/// Pictures first, then the rig file with a copy of the old one, then words.
void keep(const CalibrateArguments& a, StepOutcome outcome) {
  const std::filesystem::path rig_path(a.rig);
  const auto beside = rig_path.has_parent_path() ? rig_path.parent_path() : std::filesystem::path(".");
  const std::filesystem::path folder =
      a.out.empty() ? beside / (rig_path.stem().string() + "-pictures") : std::filesystem::path(a.out);
  if (!outcome.pictures.empty()) write_output_folder(folder, outcome.pictures);
  std::string text = wrapped(outcome.sentence, 98, 0);
  for (const auto& detail : outcome.details)
    text += "  " + (detail.starts_with(' ') || detail.size() <= 98 ? detail + "\n" : wrapped(detail, 96, 4));
  for (const auto& picture : outcome.pictures) text += "look at " + (folder / picture.name).string() + "\n";
  if (outcome.changes_rig) {
    outcome.rig.calibrated_at = now_utc();
    const std::string kept = save_rig(rig_path, outcome.rig);
    text += kept.empty() ? "wrote " + a.rig + "\n"
                         : "wrote " + a.rig + "; the one before is kept as " + (beside / kept).string() + "\n";
  }
  text += wrapped(outcome.next, 98, 2);
  if (std::fputs(text.c_str(), stdout) < 0 || std::fflush(stdout) != 0)
    throw OutputError("standard output: cannot be written. Is the disk full, or the reading program gone?");
}

template <typename Step>
void run_step(const CalibrateArguments& a, const Step& step) {
  std::optional<ProgressLine> line;
  line.emplace();
  StepOutcome outcome = step(rig_of(a), line->callback());
  line.reset();
  keep(a, std::move(outcome));
}

void write_sheets(const CalibrateArguments& a) {
  const Board chosen = board_of(a);
  const bool own = a.columns > 0 || a.rows > 0 || a.square_mm > 0.0 || a.marker_mm > 0.0;
  std::vector<OutputFile> files;
  const auto add = [&](const Board& board) {
    files.push_back({fmt::format("{}-{}x{}-{:g}mm.pdf", board.kind == BoardKind::charuco ? "charuco" : "chessboard",
                                 board.columns, board.rows, board.square_mm),
                     board_pdf(board)});
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
  files.push_back({"step-gauge-and-plate.pdf", gauge_pdf()});
  const std::filesystem::path folder = a.out.empty() ? "calibration-sheets" : a.out;
  write_output_folder(folder, files);
  std::string text = "Print at 100 %, 'actual size', and measure the ruler.\n";
  for (const auto& file : files) text += "wrote " + (folder / file.name).string() + "\n";
  text += wrapped(
      "next: glue a board on something flat, photograph it with the rig's camera 12 to 20 times, tilted to all sides, "
      "and run "
      "'canewise calibrate camera --boards DIR --square-mm 5'.",
      98, 2);
  std::fputs(text.c_str(), stdout);
}

void add_board_options(CLI::App* verb, const std::shared_ptr<CalibrateArguments>& a) {
  verb->add_option("--board", a->board_kind, "charuco or chessboard (default: charuco)")
      ->check(CLI::IsMember({"charuco", "chessboard"}));
  verb->add_option("--columns", a->columns, "squares across (default: 11)")->check(CLI::Range(4, 40));
  verb->add_option("--rows", a->rows, "squares down (default: 8)")->check(CLI::Range(4, 40));
  verb->add_option("--square-mm", a->square_mm, "side of a square, as measured on the paper (default: 5)")
      ->check(CLI::PositiveNumber);
  verb->add_option("--marker-mm", a->marker_mm, "side of a marker (default: 0.72 of a square)")
      ->check(CLI::PositiveNumber);
}

}  // namespace

std::function<void()> add_calibrate_command(CLI::App& app) {
  auto a = std::make_shared<CalibrateArguments>();
  auto* verb = app.add_subcommand(
      "calibrate",
      "Know the rig: one step at a time, each writes a picture to judge it by and what it found into the rig file.\n"
      "Laser line: sheets, camera (or import), plane, stage, plate, step, hand. Depth camera: depth, plate, step, "
      "hand.\n"
      "Any other scanner: plate, step, hand. Then for all: reversal, touch, budget; study once, check in every "
      "session.");
  verb->require_subcommand(1);
  std::vector<std::function<void()>> steps;
  const auto add = [&](const char* name, const char* words, bool keeps, const auto& options, auto run) {
    auto* step = verb->add_subcommand(name, words);
    if (keeps) {
      step->add_option("--rig", a->rig, "rig file to write into; made if it is not there (default: rig.toml)");
      step->add_option("--name", a->name, "name of the rig, for people");
    }
    step->add_option("--out", a->out, "folder for the pictures (default: beside the rig file)");
    options(step);
    steps.emplace_back([step, run] {
      if (step->parsed()) run();
    });
  };
  const auto units = [&](CLI::App* s) {
    s->add_option("--units", a->units, "unit of the scans' numbers: mm, um, m, in")
        ->check(CLI::IsMember({"mm", "um", "m", "in"}));
  };
  add(
      "sheets", "print: boards at 1:1, and how to make a step gauge and a plate", false,
      [&](CLI::App* s) { add_board_options(s, a); }, [a] { write_sheets(*a); });
  add(
      "camera", "lens and focus from photographs of a board", true,
      [&](CLI::App* s) {
        s->add_option("--boards", a->boards, "folder of photographs of the board")->required();
        add_board_options(s, a);
      },
      [a] {
        run_step(*a,
                 [&](Rig rig, const Progress& p) { return camera_step(a->boards, board_of(*a), std::move(rig), p); });
      });
  add(
      "import", "take the camera from a file of OpenCV (YAML, XML or JSON) instead of photographs", true,
      [&](CLI::App* s) {
        s->add_option("file", a->file, "camera file: camera_matrix, distortion_coefficients, image_width, image_height")
            ->required();
        auto* width = s->add_option("--width", a->width, "width of the camera's pictures, if the file does not say it")
                          ->check(CLI::Range(2, 20000));
        auto* height =
            s->add_option("--height", a->height, "height of the camera's pictures")->check(CLI::Range(2, 20000));
        width->needs(height);
        height->needs(width);
        s->add_option("--u-focal-rel", a->stated_camera.u_focal_rel,
                      "standard uncertainty of the focal lengths, relative (default: 0.002)")
            ->check(CLI::Range(0.0, 0.2));
        s->add_option("--u-centre-px", a->stated_camera.u_centre_px,
                      "standard uncertainty of the picture's middle, pixels (default: 3)")
            ->check(CLI::Range(0.0, 1000.0));
      },
      [a] {
        run_step(*a, [&](Rig rig, const Progress&) {
          return import_step({a->file, a->width, a->height, a->stated_camera}, std::move(rig));
        });
      });
  add(
      "plane", "the laser's plane from its line on the board", true,
      [&](CLI::App* s) {
        s->add_option("--boards", a->boards, "folder of photographs of the board")->required();
        s->add_option("--lines", a->lines,
                      "folder of pictures of the line on it, one for each photograph, in the same order")
            ->required();
        add_board_options(s, a);
      },
      [a] {
        run_step(*a, [&](Rig rig, const Progress& p) {
          return plane_step(a->boards, a->lines, board_of(*a), std::move(rig), p);
        });
      });
  add(
      "stage", "direction and step of the stage from a board that it carries", true,
      [&](CLI::App* s) {
        s->add_option("--boards", a->boards, "folder of photographs along the stage, in order")->required();
        s->add_option("--step-mm", a->step_mm, "way of the stage between photographs")->required();
        s->add_option("--per-frame-mm", a->per_frame_mm, "way of the stage between frames of a scan")->required();
        s->add_option("--u-square-rel", a->u_square_rel,
                      "standard uncertainty of the squares' size, relative (default: 0.001)")
            ->check(CLI::Range(0.0, 0.1));
        s->add_option("--u-step-rel", a->u_step_rel,
                      "standard uncertainty of --step-mm, relative; the two are held against each other (default: "
                      "0.001)")
            ->check(CLI::Range(0.0, 0.1));
        add_board_options(s, a);
      },
      [a] {
        run_step(*a, [&](Rig rig, const Progress& p) {
          return stage_step({a->boards, a->step_mm, a->per_frame_mm, a->u_square_rel, a->u_step_rel}, board_of(*a),
                            std::move(rig), p);
        });
      });
  add(
      "depth", "errors and noise of a depth camera from frames of the flat plate at several heights", true,
      [&](CLI::App* s) {
        s->add_option("folders", a->scans, "folders of depth frames, one for each height")->required();
      },
      [a] {
        run_step(*a, [&](Rig rig, const Progress& p) { return depth_step(paths_of(a->scans), std::move(rig), p); });
      });
  add(
      "plate", "form of the empty plate", true,
      [&](CLI::App* s) {
        s->add_option("scans", a->scans, "scans of the empty plate, three or more")->required();
        units(s);
      },
      [a] {
        run_step(*a, [&](Rig rig, const Progress& p) {
          return plate_step(paths_of(a->scans), unit_of(*a), std::move(rig), p);
        });
      });
  add(
      "step", "scale of heights from strips of known thickness, and balls", true,
      [&](CLI::App* s) {
        s->add_option("list", a->list,
                      "file (TOML) that lists strips, balls and their scans: [[step]] height_um, u_um, scans")
            ->required();
        units(s);
      },
      [a] {
        run_step(*a, [&](Rig rig, const Progress& p) { return gauge_step(a->list, unit_of(*a), std::move(rig), p); });
      });
  add(
      "hand", "prove that left is left: a reed with a mark to its right", true,
      [&](CLI::App* s) {
        s->add_option("scan", a->scan, "scan of a reed with something flat to its right")->required();
        units(s);
      },
      [a] {
        run_step(*a, [&](Rig rig, const Progress& p) { return hand_step(a->scan, unit_of(*a), std::move(rig), p); });
      });
  add(
      "reversal", "tell the reed's asymmetry from the rig's, and how well a reed seats", true,
      [&](CLI::App* s) {
        s->add_option("--straight", a->straight, "scans or results of one reed, laid down anew each time")->required();
        s->add_option("--turned", a->turned, "the same, the reed turned by half a turn on the plate")->required();
      },
      [a] {
        run_step(*a, [&](Rig rig, const Progress& p) {
          return reversal_step(paths_of(a->straight), paths_of(a->turned), std::move(rig), p);
        });
      });
  add(
      "touch", "cross-check against micrometer readings at places of a reed", true,
      [&](CLI::App* s) {
        s->add_option(
             "list", a->list,
             "file (TOML): scan, anvil_diameter_mm, force_n, u_reading_um, state, [[reading]] x_mm, y_mm, reading_mm")
            ->required();
        units(s);
      },
      [a] {
        run_step(*a, [&](Rig rig, const Progress& p) { return touch_step(a->list, unit_of(*a), std::move(rig), p); });
      });
  add(
      "study", "can this rig sort reeds? several reeds, scanned by several people or on several days", true,
      [&](CLI::App* s) {
        s->add_option("list", a->list, "file (TOML): quantity, [[scan]] reed, person, result")->required();
      },
      [a] { run_step(*a, [&](Rig rig, const Progress& p) { return study_step(a->list, std::move(rig), p); }); });
  add(
      "check", "the piece that does not change, in every session", true,
      [&](CLI::App* s) {
        s->add_option("scan", a->scan, "scan or result of the check piece")->required();
        s->add_option("--reed-before", a->before, "an earlier result of a reed...");
        s->add_option("--reed-after", a->after, "...and a later one: did the reed change, or the rig?");
      },
      [a] {
        const auto path = [](const std::string& name) {
          return name.empty() ? std::nullopt : std::optional<std::filesystem::path>(name);
        };
        run_step(*a, [&](Rig rig, const Progress& p) {
          return check_step({a->scan, path(a->before), path(a->after)}, std::move(rig), p);
        });
      });
  add(
      "budget", "what the rig can see, and what keeps it from seeing more", true,
      [&](CLI::App* s) {
        s->add_option("scan", a->scan, "scan of any reed")->required();
        units(s);
      },
      [a] {
        run_step(*a, [&](Rig rig, const Progress& p) { return budget_step(a->scan, unit_of(*a), std::move(rig), p); });
      });
  return [verb, steps = std::move(steps)] {
    if (!verb->parsed()) return;
    for (const auto& run : steps) run();
  };
}

}  // namespace canewise
