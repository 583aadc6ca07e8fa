#include "calib/rig_budget.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "scanproc/assess/balance.h"
#include "scanproc/assess/budget_table.h"
#include "scanproc/assess/conformity.h"
#include "scanproc/core/budget.h"
#include "scanproc/core/error.h"
#include "scanproc/core/statistics.h"
#include "scanproc/core/units.h"

namespace canewise {
namespace {

/// How the values of a line are known.
struct How {
  Message words;
  bool assumed = false;
};

How how_known(const std::string* obtained) {
  if (obtained == nullptr) return {{"rig_budget.assumed"}, true};
  return {{"verbatim", {{"text", text(*obtained)}}}, obtained->find("assumed") != std::string::npos};
}

How how_scanned() { return {{"rig_budget.from_scan"}}; }

/// Of several priors, each way once.
How how_known(const Rig& rig, const std::vector<const char*>& priors) {
  How all;
  std::vector<Message> told;
  for (const char* name : priors) {
    const auto found = rig.obtained.find(name);
    How how = how_known(found == rig.obtained.end() ? nullptr : &found->second);
    if (std::find(told.begin(), told.end(), how.words) != told.end()) continue;
    told.push_back(how.words);
    all.words = told.size() == 1
                    ? how.words
                    : Message{"rig_budget.and_also", {{"one", part(all.words)}, {"other", part(how.words)}}};
    all.assumed = all.assumed || how.assumed;
  }
  return all;
}

/// A source with what the rig file says of it.
struct StatedSource {
  EffectSource source;
  std::vector<const char*> priors;
  Message value;
};

std::vector<StatedSource> stated_sources(const Rig& rig) {
  const Priors& p = rig.priors;
  return {
      {EffectSource::seating,
       {"seating_offset_um", "seating_roll_um", "seating_pitch_um"},
       {"rig_budget.seating",
        {{"offset", um(p.seating_offset_um, 1)},
         {"roll", um(p.seating_roll_um, 1)},
         {"pitch", um(p.seating_pitch_um, 1)}}}},
      {EffectSource::table_form,
       {"table_bow_um", "table_cup_um", "table_twist_um"},
       {"rig_budget.table",
        {{"bow", um(p.table_bow_um, 1)}, {"cup", um(p.table_cup_um, 1)}, {"twist", um(p.table_twist_um, 1)}}}},
      {EffectSource::tip_lift,
       {"tip_lift_um", "tip_curl_side_um"},
       {"rig_budget.tip", {{"lift", um(p.tip_lift_um, 1)}, {"curl", um(p.tip_curl_side_um, 1)}}}},
      {EffectSource::plate_form, {"plate_form_um"}, {"rig_budget.plate", {{"form", um(p.plate_form_um, 1)}}}},
      {EffectSource::pose_bending, {"pose_bending_um"}, {"rig_budget.pose", {{"bending", um(p.pose_bending_um, 1)}}}},
      {EffectSource::penetration,
       {"penetration_um"},
       rig.light ? Message{"rig_budget.light_corrected", {{"by", signed_um(rig.light->offset_um, 1)}}}
                 : Message{"rig_budget.light", {{"depth", um(p.penetration_um, 1)}}}},
  };
}

/// Parts of the scale by their names in the rig file; a name of a person's own stays as it is.
Message name_of_scale_part(const std::string& name) {
  const char* known = name == kGeometryPart     ? "geometry"
                      : name == "printed board" ? "board"
                      : name == "step gauge"    ? "gauge"
                      : name == "temperature"   ? "temperature"
                                                : "other";
  return {"rig_budget.scale_part", {{"part", word(known)}, {"name", text(name)}}};
}

Message percent(double relative) { return {"rig_budget.percent", {{"value", number(100.0 * relative, 3)}}}; }

const BudgetTable& table_of(const Result& result, const Message& quantity) {
  for (const auto& table : result.budgets) {
    if (table.quantity == quantity) return table;
  }
  throw UsageError({"rig_budget.no_table", {{"quantity", part(quantity)}}});
}

double line_of(const BudgetTable& table, const Message& name) {
  for (const auto& line : table.lines) {
    if (line.name == name) return line.in_output_unit();
  }
  return 0.0;
}

/// What would make it better; empty where nothing would.
Message advice_for(const BudgetLine& line) {
  if (!line.source) return line.name.id == "rig_budget.noise" ? Message{"rig_budget.noise_rules"} : Message{};
  const auto if_assumed = [&](MessageId id) { return line.assumed ? Message{id} : Message{}; };
  switch (*line.source) {
    case EffectSource::seating:
      return if_assumed("rig_budget.find_seating");
    case EffectSource::plate_form:
      return if_assumed("rig_budget.find_plate");
    case EffectSource::penetration:
      return if_assumed("rig_budget.find_light");
    case EffectSource::rig_scale:
      return if_assumed("rig_budget.find_scale");
    case EffectSource::frame:
      return {"rig_budget.frame_rules"};
    case EffectSource::table_form:
      return {"rig_budget.unseen_table"};
    case EffectSource::tip_lift:
      return {"rig_budget.unseen_tip"};
    default:
      return {};
  }
}

/// The measurement's budgets of the three quantities.
struct Tables {
  const BudgetTable &tip, &rails, &heart;
};

/// A line of the rig's budget, and which line of the tables it is, or a share of.
struct Component {
  Message of_tables;
  BudgetLine line;
  double share = 1.0;
};

Component component(const Message& name, std::optional<EffectSource> source, Message value, const How& how) {
  BudgetLine line;
  line.name = name, line.source = source, line.value = std::move(value);
  line.obtained = how.words, line.assumed = how.assumed;
  return {name, std::move(line)};
}

/// What the scan itself shows, whatever the rig: its noise, and where the vamp ends.
std::vector<Component> components_of_scan(const Result& result) {
  const Rig& rig = result.rig;
  const double scatter_um = um_from_mm(result.map.point_noise_mm);
  const Message scatter =
      rig.laser_plane ? Message{"rig_budget.scatter_and_centre",
                                {{"scatter", um(scatter_um)}, {"centre", number(rig.laser_plane->centre_noise_px, 2)}}}
                      : Message{"rig_budget.scatter", {{"scatter", um(scatter_um)}}};
  const How estimated{{"rig_budget.estimated"}};
  Component noise = component({"rig_budget.noise", {{"of_line", word(rig.laser_plane ? "yes" : "no")}}}, std::nullopt,
                              scatter, estimated);
  noise.of_tables = Message{"budget.noise"};
  return {std::move(noise), component({"budget.vamp_end"}, std::nullopt, {}, estimated)};
}

/// The scale by its parts, where the rig file names them.
std::vector<Component> components_of_scale(const Rig& rig) {
  const Message scale = message_of(EffectSource::rig_scale);
  if (rig.scale_parts.empty())
    return {component(scale, EffectSource::rig_scale, percent(rig.priors.scale_rel), how_known(rig, {"scale_rel"}))};
  std::vector<Component> parts;
  for (const auto& [name, value] : rig.scale_parts) {
    const auto how = rig.obtained.find("scale of " + name);
    parts.push_back(component(name_of_scale_part(name), EffectSource::rig_scale, percent(value),
                              how_known(how == rig.obtained.end() ? nullptr : &how->second)));
    parts.back().of_tables = scale;
    parts.back().share = rig.priors.scale_rel > 0 ? value / rig.priors.scale_rel : 0.0;
  }
  return parts;
}

std::vector<Component> components_of(const Result& result) {
  std::vector<Component> all = components_of_scan(result);
  for (const auto& [source, priors, value] : stated_sources(result.rig))
    all.push_back(component(message_of(source), source, value, how_known(result.rig, priors)));
  for (const EffectSource source :
       {EffectSource::plate_plane, EffectSource::registration, EffectSource::depth_steps, EffectSource::frame})
    all.push_back(component(message_of(source), source, {}, how_scanned()));
  for (Component& part_of_scale : components_of_scale(result.rig)) all.push_back(std::move(part_of_scale));
  return all;
}

/// Those that cause anything, the largest share at the rails first.
std::vector<BudgetLine> lines_of(const std::vector<Component>& components, const Tables& tables) {
  std::vector<BudgetLine> lines;
  for (const Component& component : components) {
    BudgetLine line = component.line;
    line.tip_um = component.share * line_of(tables.tip, component.of_tables);
    line.rails_um = component.share * line_of(tables.rails, component.of_tables);
    line.heart_um = component.share * line_of(tables.heart, component.of_tables);
    if (!(line.tip_um + line.rails_um + line.heart_um > 0.0)) continue;
    line.tip_share = square(line.tip_um / tables.tip.combined.standard_uncertainty);
    line.rails_share = square(line.rails_um / tables.rails.combined.standard_uncertainty);
    line.heart_share = square(line.heart_um / tables.heart.combined.standard_uncertainty);
    lines.push_back(std::move(line));
  }
  std::stable_sort(lines.begin(), lines.end(),
                   [](const BudgetLine& a, const BudgetLine& b) { return a.rails_share > b.rails_share; });
  return lines;
}

SmallestDifference smallest_of(const RigBudget& budget) {
  SmallestDifference smallest;
  smallest.tip_um = kVisible * budget.tip_um;
  smallest.rails_um = kVisible * budget.rails_um;
  smallest.tip_outside_um = budget.tip_tolerance_um + smallest.tip_um;
  smallest.rails_outside_um = budget.rails_tolerance_um + smallest.rails_um;
  return smallest;
}

Messages sentence_of(const RigBudget& budget) {
  const SmallestDifference& smallest = budget.smallest;
  Messages told{{"rig_budget.smallest",
                 {{"tip", um(smallest.tip_um)},
                  {"rails", um(smallest.rails_um)},
                  {"tip_outside", um(smallest.tip_outside_um)},
                  {"rails_outside", um(smallest.rails_outside_um)},
                  {"tip_tolerance", um(budget.tip_tolerance_um)},
                  {"rails_tolerance", um(budget.rails_tolerance_um)}}}};
  const bool cannot_rails = !can_prove_within(budget.rails_um, budget.rails_tolerance_um);
  if (cannot_rails || !can_prove_within(budget.tip_um, budget.tip_tolerance_um))
    told.push_back({"rig_budget.cannot_prove", {{"where", word(cannot_rails ? "rails" : "tip")}}});
  return told;
}

/// What is assumed and matters is worth finding out; what is known and matters is worth improving.
Messages advice_of(const std::vector<BudgetLine>& lines) {
  Messages all;
  for (const BudgetLine& line : lines) {
    constexpr double worth = 0.15;
    if (std::max(line.rails_share, line.tip_share) < worth) continue;
    if (Message advice = advice_for(line); !advice.empty()) all.push_back(std::move(advice));
  }
  return all;
}

}  // namespace

RigBudget rig_budget(const Result& result) {
  const Tables tables{table_of(result, {"quantity.rails_at_tip"}), table_of(result, {"quantity.rails_in_middle"}),
                      table_of(result, {"quantity.heart_thickness"})};
  RigBudget budget;
  budget.lines = lines_of(components_of(result), tables);
  budget.tip_um = tables.tip.combined.standard_uncertainty;
  budget.rails_um = tables.rails.combined.standard_uncertainty;
  budget.heart_um = tables.heart.combined.standard_uncertainty;
  budget.tip_tolerance_um = um_from_mm(tolerance_mm(result.assessment.balance, AlongBand::tip));
  budget.rails_tolerance_um = um_from_mm(tolerance_mm(result.assessment.balance, AlongBand::middle));
  budget.smallest = smallest_of(budget);
  budget.sentence = sentence_of(budget);
  budget.advice = advice_of(budget.lines);
  return budget;
}

}  // namespace canewise
