#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>

#include "calib/check_chart.h"
#include "calib/gauge_study.h"
#include "calib/pictures.h"
#include "calib/reversal.h"
#include "calib/rig_budget.h"
#include "calib/steps.h"
#include "scanproc/assess/budget_table.h"
#include "scanproc/core/budget.h"
#include "scanproc/core/error.h"
#include "scanproc/core/units.h"
#include "scanproc/core/utc.h"
#include "scanproc/pipeline/pipeline.h"
#include "scanproc/pipeline/result_json.h"
#include "scanproc/scan/settings.h"
#include "scanproc/words/decimals.h"

namespace canewise {
namespace {

std::string today() { return now_utc().substr(0, 10); }

Message in_file(const std::filesystem::path& path, const Error& error) {
  return {"in_file", {{"file", text(path.string())}, {"what", part(error.message())}}};
}

/// Of one of several scans.
Message stage_of_scan(std::size_t scan, std::size_t scans, const Message& stage) {
  return {"stage_calib.scan_of", {{"scan", count(scan)}, {"scans", count(scans)}, {"stage", part(stage)}}};
}

/// A result folder or result.json as it is; anything else is a scan and is measured with the rig.
Result result_of(const std::filesystem::path& path, std::optional<LengthUnit> unit, const Rig& rig,
                 const Progress& progress) {
  std::error_code error;
  const bool is_result = path.extension() == ".json" || std::filesystem::exists(path / "result.json", error);
  if (is_result) return read_result(path);
  MeasureInputs inputs;
  inputs.scans = {path};
  inputs.rig = rig;
  MeasureOptions options;
  options.unit = unit;
  try {
    return measure(inputs, options, progress);
  } catch (const NotMeasurable& refused) {
    throw NotMeasurable(in_file(path, refused));
  }
}

std::vector<Result> results_of(const Paths& paths, const Rig& rig, const Progress& progress, double from,
                               double share) {
  std::vector<Result> results;
  for (std::size_t i = 0; i < paths.size(); ++i) {
    const auto n = static_cast<double>(paths.size());
    if (progress) {
      progress({"stage_calib.measuring", {{"scan", count(i + 1)}, {"scans", count(paths.size())}}},
               from + share * static_cast<double>(i) / n);
    }
    results.push_back(result_of(paths[i], std::nullopt, rig, [&](const Message& stage, double fraction) {
      if (progress) {
        progress(stage_of_scan(i + 1, paths.size(), stage), from + share * (static_cast<double>(i) + fraction) / n);
      }
    }));
  }
  return results;
}

const ZoneBalance& pair_of(const Result& result, AlongBand along, AcrossBand across) {
  return result.assessment.balance.zones.at(static_cast<std::size_t>(ZoneMap::label_of(along, across)));
}

double heart_um(const Result& result) { return um_from_mm(result.assessment.cut.heart_thickness_mm.value); }
/// Of one half of the heart; the whole is no less sure.
const ZoneMean& heart_of(const Result& result) {
  for (const auto& zone : result.assessment.zone_thickness) {
    if (zone.zone.along == AlongBand::middle && zone.zone.across == AcrossBand::centre) return zone.thickness;
  }
  throw std::logic_error("every zone was measured");
}
double rails_um(const Result& result) {
  return um_from_mm(pair_of(result, AlongBand::middle, AcrossBand::rail).difference.mean_mm);
}
double tip_um(const Result& result) {
  return um_from_mm(pair_of(result, AlongBand::tip, AcrossBand::rail).difference.mean_mm);
}

/// What a study can be about.
struct Quantity {
  const char* name;  ///< In the list, and in messages.
  double (*value_um)(const Result&);
  double tolerance_width_um;
};
constexpr std::array kQuantities{
    Quantity{"rails", rails_um, 30.0},
    Quantity{"tip", tip_um, 16.0},
    Quantity{"heart", heart_um, 100.0},
};

std::size_t place_in(std::vector<std::string>& names, const std::string& name) {
  const auto found = std::find(names.begin(), names.end(), name);
  if (found != names.end()) return static_cast<std::size_t>(found - names.begin());
  names.push_back(name);
  return names.size() - 1;
}

struct StudyList {
  const Quantity* quantity = &kQuantities[0];
  double reference_um = std::numeric_limits<double>::quiet_NaN();
  double tolerance_width_um = 0.0;
  struct Scan {
    std::string reed, person;
    std::filesystem::path path;
  };
  std::vector<Scan> scans;
};

StudyList read_study(const std::filesystem::path& list) {
  StudyList study;
  Settings settings = Settings::read(list);
  if (const auto name = settings.text("quantity")) {
    const auto found =
        std::find_if(kQuantities.begin(), kQuantities.end(), [&](const Quantity& q) { return *name == q.name; });
    if (found == kQuantities.end()) settings.fail("quantity", {"study.quantities"});
    study.quantity = &*found;
  }
  study.tolerance_width_um = study.quantity->tolerance_width_um;
  settings.number_into(study.reference_um, "reference_um", -1e5, 1e5);
  settings.number_into(study.tolerance_width_um, "tolerance_um", 0.1, 1e5);
  for (Settings& table : settings.tables("scan")) {
    const auto needed = [&](const char* key) {
      const auto said = table.text(key);
      if (!said || said->empty()) table.fail(key, {"study.scan_needs"});
      return *said;
    };
    const std::filesystem::path path(needed("result"));
    study.scans.push_back({needed("reed"), needed("person"), path.is_absolute() ? path : list.parent_path() / path});
    table.refuse_unknown();
  }
  settings.refuse_unknown();
  return study;
}

StepOutcome type_one(const StudyList& list, const std::vector<double>& values, Rig rig) {
  constexpr std::size_t fewest = 10;
  if (values.size() < fewest)
    throw InputError({"study.few_scans", {{"scans", count(values.size())}, {"fewest", count(fewest)}}});
  const TypeOne study = study_one(values, list.reference_um, list.tolerance_width_um);
  StepOutcome outcome;
  constexpr double capable = 1.33;
  const bool with_reference = !std::isnan(study.bias);
  const double index = with_reference ? std::min(study.cg, study.cgk) : study.cg;
  const double tolerance_um = list.tolerance_width_um;
  outcome.sentence = {Message{"study.one_reed",
                              {{"scans", count(study.count)},
                               {"quantity", word(list.quantity->name)},
                               {"sd", um(study.sd, 1)},
                               {"fine", word(index >= capable ? "yes" : "no")},
                               {"tolerance", um(tolerance_um, decimals_of(tolerance_um))},
                               {"cg", number(study.cg, 2)},
                               {"has_reference", word(with_reference ? "yes" : "no")},
                               {"cgk", number(study.cgk, 2)},
                               {"asked", number(capable, 2)}}}};
  if (with_reference) {
    outcome.details.push_back({"study.off_reference",
                               {{"off", signed_um(study.bias, 1)},
                                {"by_chance", word(study.p_bias < 0.05 ? "no" : "yes")},
                                {"p", number(study.p_bias, 3)}}});
  }
  outcome.pictures.push_back({"study.png", [values, study, reference_um = list.reference_um, tolerance_um,
                                            verdict = outcome.sentence](const Speech& speech) {
                                return type_one_png(values, study, reference_um, tolerance_um, verdict, speech);
                              }});
  outcome.changes_rig = false;
  outcome.rig = std::move(rig);
  outcome.next = {Message{"study.next_all"}};
  return outcome;
}

}  // namespace

StepOutcome reversal_step(const Paths& straight, const Paths& turned, Rig rig, const Progress& progress) {
  const double n = static_cast<double>(straight.size() + turned.size());
  const double share = 0.9 * static_cast<double>(straight.size()) / std::max(1.0, n);
  const auto a = results_of(straight, rig, progress, 0.0, share);
  const auto b = results_of(turned, rig, progress, share, 0.9 - share);
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

StepOutcome study_step(const std::filesystem::path& path, Rig rig, const Progress& progress) {
  const StudyList list = read_study(path);
  if (list.scans.empty()) throw InputError({"study.empty_list", {{"file", text(path.string())}}});
  std::vector<std::string> reeds, people;
  std::map<std::pair<std::size_t, std::size_t>, std::vector<double>> cells;
  std::vector<double> all;
  std::optional<MoistureState> state;
  for (std::size_t i = 0; i < list.scans.size(); ++i) {
    const auto& scan = list.scans[i];
    const Result result = result_of(scan.path, std::nullopt, rig, [&](const Message& stage, double fraction) {
      if (progress) {
        progress(stage_of_scan(i + 1, list.scans.size(), stage),
                 (static_cast<double>(i) + fraction) / static_cast<double>(list.scans.size()));
      }
    });
    if (state && result.state != *state) {
      const Message states{"reversal.states"};
      throw InputError({"in_file", {{"file", text(path.string())}, {"what", part(states)}}});
    }
    state = result.state;
    const double value = list.quantity->value_um(result);
    if (std::isnan(value)) {
      throw InputError(
          {"study.not_shown", {{"file", text(scan.path.string())}, {"quantity", word(list.quantity->name)}}});
    }
    all.push_back(value);
    cells[{place_in(reeds, scan.reed), place_in(people, scan.person)}].push_back(value);
  }
  try {
    if (reeds.size() == 1 && people.size() == 1) return type_one(list, all, std::move(rig));
  } catch (const InputError& error) {
    throw InputError(in_file(path, error));
  }
  if (reeds.size() < 2 || people.size() < 2) {
    throw InputError(
        {"study.no_study",
         {{"file", text(path.string())}, {"reeds", count(reeds.size())}, {"people", count(people.size())}}});
  }
  StudyPicture picture;
  picture.quantity = {"study.axis", {{"quantity", word(list.quantity->name)}}};
  picture.reeds = reeds, picture.people = people;
  const std::size_t trials = cells.begin()->second.size();
  for (std::size_t r = 0; r < reeds.size(); ++r) {
    for (std::size_t a = 0; a < people.size(); ++a) {
      const auto found = cells.find({r, a});
      const std::size_t scanned = found == cells.end() ? 0 : found->second.size();
      if (scanned != trials || scanned < 2) {
        throw InputError({"study.unequal",
                          {{"file", text(path.string())},
                           {"reed", text(reeds[r])},
                           {"scans", count(scanned)},
                           {"person", text(people[a])},
                           {"trials", count(trials)}}});
      }
      picture.values_um.insert(picture.values_um.end(), found->second.begin(), found->second.end());
    }
  }
  picture.study = study_gauge(picture.values_um, reeds.size(), people.size(), trials);
  const GaugeStudy& s = picture.study;
  constexpr int enough = 5;
  const double share = 100.0 * s.grr / std::max(1e-9, s.tv);
  StepOutcome outcome;
  outcome.sentence = {Message{"study.verdict",
                              {{"answer", word(s.ndc >= enough ? "yes"
                                               : s.ndc >= 2    ? "roughly"
                                                               : "no")},
                               {"quantity", word(list.quantity->name)},
                               {"groups", count(static_cast<std::size_t>(s.ndc))},
                               {"share", number(share)}}}};
  picture.verdict = outcome.sentence;
  outcome.details.push_back({"study.parts",
                             {{"ev", um(s.ev, 1)},
                              {"av", um(s.av, 1)},
                              {"grr", um(s.grr, 1)},
                              {"low", um(s.grr_low, 1)},
                              {"high", um(s.grr_high, 1)},
                              {"pv", um(s.pv, 1)}}});
  outcome.details.push_back(
      {"study.interaction", {{"pooled", word(s.pooled ? "yes" : "no")}, {"p", number(s.p_interaction, 2)}}});
  outcome.details.push_back({"study.groups", {{"groups", number(s.ndc_unrounded, 2)}}});
  if (s.av > s.ev) outcome.details.push_back({"study.people_differ"});
  outcome.pictures.push_back({"study.png", [picture](const Speech& speech) { return study_png(picture, speech); }});
  outcome.changes_rig = false;
  outcome.rig = std::move(rig);
  outcome.next = {Message{"study.next"}};
  return outcome;
}

StepOutcome check_step(const CheckInputs& inputs, Rig rig, const Progress& progress) {
  if (inputs.before.has_value() != inputs.after.has_value()) throw UsageError({"check.needs_both"});
  const Result piece = result_of(inputs.piece, std::nullopt, rig, progress);
  CheckRecord record{now_utc(), heart_um(piece), rails_um(piece)};
  if (std::isnan(record.heart_um) || std::isnan(record.rails_um))
    throw NotMeasurable({"check.not_shown", {{"file", text(inputs.piece.string())}}});
  constexpr double far_um = 300.0;
  if (!rig.checks.empty() && std::abs(record.heart_um - rig.checks.front().heart_um) > far_um) {
    throw InputError({"check.another_piece",
                      {{"file", text(inputs.piece.string())},
                       {"heart", um(record.heart_um)},
                       {"piece", um(rig.checks.front().heart_um)}}});
  }
  rig.checks.push_back(record);
  std::vector<double> hearts, rails;
  for (const auto& check : rig.checks) hearts.push_back(check.heart_um), rails.push_back(check.rails_um);
  const CheckChart heart_chart = chart_of(hearts), rails_chart = chart_of(rails);
  StepOutcome outcome;
  const bool out = heart_chart.out.back() || rails_chart.out.back();
  if (rig.checks.size() < kFewestChecks) {
    outcome.sentence = {
        Message{"check.too_few", {{"checks", count(rig.checks.size())}, {"fewest", count(kFewestChecks)}}}};
  } else if (out) {
    outcome.sentence = {Message{"check.drifted",
                                {{"heart", um(record.heart_um, 1)},
                                 {"heart_usual", um(heart_chart.mean_um, 1)},
                                 {"heart_low", um(heart_chart.low_um, 1)},
                                 {"heart_high", um(heart_chart.high_um, 1)},
                                 {"rails", um(record.rails_um, 1)},
                                 {"rails_usual", um(rails_chart.mean_um, 1)},
                                 {"rails_low", um(rails_chart.low_um, 1)},
                                 {"rails_high", um(rails_chart.high_um, 1)}}}};
  } else {
    outcome.sentence = {Message{"check.as_ever",
                                {{"heart", um(record.heart_um, 1)},
                                 {"heart_usual", um(heart_chart.mean_um, 1)},
                                 {"rails", um(record.rails_um, 1)},
                                 {"rails_usual", um(rails_chart.mean_um, 1)}}}};
  }
  if (inputs.before) {
    const Result before = result_of(*inputs.before, std::nullopt, rig, progress),
                 after = result_of(*inputs.after, std::nullopt, rig, progress);
    if (before.state != after.state) {
      throw UsageError(
          {"check.states", {{"before", word(name_of(before.state))}, {"after", word(name_of(after.state))}}});
    }
    const auto& a = pair_of(before, AlongBand::middle, AcrossBand::rail).difference;
    const auto& b = pair_of(after, AlongBand::middle, AcrossBand::rail).difference;
    const double u_rails = um_from_mm(u_of_change_mm(a, before.map.common, b, after.map.common));
    const double u_heart =
        um_from_mm(u_of_change_mm(heart_of(before), before.map.common, heart_of(after), after.map.common));
    outcome.details.push_back(
        {"check.at_heart", {{"verdict", judge_drift(heart_um(after) - heart_um(before), u_heart, hearts).sentence}}});
    outcome.details.push_back(
        {"check.at_rails", {{"verdict", judge_drift(rails_um(after) - rails_um(before), u_rails, rails).sentence}}});
  }
  outcome.pictures.push_back(
      {"check.png", [heart_chart, rails_chart, verdict = outcome.sentence](const Speech& speech) {
         return check_png(heart_chart, rails_chart, verdict, speech);
       }});
  outcome.rig = std::move(rig);
  outcome.next = {Message{"check.next"}};
  return outcome;
}

StepOutcome budget_step(const std::filesystem::path& scan, std::optional<LengthUnit> unit, Rig rig,
                        const Progress& progress) {
  MeasureInputs inputs;
  inputs.scans = {scan};
  inputs.rig = rig;
  MeasureOptions options;
  options.unit = unit;
  Result result;
  try {
    result = measure(inputs, options, progress);
  } catch (const NotMeasurable& error) {
    throw NotMeasurable(in_file(scan, error));
  }
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
