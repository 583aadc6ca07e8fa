#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>
#include <utility>

#include "calib/gauge_study.h"
#include "calib/pictures.h"
#include "calib/reed_figures.h"
#include "calib/step_scans.h"
#include "calib/steps.h"
#include "scanproc/bytes/settings.h"
#include "scanproc/core/error.h"
#include "scanproc/words/decimals.h"

namespace canewise {
namespace {

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

struct StudyList {
  std::filesystem::path file;
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
  study.file = list;
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
    const std::filesystem::path path = beside(list, needed("result"));
    study.scans.push_back({needed("reed"), needed("person"), path});
    table.refuse_unknown();
  }
  settings.refuse_unknown();
  return study;
}

/// What the list's scans show: names in the list's order, values by reed and person, and all in a row.
struct StudyValues {
  std::vector<std::string> reeds, people;
  std::map<std::pair<std::size_t, std::size_t>, std::vector<double>> cells;
  std::vector<double> all;
};

std::vector<std::string> names_in(const StudyList& list, std::string StudyList::Scan::*name) {
  std::vector<std::string> names;
  for (const auto& scan : list.scans) {
    if (std::find(names.begin(), names.end(), scan.*name) == names.end()) names.push_back(scan.*name);
  }
  return names;
}

std::size_t place_in(const std::vector<std::string>& names, const std::string& name) {
  return static_cast<std::size_t>(std::find(names.begin(), names.end(), name) - names.begin());
}

double value_of(const StudyList& list, const StudyList::Scan& scan, const Result& result) {
  const double value = list.quantity->value_um(result);
  if (std::isnan(value)) {
    throw InputError(
        {"study.not_shown", {{"file", text(scan.path.string())}, {"quantity", word(list.quantity->name)}}});
  }
  return value;
}

StudyValues values_of(const StudyList& list, const Rig& rig, const Progress& progress) {
  StudyValues values{names_in(list, &StudyList::Scan::reed), names_in(list, &StudyList::Scan::person), {}, {}};
  std::optional<MoistureState> state;
  for (std::size_t i = 0; i < list.scans.size(); ++i) {
    const auto& scan = list.scans[i];
    const Result result = result_of(scan.path, rig, [&](const Message& stage, double fraction) {
      if (progress) {
        progress(stage_of_scan(i + 1, list.scans.size(), stage),
                 (static_cast<double>(i) + fraction) / static_cast<double>(list.scans.size()));
      }
    });
    if (state && result.state != *state) {
      const Message states{"reversal.states"};
      throw InputError({"in_file", {{"file", text(list.file.string())}, {"what", part(states)}}});
    }
    state = result.state;
    const double value = value_of(list, scan, result);
    values.all.push_back(value);
    values.cells[{place_in(values.reeds, scan.reed), place_in(values.people, scan.person)}].push_back(value);
  }
  return values;
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
  const TypeOnePicture picture{.verdict = outcome.sentence,
                               .values_um = values,
                               .study = study,
                               .reference_um = list.reference_um,
                               .tolerance_width_um = tolerance_um};
  outcome.pictures.push_back({"study.png", [picture](const Speech& speech) { return type_one_png(picture, speech); }});
  outcome.changes_rig = false;
  outcome.rig = std::move(rig);
  outcome.next = {Message{"study.next_all"}};
  return outcome;
}

/// Values by reed, person and trial. Every reed must have been scanned as often by everybody.
StudyPicture crossed(const StudyList& list, const StudyValues& values) {
  StudyPicture picture;
  picture.quantity = {"study.axis", {{"quantity", word(list.quantity->name)}}};
  picture.reeds = values.reeds, picture.people = values.people;
  const std::size_t trials = values.cells.begin()->second.size();
  for (std::size_t r = 0; r < values.reeds.size(); ++r) {
    for (std::size_t a = 0; a < values.people.size(); ++a) {
      const auto found = values.cells.find({r, a});
      const std::size_t scanned = found == values.cells.end() ? 0 : found->second.size();
      if (scanned != trials || scanned < 2) {
        throw InputError({"study.unequal",
                          {{"file", text(list.file.string())},
                           {"reed", text(values.reeds[r])},
                           {"scans", count(scanned)},
                           {"person", text(values.people[a])},
                           {"trials", count(trials)}}});
      }
      picture.values_um.insert(picture.values_um.end(), found->second.begin(), found->second.end());
    }
  }
  picture.study = study_gauge(picture.values_um, values.reeds.size(), values.people.size(), trials);
  return picture;
}

Message verdict_of(const GaugeStudy& s, const Quantity& quantity) {
  constexpr int enough = 5;
  const double share = 100.0 * s.grr / std::max(1e-9, s.tv);
  return {"study.verdict",
          {{"answer", word(s.ndc >= enough ? "yes"
                           : s.ndc >= 2    ? "roughly"
                                           : "no")},
           {"quantity", word(quantity.name)},
           {"groups", count(static_cast<std::size_t>(s.ndc))},
           {"share", number(share)}}};
}

Messages details_of(const GaugeStudy& s) {
  Messages details{
      {"study.parts",
       {{"ev", um(s.ev, 1)},
        {"av", um(s.av, 1)},
        {"grr", um(s.grr, 1)},
        {"low", um(s.grr_low, 1)},
        {"high", um(s.grr_high, 1)},
        {"pv", um(s.pv, 1)}}},
      {"study.interaction", {{"pooled", word(s.pooled ? "yes" : "no")}, {"p", number(s.p_interaction, 2)}}},
      {"study.groups", {{"groups", number(s.ndc_unrounded, 2)}}}};
  if (s.av > s.ev) details.push_back({"study.people_differ"});
  return details;
}

}  // namespace

StepOutcome study_step(const std::filesystem::path& path, Rig rig, const Progress& progress) {
  const StudyList list = read_study(path);
  if (list.scans.empty()) throw InputError({"study.empty_list", {{"file", text(path.string())}}});
  const StudyValues values = values_of(list, rig, progress);
  const std::size_t reeds = values.reeds.size(), people = values.people.size();
  try {
    if (reeds == 1 && people == 1) return type_one(list, values.all, std::move(rig));
  } catch (const InputError& error) {
    throw InputError(in_file(path, error));
  }
  if (reeds < 2 || people < 2) {
    throw InputError(
        {"study.no_study", {{"file", text(path.string())}, {"reeds", count(reeds)}, {"people", count(people)}}});
  }
  StudyPicture picture = crossed(list, values);
  StepOutcome outcome;
  outcome.sentence = {verdict_of(picture.study, *list.quantity)};
  outcome.details = details_of(picture.study);
  picture.verdict = outcome.sentence;
  outcome.pictures.push_back({"study.png", [picture](const Speech& speech) { return study_png(picture, speech); }});
  outcome.changes_rig = false;
  outcome.rig = std::move(rig);
  outcome.next = {Message{"study.next"}};
  return outcome;
}

}  // namespace canewise
