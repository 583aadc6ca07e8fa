#include <fmt/format.h>

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

namespace canewise {
namespace {

std::string today() { return now_utc().substr(0, 10); }

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
    throw NotMeasurable(path.string() + ": " + refused.what());
  }
}

std::vector<Result> results_of(const Paths& paths, const Rig& rig, const Progress& progress, double from,
                               double share) {
  std::vector<Result> results;
  for (std::size_t i = 0; i < paths.size(); ++i) {
    const auto n = static_cast<double>(paths.size());
    if (progress)
      progress(fmt::format("measuring scan {} of {}", i + 1, paths.size()), from + share * static_cast<double>(i) / n);
    results.push_back(result_of(paths[i], std::nullopt, rig, [&](std::string_view stage, double fraction) {
      if (progress) {
        progress(fmt::format("scan {} of {}, {}", i + 1, paths.size(), stage),
                 from + share * (static_cast<double>(i) + fraction) / n);
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
  const char* name;
  const char* words;
  double (*value_um)(const Result&);
  double tolerance_width_um;
};
constexpr std::array kQuantities{
    Quantity{"rails", "rails of the middle, right minus left", rails_um, 30.0},
    Quantity{"tip", "rails at the tip, right minus left", tip_um, 16.0},
    Quantity{"heart", "thickness of the heart", heart_um, 100.0},
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
    if (found == kQuantities.end()) settings.fail("quantity", "must be 'rails', 'tip' or 'heart'.");
    study.quantity = &*found;
  }
  study.tolerance_width_um = study.quantity->tolerance_width_um;
  settings.number_into(study.reference_um, "reference_um", -1e5, 1e5);
  settings.number_into(study.tolerance_width_um, "tolerance_um", 0.1, 1e5);
  for (Settings& table : settings.tables("scan")) {
    const auto needed = [&](const char* key) {
      const auto text = table.text(key);
      if (!text || text->empty())
        table.fail(key, "is missing. Each [[scan]] needs reed, person (who, or which day) and result.");
      return *text;
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
  if (values.size() < fewest) {
    throw InputError(
        fmt::format("{} scans of one reed by one person are too few; make {} or more, 25 to 50 are usual, or let two "
                    "people scan several reeds twice each.",
                    values.size(), fewest));
  }
  const TypeOne study = study_one(values, list.reference_um, list.tolerance_width_um);
  StepOutcome outcome;
  constexpr double capable = 1.33;
  const bool with_reference = !std::isnan(study.bias);
  const double index = with_reference ? std::min(study.cg, study.cgk) : study.cg;
  outcome.sentence = fmt::format(
      "Scanned {} times, one reed's {} scatters by {:.1f} µm: the rig {} for a tolerance of {:g} µm (Cg {:.2f}{}; 1.33 "
      "is asked).",
      study.count, list.quantity->words, study.sd, index >= capable ? "is fine enough" : "is too coarse",
      list.tolerance_width_um, study.cg, with_reference ? fmt::format(", Cgk {:.2f}", study.cgk) : std::string());
  if (with_reference) {
    outcome.details.push_back(fmt::format("off its reference by {:+.1f} µm, {} (p = {:.3f})", study.bias,
                                          study.p_bias < 0.05 ? "more than chance" : "no more than chance",
                                          study.p_bias));
  }
  outcome.pictures.push_back(
      {"study.png", type_one_png(values, study, list.reference_um, list.tolerance_width_um, outcome.sentence)});
  outcome.changes_rig = false;
  outcome.rig = std::move(rig);
  outcome.next =
      "next: let two people, or two days, scan five or more reeds twice each, and run the study with all of them.";
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
  outcome.details.push_back(fmt::format(
      "from seating to seating (one standard deviation, {:.0f} degrees of freedom): height {:.1f} µm, "
      "pitch at the tip {:.1f} µm, roll at the edge {:.1f} µm",
      reversal.degrees_of_freedom, reversal.seating_height_um, reversal.seating_pitch_um, reversal.seating_roll_um));
  for (const auto& zone : reversal.zones) {
    if (zone.name.starts_with("rail")) {
      outcome.details.push_back(fmt::format("{}: reed {:+.1f} ±{:.1f} µm, rig {:+.1f} ±{:.1f} µm (95 %)", zone.name,
                                            zone.reed_um, kCoverage95 * zone.u_reed_um, zone.rig_um,
                                            kCoverage95 * zone.u_rig_um));
    }
  }
  outcome.pictures.push_back({"reversal.png", reversal_png(reversal)});
  apply_reversal(rig, reversal, today());
  outcome.rig = std::move(rig);
  outcome.next =
      "next: check the rig against touch on a scrap reed ('canewise calibrate touch FILE'), or see what it can tell "
      "now: "
      "'canewise calibrate budget SCAN'.";
  return outcome;
}

StepOutcome study_step(const std::filesystem::path& path, Rig rig, const Progress& progress) {
  const StudyList list = read_study(path);
  if (list.scans.empty())
    throw InputError(path.string() + ": lists no scan. Write a table [[scan]] with reed, person and result for each.");
  std::vector<std::string> reeds, people;
  std::map<std::pair<std::size_t, std::size_t>, std::vector<double>> cells;
  std::vector<double> all;
  std::string state;
  for (std::size_t i = 0; i < list.scans.size(); ++i) {
    const auto& scan = list.scans[i];
    const Result result = result_of(scan.path, std::nullopt, rig, [&](std::string_view stage, double fraction) {
      if (progress) {
        progress(fmt::format("scan {} of {}, {}", i + 1, list.scans.size(), stage),
                 (static_cast<double>(i) + fraction) / static_cast<double>(list.scans.size()));
      }
    });
    const std::string its_state(name_of(result.state));
    if (!state.empty() && its_state != state) {
      throw InputError(path.string() +
                       ": some of the scans were made dry and some wet. Cane swells: make all in one state.");
    }
    state = its_state;
    const double value = list.quantity->value_um(result);
    if (std::isnan(value)) throw InputError(scan.path.string() + ": does not show the " + list.quantity->words + ".");
    all.push_back(value);
    cells[{place_in(reeds, scan.reed), place_in(people, scan.person)}].push_back(value);
  }
  try {
    if (reeds.size() == 1 && people.size() == 1) return type_one(list, all, std::move(rig));
  } catch (const InputError& error) {
    throw InputError(path.string() + ": " + error.what());
  }
  if (reeds.size() < 2 || people.size() < 2) {
    throw InputError(fmt::format(
        "{}: {} and {} are no study: it takes two or more reeds, each scanned twice or more by two or more people "
        "(or on as many days), better ten, three and three.",
        path.string(), reeds.size() == 1 ? "one reed" : fmt::format("{} reeds", reeds.size()),
        people.size() == 1 ? "one person" : fmt::format("{} people", people.size())));
  }
  StudyPicture picture{list.quantity->words, "", reeds, people, {}, {}};
  const std::size_t trials = cells.begin()->second.size();
  for (std::size_t r = 0; r < reeds.size(); ++r) {
    for (std::size_t a = 0; a < people.size(); ++a) {
      const auto found = cells.find({r, a});
      const std::size_t count = found == cells.end() ? 0 : found->second.size();
      if (count != trials || count < 2) {
        throw InputError(fmt::format(
            "{}: reed '{}' was scanned {} times by '{}'. Every reed must be scanned equally often, twice or more, by "
            "everybody (here {} times).",
            path.string(), reeds[r], count, people[a], trials));
      }
      picture.values_um.insert(picture.values_um.end(), found->second.begin(), found->second.end());
    }
  }
  picture.study = study_gauge(picture.values_um, reeds.size(), people.size(), trials);
  const GaugeStudy& s = picture.study;
  constexpr int enough = 5;
  const double share = 100.0 * s.grr / std::max(1e-9, s.tv);
  StepOutcome outcome;
  outcome.sentence = s.ndc >= enough ? fmt::format(
                                           "Yes: this rig can sort these reeds by their {} into {} groups. Measuring "
                                           "makes {:.0f} % of the scatter.",
                                           list.quantity->words, s.ndc, share)
                     : s.ndc >= 2 ? fmt::format(
                                        "Roughly: this rig keeps {} groups of these reeds apart by their {}, and five "
                                        "are asked. Measuring makes {:.0f} % of the "
                                        "scatter.",
                                        s.ndc, list.quantity->words, share)
                                  : fmt::format(
                                        "No: this rig cannot sort these reeds by their {}. Measuring makes {:.0f} % of "
                                        "the scatter; the reeds hardly "
                                        "differ by more.",
                                        list.quantity->words, share);
  picture.verdict = outcome.sentence;
  outcome.details.push_back(
      fmt::format("the same measured again {:.1f} µm, another person or day {:.1f} µm, both {:.1f} µm (95 %: {:.1f} to "
                  "{:.1f}), reeds {:.1f} µm",
                  s.ev, s.av, s.grr, s.grr_low, s.grr_high, s.pv));
  outcome.details.push_back(
      s.pooled ? fmt::format("people treat all reeds alike (interaction p = {:.2f}, pooled)", s.p_interaction)
               : fmt::format("people differ by reed (interaction p = {:.2f}, kept)", s.p_interaction));
  outcome.details.push_back(fmt::format("groups that can be kept apart: {:.2f}", s.ndc_unrounded));
  if (s.av > s.ev)
    outcome.details.emplace_back("People or days differ more than repeats: agree on how to lay the reed down.");
  outcome.pictures.push_back({"study.png", study_png(picture)});
  outcome.changes_rig = false;
  outcome.rig = std::move(rig);
  outcome.next = "next: go on measuring; repeat the study when the rig, the room or the people change.";
  return outcome;
}

StepOutcome check_step(const CheckInputs& inputs, Rig rig, const Progress& progress) {
  if (inputs.before.has_value() != inputs.after.has_value())
    throw UsageError("a reed's change needs both --reed-before and --reed-after.");
  const Result piece = result_of(inputs.piece, std::nullopt, rig, progress);
  CheckRecord record{now_utc(), heart_um(piece), rails_um(piece)};
  if (std::isnan(record.heart_um) || std::isnan(record.rails_um))
    throw NotMeasurable(inputs.piece.string() + ": does not show heart and rails of the check piece.");
  constexpr double far_um = 300.0;
  if (!rig.checks.empty() && std::abs(record.heart_um - rig.checks.front().heart_um) > far_um) {
    throw InputError(
        fmt::format("{}: is {:.0f} µm thick at the heart, the check piece {:.0f} µm. This is another piece.",
                    inputs.piece.string(), record.heart_um, rig.checks.front().heart_um));
  }
  rig.checks.push_back(record);
  std::vector<double> hearts, rails;
  for (const auto& check : rig.checks) hearts.push_back(check.heart_um), rails.push_back(check.rails_um);
  const CheckChart heart_chart = chart_of(hearts), rails_chart = chart_of(rails);
  StepOutcome outcome;
  const bool out = heart_chart.out.back() || rails_chart.out.back();
  if (rig.checks.size() < kFewestChecks) {
    outcome.sentence = fmt::format("Check {} of at least {}: not enough yet to tell a drift of the rig.",
                                   rig.checks.size(), kFewestChecks);
  } else if (out) {
    outcome.sentence = fmt::format(
        "The rig has drifted: the check piece reads {:.1f} µm at the heart (usually {:.1f}, limits {:.1f} to {:.1f}) "
        "and {:.1f} µm "
        "between the rails (usually {:.1f}, limits {:.1f} to {:.1f}). Judge no reed by it before you know why.",
        record.heart_um, heart_chart.mean_um, heart_chart.low_um, heart_chart.high_um, record.rails_um,
        rails_chart.mean_um, rails_chart.low_um, rails_chart.high_um);
  } else {
    outcome.sentence = fmt::format(
        "The rig reads the check piece as ever: {:.1f} µm at the heart, usually {:.1f}; {:.1f} µm between the rails, "
        "usually {:.1f}.",
        record.heart_um, heart_chart.mean_um, record.rails_um, rails_chart.mean_um);
  }
  if (inputs.before) {
    const Result before = result_of(*inputs.before, std::nullopt, rig, progress),
                 after = result_of(*inputs.after, std::nullopt, rig, progress);
    if (before.state != after.state) {
      throw UsageError("the reed was scanned " + std::string(name_of(before.state)) + " before and " +
                       std::string(name_of(after.state)) + " after: cane swells, so only like is compared with like.");
    }
    const auto& a = pair_of(before, AlongBand::middle, AcrossBand::rail).difference;
    const auto& b = pair_of(after, AlongBand::middle, AcrossBand::rail).difference;
    const double u_rails = um_from_mm(u_of_change_mm(a, before.map.common, b, after.map.common));
    const double u_heart =
        um_from_mm(u_of_change_mm(heart_of(before), before.map.common, heart_of(after), after.map.common));
    outcome.details.push_back("heart: " + judge_drift(heart_um(after) - heart_um(before), u_heart, hearts).sentence);
    outcome.details.push_back("rails: " + judge_drift(rails_um(after) - rails_um(before), u_rails, rails).sentence);
  }
  outcome.pictures.push_back({"check.png", check_png(heart_chart, rails_chart, outcome.sentence)});
  outcome.rig = std::move(rig);
  outcome.next = "next: scan the check piece in every session; keep it dry, flat and away from light.";
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
    throw NotMeasurable(scan.string() + ": " + error.what());
  }
  const RigBudget budget = rig_budget(result);
  StepOutcome outcome;
  outcome.sentence = budget.sentence;
  outcome.details.push_back(fmt::format("{:<44}{}", "share of the variance:", "  tip  rails  heart"));
  for (const auto& line : budget.lines) {
    outcome.details.push_back(fmt::format("{:<44}{:3.0f} %  {:3.0f} %  {:3.0f} %", line.name.substr(0, 43),
                                          100 * line.tip_share, 100 * line.rails_share, 100 * line.heart_share));
    outcome.details.push_back("    " + (line.value.empty() ? std::string() : line.value + "; ") + line.obtained);
  }
  for (const auto& advice : budget.advice) outcome.details.push_back(advice);
  outcome.pictures.push_back({"budget.png", budget_png(budget, rig.name)});
  rig.smallest = budget.smallest;
  outcome.rig = std::move(rig);
  outcome.next = "next: measure your reeds with this rig file: 'canewise measure SCAN --rig FILE'.";
  return outcome;
}

}  // namespace canewise
