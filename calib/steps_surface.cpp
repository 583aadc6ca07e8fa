#include <fmt/format.h>

#include <cmath>

#include "calib/handedness.h"
#include "calib/pictures.h"
#include "calib/plate_calibration.h"
#include "calib/step_scans.h"
#include "calib/steps.h"
#include "scanproc/core/error.h"
#include "scanproc/datum/rig_correction.h"

namespace canewise {
namespace {

/// What the plate's map leaves unsure, and the scanner's slow error where repeats show it.
Rig with_plate(Rig rig, const PlateCalibration& calibration) {
  const std::string repeated = fmt::format("{} empty scans of {}", calibration.scans, today());
  rig.plate_form = calibration.found;
  rig.priors.plate_form_um = std::hypot(calibration.left_over_um, calibration.found.u_um);
  rig.obtained["plate_form_um"] = calibration.scans > 1 ? repeated : "assumed repeat of one empty scan of " + today();
  if (calibration.slow_um > 0.0) {
    rig.priors.smooth_um = calibration.slow_um;
    rig.priors.smooth_length_mm = calibration.slow_length_mm;
    rig.obtained["smooth_um"] = repeated;
  }
  return rig;
}

}  // namespace

StepOutcome plate_step(const Paths& paths, std::optional<LengthUnit> unit, Rig rig, const Progress& progress) {
  rig.plate_form.reset();  // Or the form would be taken off before it is mapped.
  std::vector<Cloud> scans;
  for (std::size_t i = 0; i < paths.size(); ++i) {
    if (progress) {
      progress({"stage_calib.reading_empty", {{"scan", count(i + 1)}, {"scans", count(paths.size())}}},
               0.8 * static_cast<double>(i) / static_cast<double>(paths.size()));
    }
    scans.push_back(load_plain(paths[i], unit, rig,
                               within(progress, {"stage_calib.empty_scan", {{"scan", count(i + 1)}}}, 0.0, 0.8)));
    (void)correct_by_rig(scans.back(), rig);
  }
  const PlateCalibration calibration = calibrate_plate(scans, rig);
  StepOutcome outcome;
  outcome.sentence = {Message{"plate_calib.found",
                              {{"form", um(calibration.form_um, 1)},
                               {"range", um(calibration.range_um)},
                               {"left_over", um(calibration.left_over_um, 1)}}}};
  outcome.details.push_back({"plate_calib.scatter", {{"scatter", um(calibration.noise_um, 1)}}});
  for (const auto& remark : calibration.remarks) outcome.details.push_back(remark);
  if (calibration.slow_um > 0.0) {
    outcome.details.push_back(
        {"plate_calib.drift", {{"drift", um(calibration.slow_um, 1)}, {"over", mm(calibration.slow_length_mm)}}});
  }
  outcome.pictures.push_back(
      {"plate.png", [calibration](const Speech& speech) { return plate_png(calibration, speech); }});
  outcome.rig = with_plate(std::move(rig), calibration);
  outcome.next = {Message{"plate_calib.next"}};
  return outcome;
}

StepOutcome hand_step(const std::filesystem::path& scan, std::optional<LengthUnit> unit, Rig rig,
                      const Progress& progress) {
  if (progress) progress({"stage_calib.reading_scan"}, 0.1);
  Cloud cloud = load_one(scan, unit, rig, progress);
  Handedness hand;
  try {
    hand = check_handedness(std::move(cloud), rig);
  } catch (const NotMeasurable& error) {
    throw NotMeasurable(in_file(scan, error));
  }
  StepOutcome outcome;
  outcome.sentence = hand.verdict;
  outcome.details.push_back({"hand.mark",
                             {{"beside", mm(std::abs(hand.mark_mm.y()))},
                              {"side", word(hand.mark_mm.y() < 0 ? "left" : "right")},
                              {"from_tip", mm(hand.mark_mm.x())}}});
  outcome.pictures.push_back({"hand.png", [hand](const Speech& speech) { return hand_png(hand, speech); }});
  rig.mirrored = hand.mirrored;
  rig.handedness_found = today();
  outcome.rig = std::move(rig);
  outcome.next = {Message{"hand.next"}};
  return outcome;
}

}  // namespace canewise
