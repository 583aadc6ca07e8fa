#include <fmt/format.h>

#include <cmath>
#include <utility>

#include "calib/pictures.h"
#include "calib/rig_consistency.h"
#include "calib/step_gauge.h"
#include "calib/step_scans.h"
#include "calib/steps.h"
#include "scanproc/bytes/settings.h"
#include "scanproc/core/budget.h"
#include "scanproc/core/error.h"
#include "scanproc/datum/rig_correction.h"
#include "scanproc/words/decimals.h"

namespace canewise {
namespace {

Argument stated_um(double value) { return um(value, decimals_of(value)); }
Argument stated_mm(double value) { return mm(value, decimals_of(value)); }

/// What the scans of a list are read with.
struct Reading {
  const std::filesystem::path& list;
  std::optional<LengthUnit> unit;
  const Rig& uncorrected;
  const Progress& progress;
};

GaugeStep measured_strip(Settings& table, const Reading& reading) {
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
    const auto path = beside(reading.list, names[i]);
    const Progress of_strip =
        within(reading.progress,
               {"stage_calib.strip",
                {{"strip", stated_um(step.nominal_um)}, {"scan", count(i + 1)}, {"scans", count(names.size())}}},
               0.1, 0.8);
    of_strip({"stage_calib.reading"}, 0.0);
    Cloud cloud = load_plain(path, reading.unit, reading.uncorrected, of_strip);
    (void)correct_by_rig(cloud, reading.uncorrected);
    step.scans.push_back(measure_gauge(cloud, step.nominal_um, reading.uncorrected, path.string()));
  }
  table.refuse_unknown();
  return step;
}

BallCheck measured_ball(Settings& table, const Reading& reading) {
  const auto diameter = table.number("diameter_mm", 1.0, 60.0);
  if (!diameter) table.fail("diameter_mm", {"step.missing"});
  double u = 2.0;
  table.number_into(u, "u_um", 0.0, 1000.0);
  const auto name = table.text("scan");
  if (!name) table.fail("scan", {"gauge.no_ball_scan"});
  const auto path = beside(reading.list, *name);
  const Cloud cloud =
      load_plain(path, reading.unit, reading.uncorrected, within(reading.progress, {"stage_calib.ball"}, 0.8, 0.1));
  const BallCheck ball = check_ball(cloud, *diameter, u, path.string());
  table.refuse_unknown();
  return ball;
}

GaugeCheck measured_gauges(const Reading& reading) {
  Settings settings = Settings::read(reading.list);
  std::vector<GaugeStep> steps;
  std::vector<BallCheck> balls;
  for (Settings& table : settings.tables("step")) steps.push_back(measured_strip(table, reading));
  for (Settings& table : settings.tables("ball")) balls.push_back(measured_ball(table, reading));
  settings.refuse_unknown();
  if (steps.empty()) throw InputError({"gauge.empty_list", {{"file", text(reading.list.string())}}});
  return evaluate_gauge(std::move(steps), std::move(balls));
}

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

Messages details_of(const GaugeCheck& check, bool scale_was_known) {
  Messages details;
  if (!std::isnan(check.repeatability_um))
    details.push_back({"gauge.repeats", {{"sd", um(check.repeatability_um, 1)}}});
  if (check.steps.size() > 1) {
    details.push_back(
        {"gauge.linear",
         {{"off", um(std::abs(check.linearity_um), 1)}, {"u95", um(kCoverage95 * check.u_linearity_um, 1)}}});
  }
  constexpr double much = 0.02;
  if (!scale_was_known && std::abs(check.scale - 1.0) > much) details.push_back({"gauge.much_off"});
  const GaugeScan& first = check.steps.front().scans.front();
  details.push_back(
      {"gauge.flatness", {{"points", um(first.flatness_um, 1)}, {"means", um(first.flatness_all_um, 1)}}});
  for (const auto& ball : check.balls) {
    details.push_back({"gauge.ball",
                       {{"diameter", stated_mm(ball.diameter_mm)},
                        {"off", signed_um(ball.size_error_um, 1)},
                        {"form", um(ball.form_25_um, 1)},
                        {"form_95", um(ball.form_95_um, 1)}}});
  }
  details.push_back({"gauge.standards"});
  return details;
}

Rig with_height_scale(Rig rig, const GaugeCheck& check) {
  rig.height_scale = check.correction;
  rig.scale_parts["step gauge"] = check.correction.u_rel;
  rig.scale_parts.try_emplace("temperature", 1e-4);
  rig.obtained["scale of step gauge"] = fmt::format("{} strips, {}", check.steps.size(), today());
  combine_scale(rig);
  return rig;
}

}  // namespace

StepOutcome gauge_step(const std::filesystem::path& list, std::optional<LengthUnit> unit, Rig rig,
                       const Progress& progress) {
  Rig uncorrected = rig;
  uncorrected.height_scale.reset();
  const GaugeCheck check = measured_gauges({list, unit, uncorrected, progress});
  try {
    hold_gauge_against_rig(check, rig, list.filename().string());
  } catch (const InputError& error) {
    throw InputError(in_file(list, error));
  }
  StepOutcome outcome;
  outcome.sentence = check.verdict;
  outcome.details = details_of(check, scale_claim(rig, "step gauge").has_value());
  outcome.pictures.push_back({"step.png", [check](const Speech& speech) { return step_png(check, speech); }});
  outcome.rig = with_height_scale(std::move(rig), check);
  outcome.next = {Message{"gauge.next"}};
  return outcome;
}

}  // namespace canewise
