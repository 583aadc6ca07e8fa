#include <fmt/format.h>

#include <cmath>
#include <utility>

#include "calib/pictures.h"
#include "calib/rig_consistency.h"
#include "calib/step_scans.h"
#include "calib/steps.h"
#include "calib/touch.h"
#include "scanproc/bytes/settings.h"
#include "scanproc/core/budget.h"
#include "scanproc/core/error.h"
#include "scanproc/datum/place_reed.h"
#include "scanproc/datum/rig_correction.h"
#include "scanproc/thickness/measure_thickness.h"

namespace canewise {
namespace {

/// What a list of touch readings says.
struct TouchList {
  std::filesystem::path scan;
  TouchTool tool;
  std::vector<TouchReading> readings;
};

TouchTool tool_of(Settings& settings) {
  TouchTool tool;
  settings.number_into(tool.anvil_diameter_mm, "anvil_diameter_mm", 0.3, 10.0);
  settings.number_into(tool.force_n, "force_n", 0.0, 50.0);
  settings.number_into(tool.u_reading_um, "u_reading_um", 0.0, 1000.0);
  settings.number_into(tool.u_place_mm, "u_place_mm", 0.0, 10.0);
  if (const auto moisture = settings.text("state")) {
    const auto state = moisture_from(*moisture);
    if (!state) settings.fail("state", {"touch.state"});
    tool.state = *state;
  }
  return tool;
}

TouchReading reading_of(Settings& table) {
  const auto needed = [&](const char* key, double low, double high) {
    const auto value = table.number(key, low, high);
    if (!value) table.fail(key, {"step.missing"});
    return *value;
  };
  TouchReading reading;
  reading.x_mm = needed("x_mm", 0.0, 120.0);
  reading.y_mm = needed("y_mm", -15.0, 15.0);
  reading.reading_mm = needed("reading_mm", 0.0, 10.0);
  table.refuse_unknown();
  return reading;
}

TouchList read_touch_list(const std::filesystem::path& path) {
  Settings settings = Settings::read(path);
  const auto name = settings.text("scan");
  if (!name) settings.fail("scan", {"touch.no_scan"});
  TouchList list{beside(path, *name), tool_of(settings), {}};
  for (Settings& table : settings.tables("reading")) list.readings.push_back(reading_of(table));
  settings.refuse_unknown();
  return list;
}

TouchCheck checked(Cloud cloud, const Rig& rig, const TouchList& list) {
  std::vector<Cloud> one;
  one.push_back(std::move(cloud));
  const Aligned aligned = place_reed(std::move(one), rig);
  return check_touch(aligned, measure_thickness(aligned, rig.priors), list.readings, list.tool);
}

/// Light that enters thick cane farther than thin is no wrong length: as much as is assumed of light, for each mm.
void hold_touch_against_rig(const LightDepth& light, const Rig& rig, const std::string& list) {
  const auto claim = scale_claim(rig, "");
  if (!claim || light.per_mm_um == 0.0) return;
  const double u_rel = 1e-3 * std::hypot(std::sqrt(light.covariance_um2(1, 1)), Priors{}.penetration_um);
  hold_against(*claim, {1.0 / (1.0 + 1e-3 * light.per_mm_um), u_rel}, {"touch.by_touch"},
               {"touch.stated_readings", {{"list", text(list)}}});
}

Messages details_of(const TouchCheck& check) {
  double peaks = 0.0, pressed = 0.0;
  for (const auto& place : check.places) {
    peaks += place.peaks_um / static_cast<double>(check.places.size()),
        pressed += place.indentation_um / static_cast<double>(check.places.size());
  }
  return {{"touch.limits",
           {{"readings", count(check.places.size())},
            {"low", signed_um(check.low_um, 1)},
            {"high", signed_um(check.high_um, 1)},
            {"u95", um(kCoverage95 * check.u_limit_um, 1)}}},
          {"touch.allowed_for", {{"peaks", um(peaks, 1)}, {"pressed", um(pressed, 1)}}},
          {"touch.tests", {{"p_thickness", number(check.p_thickness, 2)}, {"p_slope", number(check.p_slope, 2)}}}};
}

Rig with_light(Rig rig, const TouchCheck& check) {
  rig.light = check.found;
  rig.priors.penetration_um = std::sqrt(check.found.covariance_um2(0, 0));
  rig.obtained["penetration_um"] = fmt::format("{} touch readings, {}", check.places.size(), today());
  return rig;
}

}  // namespace

StepOutcome touch_step(const std::filesystem::path& list, std::optional<LengthUnit> unit, Rig rig,
                       const Progress& progress) {
  const TouchList touches = read_touch_list(list);
  rig.light.reset();
  if (progress) progress({"stage_calib.reading_scan"}, 0.1);
  Cloud cloud = load_one(touches.scan, unit, rig, progress);
  (void)correct_by_rig(cloud, rig);
  if (progress) progress({"stage_calib.comparing"}, 0.6);
  TouchCheck check;
  try {
    check = checked(std::move(cloud), rig, touches);
  } catch (const UsageError& error) {
    throw InputError(in_file(list, error));
  } catch (const NotMeasurable& error) {
    throw NotMeasurable(in_file(touches.scan, error));
  }
  try {
    hold_touch_against_rig(check.found, rig, list.filename().string());
  } catch (const InputError& error) {
    throw InputError(in_file(list, error));
  }
  StepOutcome outcome;
  outcome.sentence = check.verdict;
  outcome.details = details_of(check);
  outcome.pictures.push_back({"touch.png", [check](const Speech& speech) { return touch_png(check, speech); }});
  outcome.rig = with_light(std::move(rig), check);
  outcome.next = {Message{"touch.next"}};
  return outcome;
}

}  // namespace canewise
