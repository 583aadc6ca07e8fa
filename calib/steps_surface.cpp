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
Progress part_of(const Progress& progress, const std::string& what, double from, double share) {
  return [progress, what, from, share](std::string_view stage, double fraction) {
    if (progress) progress(what + ", " + std::string(stage), from + share * fraction);
  };
}

std::string today() { return now_utc().substr(0, 10); }

}  // namespace

StepOutcome plate_step(const Paths& paths, std::optional<LengthUnit> unit, Rig rig, const Progress& progress) {
  rig.plate_form.reset();  // Or the form would be taken off before it is mapped.
  std::vector<Cloud> scans;
  for (std::size_t i = 0; i < paths.size(); ++i) {
    if (progress) {
      progress(fmt::format("reading empty scan {} of {}", i + 1, paths.size()),
               0.8 * static_cast<double>(i) / static_cast<double>(paths.size()));
    }
    scans.push_back(load_plain(paths[i], unit, rig, part_of(progress, fmt::format("empty scan {}", i + 1), 0.0, 0.8)));
    (void)correct_by_rig(scans.back(), rig);
  }
  const PlateCalibration calibration = calibrate_plate(scans, rig);
  StepOutcome outcome;
  outcome.sentence = fmt::format(
      "The empty plate shows {:.1f} µm of form (root mean square), {:.0f} µm from lowest to highest; it is taken off "
      "every scan from "
      "now on. What differs from time to time is {:.1f} µm.",
      calibration.form_um, calibration.range_um, calibration.left_over_um);
  outcome.details.push_back(fmt::format("single points scatter by {:.1f} µm about it", calibration.noise_um));
  for (const auto& remark : calibration.remarks) outcome.details.push_back(remark);
  outcome.pictures.push_back({"plate.png", plate_png(calibration)});
  rig.plate_form = calibration.found;
  rig.priors.plate_form_um = std::hypot(calibration.left_over_um, calibration.found.u_um);
  rig.obtained["plate_form_um"] = calibration.scans > 1
                                      ? fmt::format("{} empty scans of {}", calibration.scans, today())
                                      : "assumed repeat of one empty scan of " + today();
  if (calibration.slow_um > 0.0) {
    outcome.details.push_back(fmt::format("over shorter ways heights drift by {:.1f} µm, alike over about {:.0f} mm",
                                          calibration.slow_um, calibration.slow_length_mm));
    rig.priors.smooth_um = calibration.slow_um;
    rig.priors.smooth_length_mm = calibration.slow_length_mm;
    rig.obtained["smooth_um"] = fmt::format("{} empty scans of {}", calibration.scans, today());
  }
  outcome.rig = std::move(rig);
  outcome.next =
      "next: lay a strip of known thickness on the plate (see 'canewise calibrate sheets'), scan it three times, list "
      "the scans in a "
      "file, and run 'canewise calibrate step FILE'.";
  return outcome;
}

