#pragma once

#include <filesystem>
#include <functional>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

#include "calib/board.h"
#include "scanproc/core/progress.h"
#include "scanproc/core/units.h"
#include "scanproc/rig/rig.h"
#include "scanproc/rig/stated_rig.h"
#include "scanproc/words/speech.h"

namespace canewise {

/// A picture of a step, drawn in the reader's language: PNG.
struct StepPicture {
  std::string file_name;
  std::function<std::string(const Speech& speech)> draw;
};

/// What a calibration step found, ready to be told and kept.
struct StepOutcome {
  Rig rig;                            ///< With what was found in it.
  bool changes_rig = true;            ///< False: there is nothing to keep.
  Messages sentence;                  ///< The answer.
  Messages details;                   ///< A few lines more.
  std::vector<StepPicture> pictures;  ///< To judge it by.
  Messages next;                      ///< What to do now.
};

using Paths = std::vector<std::filesystem::path>;

// One function a step, from files to outcome. Each throws InputError, NotMeasurable or UsageError and then nothing was
// changed. `rig` is what is known so far.

/// Photographs of a board: the camera.
[[nodiscard]] StepOutcome camera_step(const std::filesystem::path& photographs, const Board& board, Rig rig,
                                      const Progress& progress);
/// A camera file of OpenCV instead of photographs (camera_import.h), with the uncertainties that it does not give.
struct ImportInputs {
  std::filesystem::path file;
  std::size_t width = 0, height = 0;  ///< Of the camera's pictures, where the file does not say it.
  StatedCamera stated;
};
[[nodiscard]] StepOutcome import_step(const ImportInputs& inputs, Rig rig);
/// Photographs of the board and, in the same order, pictures of the laser's line on it: the plane of light.
struct PlaneInputs {
  std::filesystem::path photographs, lines;
};
[[nodiscard]] StepOutcome plane_step(const PlaneInputs& inputs, const Board& board, Rig rig, const Progress& progress);
/// Photographs of the board that the stage carries, one every `step_mm`: the stage. `travel_per_frame_mm` is what it
/// will do between frames of a scan.
struct StageInputs {
  std::filesystem::path photographs;
  double step_mm = 0.0, travel_per_frame_mm = 0.0;
  double u_square_rel = 1e-3;  ///< Standard uncertainty of the printed squares' size, relative.
  double u_step_rel = 1e-3;    ///< The same of `step_mm`. The two are held against each other.
};
[[nodiscard]] StepOutcome stage_step(const StageInputs& inputs, const Board& board, Rig rig, const Progress& progress);
/// Folders of depth frames of the flat plate, one for each height.
[[nodiscard]] StepOutcome depth_step(const Paths& folders, Rig rig, const Progress& progress);
/// Scans of the empty plate.
[[nodiscard]] StepOutcome plate_step(const Paths& scans, std::optional<LengthUnit> unit, Rig rig,
                                     const Progress& progress);
/// A settings file that lists strips and balls, and their scans:
/// [[step]] height_um, u_um, scans = [...]; [[ball]] diameter_mm, u_um, scan.
[[nodiscard]] StepOutcome gauge_step(const std::filesystem::path& list, std::optional<LengthUnit> unit, Rig rig,
                                     const Progress& progress);
/// Scan of a reed with a mark to its right.
[[nodiscard]] StepOutcome hand_step(const std::filesystem::path& scan, std::optional<LengthUnit> unit, Rig rig,
                                    const Progress& progress);
/// Scans or results of one reed, seated anew each time, straight and turned by half a turn.
[[nodiscard]] StepOutcome reversal_step(const Paths& straight, const Paths& turned, Rig rig, const Progress& progress);
/// A settings file that says which scan shows which reed, measured by whom or when:
/// quantity = 'rails' | 'heart' | 'tip'; [[scan]] reed, person, result. One reed by one person is a type-1 study, with
/// reference_um and tolerance_um if known.
[[nodiscard]] StepOutcome study_step(const std::filesystem::path& list, Rig rig, const Progress& progress);
/// Scan or result of the piece that does not change; and, if given, of a reed before and after.
struct CheckInputs {
  std::filesystem::path piece;
  std::optional<std::filesystem::path> before, after;
};
[[nodiscard]] StepOutcome check_step(const CheckInputs& inputs, Rig rig, const Progress& progress);
/// A settings file with touch readings at places of a reed: scan, anvil_diameter_mm, force_n, u_reading_um, state;
/// [[reading]] x_mm, y_mm, reading_mm.
[[nodiscard]] StepOutcome touch_step(const std::filesystem::path& list, std::optional<LengthUnit> unit, Rig rig,
                                     const Progress& progress);
/// Scan of any reed with the rig as it stands.
[[nodiscard]] StepOutcome budget_step(const std::filesystem::path& scan, std::optional<LengthUnit> unit, Rig rig,
                                      const Progress& progress);

}  // namespace canewise
