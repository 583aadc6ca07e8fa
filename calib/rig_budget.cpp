#include "calib/rig_budget.h"

#include <algorithm>
#include <cmath>

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
  Source source;
  std::vector<const char*> priors;
  Message value;
};

std::vector<StatedSource> stated_sources(const Rig& rig) {
  const Priors& p = rig.priors;
  return {
      {Source::seating,
       {"seating_offset_um", "seating_roll_um", "seating_pitch_um"},
       {"rig_budget.seating",
        {{"offset", um(p.seating_offset_um, 1)},
         {"roll", um(p.seating_roll_um, 1)},
         {"pitch", um(p.seating_pitch_um, 1)}}}},
      {Source::table_form,
       {"table_bow_um", "table_cup_um", "table_twist_um"},
       {"rig_budget.table",
        {{"bow", um(p.table_bow_um, 1)}, {"cup", um(p.table_cup_um, 1)}, {"twist", um(p.table_twist_um, 1)}}}},
      {Source::tip_lift,
       {"tip_lift_um", "tip_curl_side_um"},
       {"rig_budget.tip", {{"lift", um(p.tip_lift_um, 1)}, {"curl", um(p.tip_curl_side_um, 1)}}}},
      {Source::plate_form, {"plate_form_um"}, {"rig_budget.plate", {{"form", um(p.plate_form_um, 1)}}}},
      {Source::pose_bending, {"pose_bending_um"}, {"rig_budget.pose", {{"bending", um(p.pose_bending_um, 1)}}}},
      {Source::penetration,
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
    case Source::seating:
      return if_assumed("rig_budget.find_seating");
    case Source::plate_form:
      return if_assumed("rig_budget.find_plate");
    case Source::penetration:
      return if_assumed("rig_budget.find_light");
    case Source::rig_scale:
      return if_assumed("rig_budget.find_scale");
    case Source::frame:
      return {"rig_budget.frame_rules"};
    case Source::table_form:
      return {"rig_budget.unseen_table"};
    case Source::tip_lift:
      return {"rig_budget.unseen_tip"};
    default:
      return {};
  }
}

}  // namespace

RigBudget rig_budget(const Result& result) {
  const Rig& rig = result.rig;
  const BudgetTable& tip = table_of(result, {"quantity.rails_at_tip"});
  const BudgetTable& rails = table_of(result, {"quantity.rails_in_middle"});
  const BudgetTable& heart = table_of(result, {"quantity.heart_thickness"});
  RigBudget budget;
  const auto add = [&](const Message& name, BudgetLine line, double share_of_line = 1.0) {
    line.tip_um = share_of_line * line_of(tip, name);
    line.rails_um = share_of_line * line_of(rails, name);
    line.heart_um = share_of_line * line_of(heart, name);
    if (line.tip_um + line.rails_um + line.heart_um > 0.0) budget.lines.push_back(std::move(line));
  };
  const auto line = [](const Message& name, std::optional<Source> source, Message value, const How& how) {
    BudgetLine made;
    made.name = name, made.source = source, made.value = std::move(value);
    made.obtained = how.words, made.assumed = how.assumed;
    return made;
  };
  const double scatter_um = um_from_mm(result.map.point_noise_mm);
  const Message noise =
      rig.laser_plane ? Message{"rig_budget.scatter_and_centre",
                                {{"scatter", um(scatter_um)}, {"centre", number(rig.laser_plane->centre_noise_px, 2)}}}
                      : Message{"rig_budget.scatter", {{"scatter", um(scatter_um)}}};
  const How estimated{{"rig_budget.estimated"}};
  add({"budget.noise"},
      line({"rig_budget.noise", {{"of_line", word(rig.laser_plane ? "yes" : "no")}}}, std::nullopt, noise, estimated));
  const Message vamp_end{"budget.vamp_end"};
  add(vamp_end, line(vamp_end, std::nullopt, {}, estimated));
  for (const auto& [source, priors, value] : stated_sources(rig))
    add(message_of(source), line(message_of(source), source, value, how_known(rig, priors)));
  for (const Source source : {Source::plate_plane, Source::registration, Source::depth_steps, Source::frame})
    add(message_of(source), line(message_of(source), source, {}, how_scanned()));
  const Message scale = message_of(Source::rig_scale);
  if (rig.scale_parts.empty()) {
    add(scale, line(scale, Source::rig_scale, percent(rig.priors.scale_rel), how_known(rig, {"scale_rel"})));
  } else {
    for (const auto& [name, value] : rig.scale_parts) {
      const auto how = rig.obtained.find("scale of " + name);
      add(scale,
          line(name_of_scale_part(name), Source::rig_scale, percent(value),
               how_known(how == rig.obtained.end() ? nullptr : &how->second)),
          rig.priors.scale_rel > 0 ? value / rig.priors.scale_rel : 0.0);
    }
  }
  budget.tip_um = tip.combined.standard_uncertainty;
  budget.rails_um = rails.combined.standard_uncertainty;
  budget.heart_um = heart.combined.standard_uncertainty;
  for (BudgetLine& of_rig : budget.lines) {
    of_rig.tip_share = square(of_rig.tip_um / budget.tip_um);
    of_rig.rails_share = square(of_rig.rails_um / budget.rails_um);
    of_rig.heart_share = square(of_rig.heart_um / budget.heart_um);
  }
  std::stable_sort(budget.lines.begin(), budget.lines.end(),
                   [](const BudgetLine& a, const BudgetLine& b) { return a.rails_share > b.rails_share; });
  budget.tip_tolerance_um = um_from_mm(balance_tolerance_mm(AlongBand::tip));
  budget.rails_tolerance_um = um_from_mm(balance_tolerance_mm(AlongBand::middle));
  SmallestDifference& smallest = budget.smallest;
  smallest.tip_um = kVisible * budget.tip_um;
  smallest.rails_um = kVisible * budget.rails_um;
  smallest.tip_outside_um = budget.tip_tolerance_um + smallest.tip_um;
  smallest.rails_outside_um = budget.rails_tolerance_um + smallest.rails_um;
  budget.sentence.push_back({"rig_budget.smallest",
                             {{"tip", um(smallest.tip_um)},
                              {"rails", um(smallest.rails_um)},
                              {"tip_outside", um(smallest.tip_outside_um)},
                              {"rails_outside", um(smallest.rails_outside_um)},
                              {"tip_tolerance", um(budget.tip_tolerance_um)},
                              {"rails_tolerance", um(budget.rails_tolerance_um)}}});
  const auto cannot = [](double u, double tolerance) { return !can_prove_within(u, tolerance); };
  const bool cannot_rails = cannot(budget.rails_um, budget.rails_tolerance_um);
  if (cannot_rails || cannot(budget.tip_um, budget.tip_tolerance_um))
    budget.sentence.push_back({"rig_budget.cannot_prove", {{"where", word(cannot_rails ? "rails" : "tip")}}});
  // What is assumed and matters is worth finding out; what is known and matters is worth improving.
  for (const BudgetLine& of_rig : budget.lines) {
    constexpr double worth = 0.15;
    if (std::max(of_rig.rails_share, of_rig.tip_share) < worth) continue;
    if (Message advice = advice_for(of_rig); !advice.empty()) budget.advice.push_back(std::move(advice));
  }
  return budget;
}

}  // namespace canewise
