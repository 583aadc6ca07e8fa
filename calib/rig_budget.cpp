#include "calib/rig_budget.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "scanproc/assess/balance.h"
#include "scanproc/assess/conformity.h"
#include "scanproc/core/budget.h"
#include "scanproc/core/error.h"
#include "scanproc/core/statistics.h"
#include "scanproc/core/units.h"

namespace canewise {
namespace {

struct Three {
  double tip = 0, rails = 0, heart = 0;
};

/// Names and values of the priors that make up a source.
struct SourceWords {
  Source source;
  std::vector<const char*> priors;
};

std::string value_words(const Rig& rig, const std::vector<const char*>& names) {
  std::string words;
  for (const auto& key : kPriorKeys) {
    for (const char* name : names) {
      if (std::string(name) != key.name) continue;
      const double value = rig.priors.*(key.member);
      std::string label(name);
      if (label == "scale_rel") {
        words += fmt::format("{}{:.3f} %", words.empty() ? "" : ", ", 100.0 * value);
        continue;
      }
      label = label.substr(0, label.size() - 3);  // Without its unit, and without what the line's own name says.
      for (const char* known : {"seating_", "table_"}) {
        if (label.starts_with(known)) label = label.substr(std::string(known).size());
      }
      std::replace(label.begin(), label.end(), '_', ' ');
      words += fmt::format("{}{} {:.1f} µm", words.empty() ? "" : ", ", label, value);
    }
  }
  return words;
}

std::string how_words(const Rig& rig, const std::vector<const char*>& names) {
  std::string words;
  for (const char* name : names) {
    const auto found = rig.obtained.find(name);
    const std::string how = found == rig.obtained.end() ? "assumed" : found->second;
    if (words.find(how) == std::string::npos) words += (words.empty() ? "" : "; ") + how;
  }
  return words.empty() ? "from this scan" : words;
}

const BudgetTable& table_of(const Result& result, const std::string& quantity) {
  for (const auto& table : result.budgets) {
    if (table.quantity == quantity) return table;
  }
  throw UsageError("the result has no budget of the " + quantity + "; measure the scan again with this version.");
}

double line_of(const BudgetTable& table, const std::string& name) {
  for (const auto& line : table.lines) {
    if (line.name == name) return line.in_output_unit();
  }
  return 0.0;
}

}  // namespace

RigBudget rig_budget(const Result& result) {
  const Rig& rig = result.rig;
  const BudgetTable& tip = table_of(result, "left-right difference of the rails at the tip");
  const BudgetTable& rails = table_of(result, "left-right difference of the rails in the middle");
  const BudgetTable& heart = table_of(result, "thickness of the heart");
  RigBudget budget;
  const auto add = [&](const std::string& name, const std::string& shown, const std::string& value,
                       const std::string& how, double share_of_line) {
    BudgetLine line{shown, value, how, 0, 0, 0, 0, 0, 0};
    line.tip_um = share_of_line * line_of(tip, name);
    line.rails_um = share_of_line * line_of(rails, name);
    line.heart_um = share_of_line * line_of(heart, name);
    if (line.tip_um + line.rails_um + line.heart_um > 0.0) budget.lines.push_back(std::move(line));
  };
  const std::string noise = rig.laser_plane
                                ? fmt::format("points scatter by {:.0f} µm; line centre {:.2f} px",
                                              um_from_mm(result.map.point_noise_mm), rig.laser_plane->centre_noise_px)
                                : fmt::format("points scatter by {:.0f} µm", um_from_mm(result.map.point_noise_mm));
  add("noise and texture of this scan", rig.laser_plane ? "noise and line centre" : "noise and texture", noise,
      "estimated from this scan", 1.0);
  add("where the vamp ends", "where the vamp ends", "", "estimated from this scan", 1.0);
  const std::vector<SourceWords> sources{
      {Source::seating, {"seating_roll_um", "seating_offset_um", "seating_pitch_um"}},
      {Source::table_form, {"table_twist_um", "table_bow_um", "table_cup_um"}},
      {Source::tip_lift, {"tip_curl_side_um", "tip_lift_um"}},
      {Source::plate_form, {"plate_form_um"}},
      {Source::plate_plane, {}},
      {Source::registration, {}},
      {Source::pose_bending, {"pose_bending_um"}},
      {Source::depth_steps, {}},
      {Source::frame, {}},
  };
  for (const auto& [source, priors] : sources) {
    add(std::string(name_of(source)), std::string(name_of(source)), value_words(rig, priors), how_words(rig, priors),
        1.0);
  }
  const std::string light(name_of(Source::penetration));
  if (rig.light) {
    add(light, light, fmt::format("corrected by {:+.1f} µm", rig.light->offset_um), how_words(rig, {"penetration_um"}),
        1.0);
  } else {
    add(light, light, value_words(rig, {"penetration_um"}), how_words(rig, {"penetration_um"}), 1.0);
  }
  const std::string scale(name_of(Source::rig_scale));
  if (rig.scale_parts.empty()) {
    add(scale, scale, value_words(rig, {"scale_rel"}), how_words(rig, {"scale_rel"}), 1.0);
  } else {
    for (const auto& [name, value] : rig.scale_parts) {
      const auto how = rig.obtained.find("scale of " + name);
      add(scale, "scale: " + name, fmt::format("{:.3f} %", 100.0 * value),
          how == rig.obtained.end() ? "assumed" : how->second,
          rig.priors.scale_rel > 0 ? value / rig.priors.scale_rel : 0.0);
    }
  }
  budget.tip_um = tip.combined.standard_uncertainty;
  budget.rails_um = rails.combined.standard_uncertainty;
  budget.heart_um = heart.combined.standard_uncertainty;
  for (BudgetLine& line : budget.lines) {
    line.tip_share = square(line.tip_um / budget.tip_um);
    line.rails_share = square(line.rails_um / budget.rails_um);
    line.heart_share = square(line.heart_um / budget.heart_um);
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
  budget.sentence = fmt::format(
      "Smallest left-right difference that this rig shows: {:.0f} µm at the tip, {:.0f} µm at the rails. It reliably "
      "calls "
      "'outside' from {:.0f} µm at the tip and {:.0f} µm at the rails (tolerances {:.0f} and {:.0f} µm).",
      smallest.tip_um, smallest.rails_um, smallest.tip_outside_um, smallest.rails_outside_um, budget.tip_tolerance_um,
      budget.rails_tolerance_um);
  const auto cannot = [](double u, double tolerance) { return !can_prove_within(u, tolerance); };
  if (cannot(budget.tip_um, budget.tip_tolerance_um) || cannot(budget.rails_um, budget.rails_tolerance_um)) {
    budget.sentence += fmt::format(
        " It can never prove a reed balanced at the {}: its own uncertainty is larger than the "
        "tolerance allows.",
        cannot(budget.rails_um, budget.rails_tolerance_um) ? "rails" : "tip");
  }
  // What is assumed and matters is worth finding out; what is known and matters is worth improving.
  for (const BudgetLine& line : budget.lines) {
    constexpr double worth = 0.15;
    const double share = std::max(line.rails_share, line.tip_share);
    if (share < worth) continue;
    const bool assumed = line.obtained.find("assumed") != std::string::npos;
    if (line.name == name_of(Source::seating) && assumed) {
      budget.advice.emplace_back("Seating is assumed: 'canewise calibrate reversal' finds it out.");
    } else if (line.name == name_of(Source::plate_form) && assumed) {
      budget.advice.emplace_back("The plate's form is assumed: 'canewise calibrate plate' maps it.");
    } else if (line.name == light && assumed) {
      budget.advice.emplace_back("Light in the cane is assumed: 'canewise calibrate touch' checks it.");
    } else if (line.name.starts_with("scale") && assumed) {
      budget.advice.emplace_back("The scale is assumed: 'canewise calibrate step' checks it.");
    } else if (line.name.starts_with("noise")) {
      budget.advice.emplace_back(
          "Noise rules: scan more lines, or the same reed several times, and expose so that the cane is "
          "not clipped.");
    } else if (line.name == name_of(Source::frame)) {
      budget.advice.emplace_back("Finding the reed's middle rules: let the scan see plate on both sides all along.");
    } else if (line.name == name_of(Source::table_form) || line.name == name_of(Source::tip_lift)) {
      budget.advice.push_back("The " + line.name + " cannot be seen on a plate: scan from both sides if it matters.");
    }
  }
  return budget;
}

}  // namespace canewise
