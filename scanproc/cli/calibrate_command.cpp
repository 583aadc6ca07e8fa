#include <fmt/format.h>

#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "calib/sheets.h"
#include "calib/steps.h"
#include "scanproc/cli/calibration_verbs.h"
#include "scanproc/cli/commands.h"
#include "scanproc/cli/print_out.h"
#include "scanproc/cli/progress_line.h"
#include "scanproc/core/error.h"
#include "scanproc/core/output_files.h"
#include "scanproc/core/utc.h"
#include "scanproc/report/screen.h"

namespace canewise {
namespace {

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

/// Pictures first, then the rig file with a copy of the old one, then words. Each of the two is written as a whole or
/// not at all; pictures of a step whose values were not kept do no harm.
void keep(const CalibrateArguments& a, StepOutcome outcome, const Speech& speech) {
  const std::filesystem::path rig_path(a.rig);
  const auto beside = rig_path.has_parent_path() ? rig_path.parent_path() : std::filesystem::path(".");
  const std::filesystem::path folder =
      a.out.empty() ? beside / (rig_path.stem().string() + "-pictures") : std::filesystem::path(a.out);
  std::vector<OutputFile> pictures;
  for (const auto& picture : outcome.pictures) pictures.push_back({picture.file_name, picture.draw(speech)});
  if (!pictures.empty()) write_output_files(folder, pictures);
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

void run_step(const CalibrationVerb& verb, const CalibrateArguments& a, const Speech& speech) {
  std::optional<ProgressLine> line;
  line.emplace(Message(), std::nullopt, speech);
  StepOutcome outcome = verb.run(a, rig_of(a), line->callback());
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
  write_output_files(folder, files);
  std::string screen = phrase({"cli.calibrate.print"}, speech) + "\n";
  for (const auto& file : files)
    screen += phrase({"cli.wrote", {{"file", text((folder / file.name).string())}}}, speech) + "\n";
  print_out(screen + wrapped(phrase({"cli.calibrate.after_sheets"}, speech), 98, 2));
}

using Shared = std::shared_ptr<CalibrateArguments>;

std::function<void()> add_sheets(CLI::App& calibrate, const Shared& a, const Speech& speech) {
  auto* app = calibrate.add_subcommand("sheets", phrase({"cli.calibrate.sheets"}, speech));
  const VerbOptions options{*app, *a, speech};
  options.add("--out", a->out, {"cli.calibrate.out"});
  add_board_options(options);
  return [app, a, speech] {
    if (app->parsed()) write_sheets(*a, speech);
  };
}

std::function<void()> add_verb(CLI::App& calibrate, const CalibrationVerb& verb, const Shared& a,
                               const Speech& speech) {
  auto* app = calibrate.add_subcommand(verb.name, phrase(verb.words, speech));
  const VerbOptions options{*app, *a, speech};
  options.add("--rig", a->rig, {"cli.calibrate.rig"});
  options.add("--name", a->name, {"cli.calibrate.name"});
  options.add("--out", a->out, {"cli.calibrate.out"});
  verb.add_options(options);
  return [app, verb, a, speech] {
    if (app->parsed()) run_step(verb, *a, speech);
  };
}

}  // namespace

std::function<void()> add_calibrate_command(CLI::App& app, const Speech& speech) {
  const auto a = std::make_shared<CalibrateArguments>();
  auto* calibrate = app.add_subcommand("calibrate", phrase({"cli.calibrate"}, speech));
  calibrate->require_subcommand(1);
  std::vector<std::function<void()>> steps{add_sheets(*calibrate, a, speech)};
  for (const CalibrationVerb& verb : calibration_verbs()) steps.push_back(add_verb(*calibrate, verb, a, speech));
  return [calibrate, steps = std::move(steps)] {
    if (!calibrate->parsed()) return;
    for (const auto& run : steps) run();
  };
}

}  // namespace canewise