namespace {

/// Strips among themselves, then strips and balls against what the rig's other parts claim of lengths.
void hold_gauge_against_rig(const GaugeCheck& check, const Rig& rig, const std::string& list) {
  const GaugeStep& odd = check.steps[check.odd_strip];
  if (check.steps.size() > 1 && std::abs(check.linearity_um) > kContradiction * std::max(0.2, check.u_linearity_um)) {
    throw InputError(fmt::format(
        "the strips do not fit each other: the strip of {:g} µm lies {:+.1f} µm off the line of the others (standard "
        "uncertainty {:.1f} µm). Either its thickness (height_um in {}) is stated wrong or it does not lie flat, or "
        "that holds for the others. Measure all strips with a micrometer, press them flat, and scan them anew. Nothing "
        "was changed.",
        odd.nominal_um, check.linearity_um, check.u_linearity_um, list));
  }
  const auto claim = scale_claim(rig, "step gauge");
  if (!claim) return;
  hold_against(*claim, {check.scale, check.u_scale}, "by the strips, heights come out",
               "the strips' thickness (height_um in " + list + ")");
  for (const BallCheck& ball : check.balls) {
    const double u_um = std::hypot(ball.u_diameter_um, 0.5 * ball.form_25_um);
    const double diameter_um = um_from_mm(ball.diameter_mm);
    hold_against(*claim, {1.0 + ball.size_error_um / diameter_um, u_um / diameter_um},
                 fmt::format("the ball of {:g} mm comes out", ball.diameter_mm),
                 "the ball's diameter (diameter_mm in " + list + ")");
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
    if (!height) table.fail("height_um", "is missing: the strip's thickness as it states.");
    step.nominal_um = *height;
    const auto u = table.number("u_um", 0.0, 1000.0);
    if (!u)
      table.fail("u_um", "is missing: the standard uncertainty of that thickness. A tolerance of +-5 um is about 3.");
    step.u_nominal_um = *u;
    const auto names = table.texts("scans");
    if (names.empty()) table.fail("scans", "is missing: the scans of this strip.");
    for (std::size_t i = 0; i < names.size(); ++i) {
      const auto path = beside(list, names[i]);
      const auto part = part_of(
          progress, fmt::format("strip of {:g} µm, scan {} of {}", step.nominal_um, i + 1, names.size()), 0.1, 0.8);
      if (part) part("reading", 0.0);
      Cloud cloud = load_plain(path, unit, uncorrected, part);
      (void)correct_by_rig(cloud, uncorrected);
      step.scans.push_back(measure_gauge(cloud, step.nominal_um, uncorrected, path.string()));
    }
    table.refuse_unknown();
    steps.push_back(std::move(step));
  }
  for (Settings& table : settings.tables("ball")) {
    const auto diameter = table.number("diameter_mm", 1.0, 60.0);
    if (!diameter) table.fail("diameter_mm", "is missing.");
    double u = 2.0;
    table.number_into(u, "u_um", 0.0, 1000.0);
    const auto name = table.text("scan");
    if (!name) table.fail("scan", "is missing: the scan of this ball.");
    const auto path = beside(list, *name);
    Cloud cloud = load_plain(path, unit, uncorrected, part_of(progress, "ball", 0.8, 0.1));
    balls.push_back(check_ball(cloud, *diameter, u, path.string()));
    table.refuse_unknown();
  }
  settings.refuse_unknown();
  if (steps.empty()) {
    throw InputError(list.string() +
                     ": lists no strip. Write a table [[step]] with height_um, u_um and scans for each.");
  }
  const GaugeCheck check = evaluate_gauge(std::move(steps), std::move(balls));
  try {
    hold_gauge_against_rig(check, rig, list.filename().string());
  } catch (const InputError& error) {
    throw InputError(list.string() + ": " + error.what());
  }
  StepOutcome outcome;
  outcome.sentence = check.verdict;
  if (!std::isnan(check.repeatability_um)) {
    outcome.details.push_back(
        fmt::format("one scan of a strip repeats to {:.1f} µm (one standard deviation)", check.repeatability_um));
  }
  if (check.steps.size() > 1) {
    outcome.details.push_back(fmt::format("linear to {:.1f} µm (its own U95 {:.1f} µm)", std::abs(check.linearity_um),
                                          kCoverage95 * check.u_linearity_um));
  }
  constexpr double much = 0.02;
  if (!scale_claim(rig, "step gauge") && std::abs(check.scale - 1.0) > much) {
    outcome.details.emplace_back(
        "That is much for a scanner. Nothing else in the rig file says how long anything is: measure the strips with a "
        "micrometer. Only heights are corrected; look at a reed's length and width too before you trust them.");
  }
  const GaugeScan& first = check.steps.front().scans.front();
  outcome.details.push_back(
      fmt::format("flatness of the plate in view: {:.1f} µm for 95 % of the points, {:.1f} µm over means of 3 mm",
                  first.flatness_um, first.flatness_all_um));
  for (const auto& ball : check.balls) {
    outcome.details.push_back(fmt::format(
        "ball of {:g} mm: size off by {:+.1f} µm, form {:.1f} µm over 25 places, {:.1f} µm for 95 % of the points",
        ball.diameter_mm, ball.size_error_um, ball.form_25_um, ball.form_95_um));
  }
  outcome.details.emplace_back(
      "Steps after ISO 5436-1, type A1; ball and flatness after ISO 10360-8 and -13, reduced: this is a check, no "
      "verification to either.");
  outcome.pictures.push_back({"step.png", step_png(check)});
  rig.height_scale = check.correction;
  rig.scale_parts["step gauge"] = check.correction.u_rel;
  rig.scale_parts.try_emplace("temperature", 1e-4);
  rig.obtained["scale of step gauge"] = fmt::format("{} strips, {}", check.steps.size(), today());
  combine_scale(rig);
  outcome.rig = std::move(rig);
  outcome.next =
      "next: lay a reed and, to its right, a strip of card on the plate, scan both, and run 'canewise calibrate hand "
      "SCAN'.";
  return outcome;
}

StepOutcome hand_step(const std::filesystem::path& scan, std::optional<LengthUnit> unit, Rig rig,
                      const Progress& progress) {
  if (progress) progress("reading the scan", 0.1);
  Cloud cloud = load_one(scan, unit, rig, progress);
  Handedness hand;
  try {
    hand = check_handedness(std::move(cloud), rig);
  } catch (const NotMeasurable& error) {
    throw NotMeasurable(scan.string() + ": " + error.what());
  }
  StepOutcome outcome;
  outcome.sentence = hand.verdict;
  outcome.details.push_back(
      fmt::format("the mark shows {:.0f} mm to the {} of the reed's middle, {:.0f} mm from its tip",
                  std::abs(hand.mark_mm.y()), hand.mark_mm.y() < 0 ? "left" : "right", hand.mark_mm.x()));
  outcome.pictures.push_back({"hand.png", hand_png(hand)});
  rig.mirrored = hand.mirrored;
  rig.handedness_found = today();
  outcome.rig = std::move(rig);
  outcome.next =
      "next: seat one reed anew four times or more, scan it each time, turn it by half a turn and do the same, and run "
      "'canewise "
      "calibrate reversal --straight SCANS --turned SCANS'.";
  return outcome;
}

StepOutcome touch_step(const std::filesystem::path& list, std::optional<LengthUnit> unit, Rig rig,
                       const Progress& progress) {
  Settings settings = Settings::read(list);
  const auto name = settings.text("scan");
  if (!name) settings.fail("scan", "is missing: the scan of the reed that was touched.");
  TouchTool tool;
  settings.number_into(tool.anvil_diameter_mm, "anvil_diameter_mm", 0.3, 10.0);
  settings.number_into(tool.force_n, "force_n", 0.0, 50.0);
  settings.number_into(tool.u_reading_um, "u_reading_um", 0.0, 1000.0);
  settings.number_into(tool.u_place_mm, "u_place_mm", 0.0, 10.0);
  if (const auto state = settings.text("state")) tool.state = *state;
  if (tool.state != "dry" && tool.state != "wet" && tool.state != "unknown")
    settings.fail("state", "must be 'dry', 'wet' or 'unknown'.");
  std::vector<TouchReading> readings;
  for (Settings& table : settings.tables("reading")) {
    TouchReading reading;
    const auto needed = [&](const char* key, double low, double high) {
      const auto value = table.number(key, low, high);
      if (!value) table.fail(key, "is missing.");
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
  if (progress) progress("reading the scan", 0.1);
  Cloud cloud = load_one(beside(list, *name), unit, rig, progress);
  (void)correct_by_rig(cloud, rig);
  if (progress) progress("comparing", 0.6);
  std::vector<Cloud> one;
  one.push_back(std::move(cloud));
  TouchCheck check;
  try {
    const Aligned aligned = place_reed(std::move(one), rig);
    check = check_touch(aligned, measure_thickness(aligned, rig.priors), readings, tool);
  } catch (const UsageError& error) {
    throw InputError(list.string() + ": " + error.what());
  } catch (const NotMeasurable& error) {
    throw NotMeasurable(beside(list, *name).string() + ": " + error.what());
  }
  const LightDepth& light = check.found;
  const auto claim = scale_claim(rig, "");
  if (claim && light.per_mm_um != 0.0) {
    // Light that enters thick cane farther than thin is no wrong length: as much as is assumed of light, for each mm.
    const double u_rel = 1e-3 * std::hypot(std::sqrt(light.covariance_um2(1, 1)), Priors{}.penetration_um);
    try {
      hold_against(*claim, {1.0 / (1.0 + 1e-3 * light.per_mm_um), u_rel}, "by touch, heights come out",
                   "the readings (reading_mm in " + list.filename().string() + ")");
    } catch (const InputError& error) {
      throw InputError(list.string() + ": " + error.what());
    }
  }
  StepOutcome outcome;
  outcome.sentence = check.verdict;
  outcome.details.push_back(
      fmt::format("{} readings; limits of agreement {:+.1f} to {:+.1f} µm, each known to ±{:.1f} µm",
                  check.places.size(), check.low_um, check.high_um, kCoverage95 * check.u_limit_um));
  double peaks = 0.0, pressed = 0.0;
  for (const auto& place : check.places) {
    peaks += place.peaks_um / static_cast<double>(check.places.size()),
        pressed += place.indentation_um / static_cast<double>(check.places.size());
  }
  outcome.details.push_back(
      fmt::format("allowed for: fibre tops and slope under the anvil, {:.1f} µm on average; pressing in, {:.1f} µm",
                  peaks, pressed));
  outcome.details.push_back(
      fmt::format("the bias follows thickness: p = {:.2f}; slope: p = {:.2f}", check.p_thickness, check.p_slope));
  outcome.pictures.push_back({"touch.png", touch_png(check)});
  rig.light = check.found;
  rig.priors.penetration_um = std::sqrt(check.found.covariance_um2(0, 0));
  rig.obtained["penetration_um"] = fmt::format("{} touch readings, {}", check.places.size(), today());
  outcome.rig = std::move(rig);
  outcome.next = "next: scan any reed and run 'canewise calibrate budget SCAN' to see what the rig can tell now.";
  return outcome;
}

}  // namespace canewise
