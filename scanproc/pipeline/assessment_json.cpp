#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>

#include "scanproc/core/budget.h"
#include "scanproc/pipeline/check_result.h"
#include "scanproc/pipeline/fields_json.h"
#include "scanproc/pipeline/result_parts_json.h"
#include "scanproc/words/message_json.h"

namespace canewise {

using nlohmann::json;

// The macros name each type's members once for both directions; a member's name is its key, unit included.
// NOLINTBEGIN(cppcoreguidelines-macro-usage)
NLOHMANN_JSON_SERIALIZE_ENUM(Verdict, {{Verdict::cannot_tell, "cannot tell"},
                                       {Verdict::within, "within"},
                                       {Verdict::outside, "outside"}})
NLOHMANN_JSON_SERIALIZE_ENUM(ShoulderKind, {{ShoulderKind::unclear, "cannot tell"},
                                            {ShoulderKind::gentle, "gentle"},
                                            {ShoulderKind::steep, "steep"},
                                            {ShoulderKind::stepped, "stepped"}})
NLOHMANN_JSON_SERIALIZE_ENUM(Blank, {{Blank::medium, "medium"}, {Blank::thin, "thin"}, {Blank::thick, "thick"}})
NLOHMANN_JSON_SERIALIZE_ENUM(AlongBand, {{AlongBand::tip, "tip"},
                                         {AlongBand::front, "front"},
                                         {AlongBand::middle, "middle"},
                                         {AlongBand::back, "back"}})
NLOHMANN_JSON_SERIALIZE_ENUM(AcrossBand,
                             {{AcrossBand::centre, "centre"}, {AcrossBand::flank, "flank"}, {AcrossBand::rail, "rail"}})
NLOHMANN_JSON_SERIALIZE_ENUM(Side, {{Side::left, "left"}, {Side::right, "right"}})
NLOHMANN_JSON_SERIALIZE_ENUM(AtFault, {{AtFault::cannot_tell, "cannot tell"},
                                       {AtFault::thicker_side, "the thicker side"},
                                       {AtFault::thinner_side, "the thinner side"}})
NLOHMANN_JSON_SERIALIZE_ENUM(FaultWitness, {{FaultWitness::none, "none"},
                                            {FaultWitness::own_profile, "the reed's own profile"},
                                            {FaultWitness::target, "the player's target"}})

NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(Measured, value, u)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(TableForm, bow_um, cup_um, twist_um, tolerance_um, flat, rest_um)
// Results of before have the crown on the centreline.
void to_json(json& object, const Bark& bark) {
  object = {{"height_mm", bark.height_mm},
            {"radius_mm", bark.radius_mm},
            {"slope", bark.slope},
            {"from_x_mm", bark.from_x_mm},
            {"crown_y_mm", bark.crown_y_mm}};
}
void from_json(const json& object, Bark& bark) {
  object.at("height_mm").get_to(bark.height_mm);
  object.at("radius_mm").get_to(bark.radius_mm);
  object.at("slope").get_to(bark.slope);
  object.at("from_x_mm").get_to(bark.from_x_mm);
  bark.crown_y_mm = object.value("crown_y_mm", Measured{});
}
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(CutFeatures, length_mm, tip_width_mm, butt_width_mm, stock_height_mm, blank,
                                   blank_is_sure, vamp_length_mm, tip_arc_radius_mm, corner_drop_mm, shaved_mm, filed,
                                   tip_thickness_mm, heart_thickness_mm, rail_thickness_mm, bark)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(Zone, along, across, side)
// Of u_place_mm results of before know nothing.
void to_json(json& object, const ZoneMean& mean) {
  object = {{"mean_mm", mean.mean_mm},       {"u_mm", mean.u_mm},   {"u_local_mm", mean.u_local_mm},
            {"u_place_mm", mean.u_place_mm}, {"cells", mean.cells}, {"covered", mean.covered}};
}
void from_json(const json& object, ZoneMean& mean) {
  object.at("mean_mm").get_to(mean.mean_mm);
  object.at("u_mm").get_to(mean.u_mm);
  object.at("u_local_mm").get_to(mean.u_local_mm);
  mean.u_place_mm = object.value("u_place_mm", 0.0);
  object.at("cells").get_to(mean.cells);
  object.at("covered").get_to(mean.covered);
}
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(ZoneThickness, zone, thickness)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(ZoneBalance, along, across, difference, tolerance_mm, verdict, worst_mm, worst_x_mm,
                                   worst_y_mm, area_beyond_u_mm2, volume_mm3, u_volume_mm3, smallest_visible_mm,
                                   surely_outside_mm)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(Fault, thicker, across, in_heart, from_mm, to_mm, difference_mm, u_mm, peak_mm,
                                   tolerance_mm, at_fault, witness, cell_indices)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(ZoneDeviation, zone, deviation, target_mm, tolerance_mm, verdict)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(ArealParameters, sa, sq, ssk, sku, sp, sv, sz)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(Texture, x_mm, y_mm, step_mm, s_f, s_l)
// NOLINTEND(cppcoreguidelines-macro-usage)

json json_from(const CutFeatures& cut) {
  json object = cut;
  object["shoulder"] = cut.shoulder;
  return object;
}

CutFeatures cut_from(const json& object) {
  auto cut = object.get<CutFeatures>();
  cut.shoulder = object.value("shoulder", ShoulderKind::unclear);  // Results of before have none.
  return cut;
}

json json_from(const std::vector<ZoneThickness>& zones) { return zones; }
std::vector<ZoneThickness> zones_from(const json& list) { return list; }

json balance_json_from(const Assessment& assessment) {
  return {{"verdict", assessment.balance.verdict},
          {"zones", assessment.balance.zones},
          {"faults", assessment.faults},
          {"u_difference_mm", rows_from(assessment.balance.u_difference_mm)}};
}

void balance_from(const json& object, const ThicknessMap& map, Assessment& assessment) {
  Balance& balance = assessment.balance;
  object.at("verdict").get_to(balance.verdict);
  object.at("zones").get_to(balance.zones);
  if (object.contains("faults")) object.at("faults").get_to(assessment.faults);  // Results of before have none.
  balance.difference_mm = difference_of_sides(map);
  // Results of before have none: no pair of cells then tells anything by itself.
  balance.u_difference_mm = Field::Constant(map.grid.rows, map.grid.columns, std::numeric_limits<float>::quiet_NaN());
  if (!object.contains("u_difference_mm")) return;
  balance.u_difference_mm = small_field_from(object.at("u_difference_mm"));
  if (balance.u_difference_mm.rows() != map.grid.rows || balance.u_difference_mm.cols() != map.grid.columns)
    throw Impossible{Message("result.u_difference_shape")};
}

json json_from(const TargetComparison& comparison) {
  const Target& target = comparison.target;
  return {{"name", target.name},
          {"title", target.title},
          {"instrument", target.instrument},
          {"origin", target.origin},
          {"reeds", target.reeds},
          {"blank", target.blank},
          {"filed", target.filed},
          {"state", name_of(target.state)},
          {"rig", target.rig},
          {"chosen_by_user", comparison.chosen_by_user},
          {"verdict", comparison.verdict},
          {"root_mean_square_mm", comparison.root_mean_square_mm},
          {"vamp_length_mm", target.vamp_length_mm},
          {"thickness_mm", rows_from(target.thickness_mm)},
          {"tolerance_mm", rows_from(target.tolerance_mm)},
          {"deviation_mm", rows_from(comparison.deviation_mm)},
          {"zones", comparison.zones}};
}

TargetComparison target_from(const json& object, const Result& result) {
  TargetComparison comparison;
  Target& target = comparison.target;
  object.at("name").get_to(target.name);
  object.at("title").get_to(target.title);
  object.at("origin").get_to(target.origin);
  object.at("vamp_length_mm").get_to(target.vamp_length_mm);
  target.thickness_mm = field_from(object.at("thickness_mm"));
  target.tolerance_mm = field_from(object.at("tolerance_mm"));
  object.at("chosen_by_user").get_to(comparison.chosen_by_user);
  object.at("verdict").get_to(comparison.verdict);
  object.at("root_mean_square_mm").get_to(comparison.root_mean_square_mm);
  object.at("zones").get_to(comparison.zones);
  // Results of before kept no more.
  target.instrument = object.value("instrument", result.instrument);
  target.reeds = object.value("reeds", 0);
  target.blank = object.value("blank", Blank::medium);
  target.filed = object.value("filed", false);
  target.state = moisture_from(object.value("state", "unknown")).value_or(MoistureState::unknown);
  target.rig = object.value("rig", "");
  if (object.contains("deviation_mm")) {
    comparison.deviation_mm = small_field_from(object.at("deviation_mm"));
    if (comparison.deviation_mm.rows() != result.map.grid.rows ||
        comparison.deviation_mm.cols() != result.map.grid.columns)
      throw Impossible{Message("result.map_shape")};
  }
  return comparison;
}

json json_from(const TableForm& table) { return table; }
TableForm table_from(const json& object) { return object; }

namespace {

json json_of(const BudgetTable& table) {
  json lines = json::array();
  for (const auto& line : table.lines) lines.push_back({{"source", line.name}, {"u_um", line.in_output_unit()}});
  return {{"quantity", table.quantity},
          {"lines", std::move(lines)},
          {"u_um", table.combined.standard_uncertainty},
          {"coverage_factor", table.combined.coverage_factor},
          {"u95_um", table.combined.expanded_uncertainty}};
}

BudgetTable budget_from(const json& object) {
  BudgetTable table;
  table.quantity = object.at("quantity").get<Message>();
  for (const auto& line : object.at("lines")) {
    table.lines.push_back({line.at("source").get<Message>(), line.at("u_um").get<double>()});
  }
  table.combined = combine(table.lines);
  return table;
}

}  // namespace

json json_from(const std::vector<BudgetTable>& budgets) {
  json list = json::array();
  for (const BudgetTable& table : budgets) list.push_back(json_of(table));
  return list;
}

std::vector<BudgetTable> budgets_from(const json& list) {
  std::vector<BudgetTable> budgets;
  for (const json& table : list) budgets.push_back(budget_from(table));
  return budgets;
}

json json_from(const std::vector<Texture>& texture) { return texture; }
std::vector<Texture> texture_from(const json& list) { return list; }

}  // namespace canewise
