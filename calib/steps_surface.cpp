#include <fmt/format.h>

#include <cmath>

#include "calib/handedness.h"
#include "calib/pictures.h"
#include "calib/plate_calibration.h"
#include "calib/rig_consistency.h"
#include "calib/step_gauge.h"
#include "calib/steps.h"
#include "calib/touch.h"
#include "scanproc/core/budget.h"
#include "scanproc/core/error.h"
#include "scanproc/core/units.h"
#include "scanproc/core/utc.h"
#include "scanproc/datum/place_reed.h"
#include "scanproc/datum/rig_correction.h"
#include "scanproc/pipeline/load_scans.h"
#include "scanproc/scan/read_scan.h"
#include "scanproc/scan/settings.h"
#include "scanproc/thickness/measure_thickness.h"
#include "scanproc/words/decimals.h"

namespace canewise {
namespace {

/// Reads one scan with the rig as it stands.
Cloud load_one(const std::filesystem::path& path, std::optional<LengthUnit> unit, const Rig& rig,
               const Progress& progress) {
  LoadedScans scans = load_scans({path}, {unit, std::nullopt, &rig, progress});
  scans.finish();
  return std::move(scans.clouds.front());
}

/// The piece scanned by no reed's unit guess: a strip or an empty plate has no reed's size.
Cloud load_plain(const std::filesystem::path& path, std::optional<LengthUnit> unit, const Rig& rig,
                 const Progress& progress) {
  Cloud cloud = read_scan(path, {.height_unit = unit, .pitch_mm = std::nullopt, .rig = &rig, .progress = progress});
  if (!cloud.unit_known && unit) cloud.points_mm *= mm_per(*unit);
  return cloud;
}

std::filesystem::path beside(const std::filesystem::path& list, const std::string& name) {
  const std::filesystem::path path(name);
  return path.is_absolute() ? path : list.parent_path() / path;
}

/// Progress of one of several.
Progress part_of(const Progress& progress, const Message& what, double from, double share) {
  return [progress, what, from, share](const Message& stage, double fraction) {
    if (progress)
      progress({"stage_calib.within", {{"what", part(what)}, {"stage", part(stage)}}}, from + share * fraction);
  };
}

Message in_file(const std::filesystem::path& path, const Error& error) {
  return {"in_file", {{"file", text(path.string())}, {"what", part(error.message())}}};
}

Argument stated_um(double value) { return um(value, decimals_of(value)); }
Argument stated_mm(double value) { return mm(value, decimals_of(value)); }

std::string today() { return now_utc().substr(0, 10); }

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
                               part_of(progress, {"stage_calib.empty_scan", {{"scan", count(i + 1)}}}, 0.0, 0.8)));
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
  outcome.pictures.push_back(
      {"plate.png", [calibration](const Speech& speech) { return plate_png(calibration, speech); }});
  rig.plate_form = calibration.found;
  rig.priors.plate_form_um = std::hypot(calibration.left_over_um, calibration.found.u_um);
  rig.obtained["plate_form_um"] = calibration.scans > 1
                                      ? fmt::format("{} empty scans of {}", calibration.scans, today())
                                      : "assumed repeat of one empty scan of " + today();
  if (calibration.slow_um > 0.0) {
    outcome.details.push_back(
        {"plate_calib.drift", {{"drift", um(calibration.slow_um, 1)}, {"over", mm(calibration.slow_length_mm)}}});
    rig.priors.smooth_um = calibration.slow_um;
    rig.priors.smooth_length_mm = calibration.slow_length_mm;
    rig.obtained["smooth_um"] = fmt::format("{} empty scans of {}", calibration.scans, today());
  }
  outcome.rig = std::move(rig);
  outcome.next = {Message{"plate_calib.next"}};
  return outcome;
}

namespace {

/// Strips among themselves, then strips and balls against what the rig's other parts claim of lengths.
void hold_gauge_against_rig(const GaugeCheck& check, const Rig& rig, const std::string& list) {
  const GaugeStep& odd = check.steps[check.odd_strip];
  if (check.steps.size() > 1 && std::abs(check.linearity_um) > kContradiction * std::max(0.2, check.u_linearity_um)) {
    throw InputError({"gauge.strips_disagree",
                      {{"strip", stated_um(odd.nominal_um)},
                       {"off", signed_um(check.linearity_um, 1)},
                       {"u", um(check.u_linearity_um, 1)},
                       {"list", text(list)}}});
  }
  const auto claim = scale_claim(rig, "step gauge");
  if (!claim) return;
  hold_against(*claim, {check.scale, check.u_scale}, {"gauge.by_strips"},
               {"gauge.stated_strips", {{"list", text(list)}}});
  for (const BallCheck& ball : check.balls) {
    const double u_um = std::hypot(ball.u_diameter_um, 0.5 * ball.form_25_um);
    const double diameter_um = um_from_mm(ball.diameter_mm);
    hold_against(*claim, {1.0 + ball.size_error_um / diameter_um, u_um / diameter_um},
                 {"gauge.by_ball", {{"diameter", stated_mm(ball.diameter_mm)}}},
                 {"gauge.stated_ball", {{"list", text(list)}}});
  }
}

}  // namespace

