#include <nlohmann/json.hpp>

#include "scanproc/pipeline/figure_keys.h"
#include "scanproc/pipeline/result_parts_json.h"
#include "scanproc/words/message_json.h"

namespace canewise {

using nlohmann::json;

// The macros name each type's members once for both directions; a member's name is its key, unit included.
// NOLINTBEGIN(cppcoreguidelines-macro-usage)
NLOHMANN_JSON_SERIALIZE_ENUM(AlongBand, {{AlongBand::tip, "tip"},
                                         {AlongBand::front, "front"},
                                         {AlongBand::middle, "middle"},
                                         {AlongBand::back, "back"}})
NLOHMANN_JSON_SERIALIZE_ENUM(AcrossBand,
                             {{AcrossBand::centre, "centre"}, {AcrossBand::flank, "flank"}, {AcrossBand::rail, "rail"}})
NLOHMANN_JSON_SERIALIZE_ENUM(Side, {{Side::left, "left"}, {Side::right, "right"}})
NLOHMANN_JSON_SERIALIZE_ENUM(StepAim,
                             {{StepAim::balance, "balance"}, {StepAim::target, "target"}, {StepAim::softer, "softer"}})
NLOHMANN_JSON_SERIALIZE_ENUM(PlanStatus, {{PlanStatus::cannot_tell, "cannot tell"},
                                          {PlanStatus::nothing_to_do, "nothing to do"},
                                          {PlanStatus::steps, "steps"},
                                          {PlanStatus::cannot_save, "cannot save"},
                                          {PlanStatus::veto, "veto"}})
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(PlanPoint, x_mm, y_mm)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(ScrapeStep, aim, side, across, along, from_mm, to_mm, polygon, depth_um, u95_um,
                                   strokes, volume_mm3, where, stop)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(PlannedZone, along, across, before_um, after_um)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(ScrapePlan, status, sentence, needs_rolling_test, steps, prediction, remarks,
                                   alternatives)
// NOLINTEND(cppcoreguidelines-macro-usage)

json json_from(const ScrapePlan& plan) {
  json object = plan;
  for (std::size_t k = 0; k < plan.steps.size(); ++k) object["steps"][k]["for_bending"] = plan.steps[k].for_bending;
  json& figures = object["figures"] = json::object();
  for (const PlannedFigure& planned : plan.figures)
    figures[kFigureKeys.at(index_of(planned.figure))] = {{"before", planned.before}, {"after", planned.after}};
  object["softest_n_per_mm"] = plan.softest_n_per_mm;
  object["cane_right_over_left"] = plan.cane_right_over_left;
  return object;
}

ScrapePlan plan_from(const json& object) {
  auto plan = object.get<ScrapePlan>();
  for (std::size_t k = 0; k < plan.steps.size(); ++k) {
    const json& step = object.at("steps").at(k);
    if (step.contains("for_bending")) step.at("for_bending").get_to(plan.steps[k].for_bending);
  }
  if (!object.contains("figures")) return plan;  // Results of before have none.
  for (const BendingFigure figure : kBendingFigures) {
    const char* key = kFigureKeys.at(index_of(figure));
    if (!object.at("figures").contains(key)) continue;
    const json& planned = object.at("figures").at(key);
    plan.figures.push_back({figure, planned.at("before").get<double>(), planned.at("after").get<double>()});
  }
  object.at("softest_n_per_mm").get_to(plan.softest_n_per_mm);
  object.at("cane_right_over_left").get_to(plan.cane_right_over_left);
  return plan;
}

}  // namespace canewise
