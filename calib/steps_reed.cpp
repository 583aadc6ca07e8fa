#include <cmath>
#include <utility>

#include "calib/check_chart.h"
#include "calib/pictures.h"
#include "calib/reed_figures.h"
#include "calib/reversal.h"
#include "calib/rig_budget.h"
#include "calib/step_scans.h"
#include "calib/steps.h"
#include "scanproc/assess/budget_table.h"
#include "scanproc/core/budget.h"
#include "scanproc/core/error.h"
#include "scanproc/core/units.h"
#include "scanproc/core/utc.h"

namespace canewise {
namespace {

/// From where to where a part of the work takes a step's progress.
struct ShareOfWork {
  double from = 0.0, share = 1.0;
};

std::vector<Result> results_of(const Paths& paths, const Rig& rig, const Progress& progress, const ShareOfWork& work) {
  std::vector<Result> results;
  for (std::size_t i = 0; i < paths.size(); ++i) {
    const auto n = static_cast<double>(paths.size());
    if (progress) {
      progress({"stage_calib.measuring", {{"scan", count(i + 1)}, {"scans", count(paths.size())}}},
               work.from + work.share * static_cast<double>(i) / n);
    }
    results.push_back(result_of(paths[i], rig, [&](const Message& stage, double fraction) {
      if (progress) {
        progress(stage_of_scan(i + 1, paths.size(), stage),
                 work.from + work.share * (static_cast<double>(i) + fraction) / n);
      }
    }));
  }
  return results;
}

CheckRecord record_of(const Result& piece, const std::filesystem::path& path, const std::vector<CheckRecord>& before) {
  CheckRecord record{now_utc(), heart_um(piece), rails_um(piece)};
  if (std::isnan(record.heart_um) || std::isnan(record.rails_um))
    throw NotMeasurable({"check.not_shown", {{"file", text(path.string())}}});
  constexpr double far_um = 300.0;
  if (!before.empty() && std::abs(record.heart_um - before.front().heart_um) > far_um) {
    throw InputError(
        {"check.another_piece",
         {{"file", text(path.string())}, {"heart", um(record.heart_um)}, {"piece", um(before.front().heart_um)}}});
  }
  return record;
}

/// All checks so far of what is followed.
struct Charts {
  std::vector<double> hearts_um, rails_um;
  CheckChart heart, rails;
};

Charts charts_of(const std::vector<CheckRecord>& checks) {
  Charts charts;
  for (const auto& check : checks)
    charts.hearts_um.push_back(check.heart_um), charts.rails_um.push_back(check.rails_um);
  charts.heart = chart_of(charts.hearts_um);
  charts.rails = chart_of(charts.rails_um);
  return charts;
}

Message verdict_of(const CheckRecord& newest, const Charts& charts) {
  const CheckChart &heart = charts.heart, &rails = charts.rails;
  const std::size_t checks = charts.hearts_um.size();
  if (checks < kFewestChecks) return {"check.too_few", {{"checks", count(checks)}, {"fewest", count(kFewestChecks)}}};
  if (heart.out.back() || rails.out.back()) {
    return {"check.drifted",
            {{"heart", um(newest.heart_um, 1)},
             {"heart_usual", um(heart.mean_um, 1)},
             {"heart_low", um(heart.low_um, 1)},
             {"heart_high", um(heart.high_um, 1)},
             {"rails", um(newest.rails_um, 1)},
             {"rails_usual", um(rails.mean_um, 1)},
             {"rails_low", um(rails.low_um, 1)},
             {"rails_high", um(rails.high_um, 1)}}};
  }
  return {"check.as_ever",
          {{"heart", um(newest.heart_um, 1)},
           {"heart_usual", um(heart.mean_um, 1)},
           {"rails", um(newest.rails_um, 1)},
           {"rails_usual", um(rails.mean_um, 1)}}};
}

/// Whether a reed's own change explains what differs between two of its scans.
Messages change_words(const Result& before, const Result& after, const Charts& charts) {
  if (before.state != after.state) {
    throw UsageError(
        {"check.states", {{"before", word(name_of(before.state))}, {"after", word(name_of(after.state))}}});
  }
  const auto u_um = [&](const ZoneMean& one, const ZoneMean& other) {
    return um_from_mm(u_of_change_mm(one, before.map.common, other, after.map.common));
  };
  const double u_rails = u_um(rails_mean(before), rails_mean(after)),
               u_heart = u_um(heart_mean(before), heart_mean(after));
  const DriftVerdict heart = judge_drift(heart_um(after) - heart_um(before), u_heart, charts.hearts_um),
                     rails = judge_drift(rails_um(after) - rails_um(before), u_rails, charts.rails_um);
  return {{"check.at_heart", {{"verdict", heart.sentence}}}, {"check.at_rails", {{"verdict", rails.sentence}}}};
}

}  // namespace

StepOutcome reversal_step(const Paths& straight, const Paths& turned, Rig rig, const Progress& progress) {
  const double n = static_cast<double>(straight.size() + turned.size());
  const double share = 0.9 * static_cast<double>(straight.size()) / std::max(1.0, n);
  const auto a = results_of(straight, rig, progress, {0.0, share});
  const auto b = results_of(turned, rig, progress, {share, 0.9 - share});
  const Reversal reversal = evaluate_reversal(a, b);
  StepOutcome outcome;
  outcome.sentence = reversal.verdict;
  outcome.details.push_back({"reversal.seatings",
                             {{"freedom", number(reversal.degrees_of_freedom)},
                              {"height", um(reversal.seating_height_um, 1)},
                              {"pitch", um(reversal.seating_pitch_um, 1)},
                              {"roll", um(reversal.seating_roll_um, 1)}}});
  for (const auto& zone : reversal.zones) {
    if (zone.across == AcrossBand::rail) {
      outcome.details.push_back({"reversal.rails",
                                 {{"along", word(name_of(zone.along))},
                                  {"reed", signed_um(zone.reed_um, 1)},
                                  {"u_reed", um(kCoverage95 * zone.u_reed_um, 1)},
                                  {"rig", signed_um(zone.rig_um, 1)},
                                  {"u_rig", um(kCoverage95 * zone.u_rig_um, 1)}}});
    }
  }
  outcome.pictures.push_back(
      {"reversal.png", [reversal](const Speech& speech) { return reversal_png(reversal, speech); }});
  apply_reversal(rig, reversal, today());
  outcome.rig = std::move(rig);
  outcome.next = {Message{"reversal.next"}};
  return outcome;
}

StepOutcome check_step(const CheckInputs& inputs, Rig rig, const Progress& progress) {
  if (inputs.before.has_value() != inputs.after.has_value()) throw UsageError({"check.needs_both"});
  const Result piece = result_of(inputs.piece, rig, progress);
  rig.checks.push_back(record_of(piece, inputs.piece, rig.checks));
  const Charts charts = charts_of(rig.checks);
  StepOutcome outcome;
  outcome.sentence = {verdict_of(rig.checks.back(), charts)};
  if (inputs.before) {
    const Result before = result_of(*inputs.before, rig, progress), after = result_of(*inputs.after, rig, progress);
    outcome.details = change_words(before, after, charts);
  }
  outcome.pictures.push_back({"check.png", [charts, verdict = outcome.sentence](const Speech& speech) {
                                return check_png(charts.heart, charts.rails, verdict, speech);
                              }});
  outcome.rig = std::move(rig);
  outcome.next = {Message{"check.next"}};
  return outcome;
}

StepOutcome budget_step(const std::filesystem::path& scan, std::optional<LengthUnit> unit, Rig rig,
                        const Progress& progress) {
  const Result result = measure_one(scan, unit, rig, progress);
  const RigBudget budget = rig_budget(result);
  StepOutcome outcome;
  outcome.sentence = budget.sentence;
  outcome.details.push_back({"rig_budget.shares"});
  for (const auto& line : budget.lines) {
    Message how = line.obtained;
    if (!line.value.empty()) how = {"rig_budget.and_also", {{"one", part(line.value)}, {"other", part(line.obtained)}}};
    outcome.details.push_back({"rig_budget.share",
                               {{"tip", number(100 * line.tip_share)},
                                {"rails", number(100 * line.rails_share)},
                                {"heart", number(100 * line.heart_share)},
                                {"name", part(line.name)},
                                {"how", part(std::move(how))}}});
  }
  for (const auto& advice : budget.advice) outcome.details.push_back(advice);
  outcome.pictures.push_back(
      {"budget.png", [budget, name = rig.name](const Speech& speech) { return budget_png(budget, name, speech); }});
  rig.smallest = budget.smallest;
  outcome.rig = std::move(rig);
  outcome.next = {Message{"rig_budget.next"}};
  return outcome;
}

}  // namespace canewise