StepOutcome gauge_step(const std::filesystem::path& list, std::optional<LengthUnit> unit, Rig rig,
                       const Progress& progress) {
  Settings settings = Settings::read(list);
  Rig uncorrected = rig;
  uncorrected.height_scale.reset();
  std::vector<GaugeStep> steps;
  std::vector<BallCheck> balls;
  auto tables = settings.tables("step");
  for (Settings& table : tables) {
    GaugeStep step;
    const auto height = table.number("height_um", 5.0, 20000.0);
    if (!height) table.fail("height_um", {"gauge.no_height"});
    step.nominal_um = *height;
    const auto u = table.number("u_um", 0.0, 1000.0);
    if (!u) table.fail("u_um", {"gauge.no_u"});
    step.u_nominal_um = *u;
    const auto names = table.texts("scans");
    if (names.empty()) table.fail("scans", {"gauge.no_scans"});
    for (std::size_t i = 0; i < names.size(); ++i) {
      const auto path = beside(list, names[i]);
      const Progress of_strip =
          part_of(progress,
                  {"stage_calib.strip",
                   {{"strip", stated_um(step.nominal_um)}, {"scan", count(i + 1)}, {"scans", count(names.size())}}},
                  0.1, 0.8);
      of_strip({"stage_calib.reading"}, 0.0);
      Cloud cloud = load_plain(path, unit, uncorrected, of_strip);
      (void)correct_by_rig(cloud, uncorrected);
      step.scans.push_back(measure_gauge(cloud, step.nominal_um, uncorrected, path.string()));
    }
    table.refuse_unknown();
    steps.push_back(std::move(step));
  }
  for (Settings& table : settings.tables("ball")) {
    const auto diameter = table.number("diameter_mm", 1.0, 60.0);
    if (!diameter) table.fail("diameter_mm", {"step.missing"});
    double u = 2.0;
    table.number_into(u, "u_um", 0.0, 1000.0);
    const auto name = table.text("scan");
    if (!name) table.fail("scan", {"gauge.no_ball_scan"});
    const auto path = beside(list, *name);
    Cloud cloud = load_plain(path, unit, uncorrected, part_of(progress, {"stage_calib.ball"}, 0.8, 0.1));
    balls.push_back(check_ball(cloud, *diameter, u, path.string()));
    table.refuse_unknown();
  }
  settings.refuse_unknown();
  if (steps.empty()) throw InputError({"gauge.empty_list", {{"file", text(list.string())}}});
  const GaugeCheck check = evaluate_gauge(std::move(steps), std::move(balls));
  try {
    hold_gauge_against_rig(check, rig, list.filename().string());
  } catch (const InputError& error) {
    throw InputError(in_file(list, error));
  }
  StepOutcome outcome;
  outcome.sentence = check.verdict;
  if (!std::isnan(check.repeatability_um)) {
    outcome.details.push_back({"gauge.repeats", {{"sd", um(check.repeatability_um, 1)}}});
  }
  if (check.steps.size() > 1) {
    outcome.details.push_back(
        {"gauge.linear",
         {{"off", um(std::abs(check.linearity_um), 1)}, {"u95", um(kCoverage95 * check.u_linearity_um, 1)}}});
  }
  constexpr double much = 0.02;
  if (!scale_claim(rig, "step gauge") && std::abs(check.scale - 1.0) > much)
    outcome.details.push_back({"gauge.much_off"});
  const GaugeScan& first = check.steps.front().scans.front();
  outcome.details.push_back(
      {"gauge.flatness", {{"points", um(first.flatness_um, 1)}, {"means", um(first.flatness_all_um, 1)}}});
  for (const auto& ball : check.balls) {
    outcome.details.push_back({"gauge.ball",
                               {{"diameter", stated_mm(ball.diameter_mm)},
                                {"off", signed_um(ball.size_error_um, 1)},
                                {"form", um(ball.form_25_um, 1)},
                                {"form_95", um(ball.form_95_um, 1)}}});
  }
  outcome.details.push_back({"gauge.standards"});
  outcome.pictures.push_back({"step.png", [check](const Speech& speech) { return step_png(check, speech); }});
  rig.height_scale = check.correction;
  rig.scale_parts["step gauge"] = check.correction.u_rel;
  rig.scale_parts.try_emplace("temperature", 1e-4);
  rig.obtained["scale of step gauge"] = fmt::format("{} strips, {}", check.steps.size(), today());
  combine_scale(rig);
  outcome.rig = std::move(rig);
  outcome.next = {Message{"gauge.next"}};
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

StepOutcome touch_step(const std::filesystem::path& list, std::optional<LengthUnit> unit, Rig rig,
                       const Progress& progress) {
  Settings settings = Settings::read(list);
  const auto name = settings.text("scan");
  if (!name) settings.fail("scan", {"touch.no_scan"});
  TouchTool tool;
  settings.number_into(tool.anvil_diameter_mm, "anvil_diameter_mm", 0.3, 10.0);
  settings.number_into(tool.force_n, "force_n", 0.0, 50.0);
  settings.number_into(tool.u_reading_um, "u_reading_um", 0.0, 1000.0);
  settings.number_into(tool.u_place_mm, "u_place_mm", 0.0, 10.0);
  if (const auto state = settings.text("state")) tool.state = *state;
  if (tool.state != "dry" && tool.state != "wet" && tool.state != "unknown") settings.fail("state", {"touch.state"});
  std::vector<TouchReading> readings;
  for (Settings& table : settings.tables("reading")) {
    TouchReading reading;
    const auto needed = [&](const char* key, double low, double high) {
      const auto value = table.number(key, low, high);
      if (!value) table.fail(key, {"step.missing"});
      return *value;
    };
    reading.x_mm = needed("x_mm", 0.0, 120.0);
    reading.y_mm = needed("y_mm", -15.0, 15.0);
    reading.reading_mm = needed("reading_mm", 0.0, 10.0);
    table.refuse_unknown();
    readings.push_back(reading);
  }
  settings.refuse_unknown();
  rig.light.reset();
  if (progress) progress({"stage_calib.reading_scan"}, 0.1);
  Cloud cloud = load_one(beside(list, *name), unit, rig, progress);
  (void)correct_by_rig(cloud, rig);
  if (progress) progress({"stage_calib.comparing"}, 0.6);
  std::vector<Cloud> one;
  one.push_back(std::move(cloud));
  TouchCheck check;
  try {
    const Aligned aligned = place_reed(std::move(one), rig);
    check = check_touch(aligned, measure_thickness(aligned, rig.priors), readings, tool);
  } catch (const UsageError& error) {
    throw InputError(in_file(list, error));
  } catch (const NotMeasurable& error) {
    throw NotMeasurable(in_file(beside(list, *name), error));
  }
  const LightDepth& light = check.found;
  const auto claim = scale_claim(rig, "");
  if (claim && light.per_mm_um != 0.0) {
    // Light that enters thick cane farther than thin is no wrong length: as much as is assumed of light, for each mm.
    const double u_rel = 1e-3 * std::hypot(std::sqrt(light.covariance_um2(1, 1)), Priors{}.penetration_um);
    try {
      hold_against(*claim, {1.0 / (1.0 + 1e-3 * light.per_mm_um), u_rel}, {"touch.by_touch"},
                   {"touch.stated_readings", {{"list", text(list.filename().string())}}});
    } catch (const InputError& error) {
      throw InputError(in_file(list, error));
    }
  }
  StepOutcome outcome;
  outcome.sentence = check.verdict;
  outcome.details.push_back({"touch.limits",
                             {{"readings", count(check.places.size())},
                              {"low", signed_um(check.low_um, 1)},
                              {"high", signed_um(check.high_um, 1)},
                              {"u95", um(kCoverage95 * check.u_limit_um, 1)}}});
  double peaks = 0.0, pressed = 0.0;
  for (const auto& place : check.places) {
    peaks += place.peaks_um / static_cast<double>(check.places.size()),
        pressed += place.indentation_um / static_cast<double>(check.places.size());
  }
  outcome.details.push_back({"touch.allowed_for", {{"peaks", um(peaks, 1)}, {"pressed", um(pressed, 1)}}});
  outcome.details.push_back(
      {"touch.tests", {{"p_thickness", number(check.p_thickness, 2)}, {"p_slope", number(check.p_slope, 2)}}});
  outcome.pictures.push_back({"touch.png", [check](const Speech& speech) { return touch_png(check, speech); }});
  rig.light = check.found;
  rig.priors.penetration_um = std::sqrt(check.found.covariance_um2(0, 0));
  rig.obtained["penetration_um"] = fmt::format("{} touch readings, {}", check.places.size(), today());
  outcome.rig = std::move(rig);
  outcome.next = {Message{"touch.next"}};
  return outcome;
}

}  // namespace canewise
