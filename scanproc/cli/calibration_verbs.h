#pragma once

#include <CLI/CLI.hpp>
#include <string>
#include <vector>

#include "calib/steps.h"
#include "scanproc/words/speech.h"

namespace canewise {

/// What the shell gave to 'calibrate'.
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

/// Where a verb's options go: what the shell gives is kept in `arguments`.
struct VerbOptions {
  CLI::App& app;
  CalibrateArguments& arguments;
  const Speech& speech;
  template <typename Value>
  CLI::Option* add(const char* name, Value& value, const Message& words) const {
    return app.add_option(name, value, phrase(words, speech));
  }
};

/// A step of the calibration: what the shell is asked for, and how the step is run with that.
struct CalibrationVerb {
  const char* name;
  Message words;
  void (*add_options)(const VerbOptions& options);
  StepOutcome (*run)(const CalibrateArguments& a, Rig rig, const Progress& progress);
};

/// The board that the shell described, or the usual one. Throws UsageError if no such board can be.
[[nodiscard]] Board board_of(const CalibrateArguments& a);
void add_board_options(const VerbOptions& options);

/// In the order in which a rig is calibrated; the help shows them so.
[[nodiscard]] std::vector<CalibrationVerb> calibration_verbs();

}  // namespace canewise
