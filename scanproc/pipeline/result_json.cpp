#include "scanproc/pipeline/result_json.h"

#include <array>
#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>

#include "scanproc/core/error.h"
#include "scanproc/pipeline/check_result.h"
#include "scanproc/scan/scan_file.h"
#include "scanproc/words/message_json.h"

// The macros below name each type's members once for both directions; a member's name is its key, unit included.
// NOLINTBEGIN(cppcoreguidelines-macro-usage)
namespace Eigen {

template <typename Json>
void to_json(Json& json, const ArrayXXd& field) {
  json = Json::array();
  for (Index r = 0; r < field.rows(); ++r) {
    Json row = Json::array();
    for (Index c = 0; c < field.cols(); ++c) {
      row.push_back(std::isnan(field(r, c)) ? Json(nullptr) : Json(std::round(field(r, c) * 1e5) / 1e5));
    }
    json.push_back(std::move(row));
  }
}

template <typename Json>
void from_json(const Json& json, ArrayXXd& field) {
  const auto rows = static_cast<Index>(json.size());
  const auto columns = rows > 0 ? static_cast<Index>(json.at(0).size()) : 0;
  field.resize(rows, columns);
  for (Index r = 0; r < rows; ++r) {
    const auto& row = json.at(static_cast<std::size_t>(r));
    if (static_cast<Index>(row.size()) != columns) throw canewise::Impossible{canewise::Message("result.rows_unequal")};
    for (Index c = 0; c < columns; ++c) field(r, c) = row.at(static_cast<std::size_t>(c)).template get<double>();
  }
}

template <typename Json>
void to_json(Json& json, const ArrayXXf& field) {
  to_json(json, ArrayXXd(field.cast<double>()));
}

template <typename Json>
void from_json(const Json& json, ArrayXXf& field) {
  ArrayXXd wide;
  from_json(json, wide);
  field = wide.cast<float>();
}

template <typename Json>
void to_json(Json& json, const Matrix3d& matrix) {
  for (Index r = 0; r < 3; ++r) json.push_back({matrix(r, 0), matrix(r, 1), matrix(r, 2)});
}

template <typename Json>
void from_json(const Json& json, Matrix3d& matrix) {
  for (Index r = 0; r < 3; ++r) {
    for (Index c = 0; c < 3; ++c) {
      matrix(r, c) = json.at(static_cast<std::size_t>(r)).at(static_cast<std::size_t>(c)).template get<double>();
    }
  }
}

}  // namespace Eigen

namespace canewise {

using nlohmann::json;

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
NLOHMANN_JSON_SERIALIZE_ENUM(StepAim,
                             {{StepAim::balance, "balance"}, {StepAim::target, "target"}, {StepAim::softer, "softer"}})
NLOHMANN_JSON_SERIALIZE_ENUM(AtFault, {{AtFault::cannot_tell, "cannot tell"},
                                       {AtFault::thicker_side, "the thicker side"},
                                       {AtFault::thinner_side, "the thinner side"}})
NLOHMANN_JSON_SERIALIZE_ENUM(FaultWitness, {{FaultWitness::none, "none"},
                                            {FaultWitness::own_profile, "the reed's own profile"},
                                            {FaultWitness::target, "the player's target"}})
NLOHMANN_JSON_SERIALIZE_ENUM(PlanStatus, {{PlanStatus::cannot_tell, "cannot tell"},
                                          {PlanStatus::nothing_to_do, "nothing to do"},
                                          {PlanStatus::steps, "steps"},
                                          {PlanStatus::cannot_save, "cannot save"},
                                          {PlanStatus::veto, "veto"}})
NLOHMANN_JSON_SERIALIZE_ENUM(MoistureState, {{MoistureState::unknown, "unknown"},
                                             {MoistureState::dry, "dry"},
                                             {MoistureState::wet, "wet"}})

NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(ScanSource, file, sha256, format, unit, unit_guessed, points, dropped_non_finite)
// Priors that came later take their defaults in results of before.
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE_WITH_DEFAULT(Priors, seating_offset_um, seating_roll_um, seating_pitch_um,
                                                table_bow_um, table_cup_um, table_twist_um, tip_lift_um,
                                                tip_curl_side_um, scale_rel, plate_form_um, penetration_um,
                                                pose_bending_um, smooth_um, smooth_length_mm)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(Pads, above_table_mm, u_above_table_um)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(SideLine, offset_mm, slope, u_offset_mm, scatter_mm)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(Outline, left, right, length_mm, u_length_mm, tip_arc_radius_mm, u_tip_arc_radius_mm,
                                   corner_drop_mm, u_corner_drop_mm, tip_edge_mm, tip_edge_first_y_mm, tip_edge_step_mm,
                                   chipped, shadowed_left, shadowed_right)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(FrameUncertainty, x_mm, y_mm, yaw_rad, pivot_x_mm, plate_plane)
// What came later takes its default in results of before.
void to_json(json& object, const LocalNoise& noise) {
  object = {{"bin_sd_mm", noise.bin_sd_mm},
            {"bins_per_cell", noise.bins_per_cell},
            {"covariance_sum_mm2", noise.covariance_sum_mm2},
            {"filled_share", noise.filled_share},
            {"far_sum_mm2", noise.far_sum_mm2},
            {"far_reach_mm", noise.far_reach_mm},
            {"smooth_mm", noise.smooth_mm},
            {"smooth_length_mm", noise.smooth_length_mm}};
}
void from_json(const json& object, LocalNoise& noise) {
  object.at("bin_sd_mm").get_to(noise.bin_sd_mm);
  object.at("bins_per_cell").get_to(noise.bins_per_cell);
  object.at("covariance_sum_mm2").get_to(noise.covariance_sum_mm2);
  object.at("filled_share").get_to(noise.filled_share);
  noise.far_sum_mm2 = object.value("far_sum_mm2", 0.0);
  noise.far_reach_mm = object.value("far_reach_mm", 0.0);
  noise.smooth_mm = object.value("smooth_mm", 0.0);
  noise.smooth_length_mm = object.value("smooth_length_mm", 0.0);
}
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(Measured, value, u)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(TableForm, bow_um, cup_um, twist_um, tolerance_um, flat, rest_um)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(Bark, height_mm, radius_mm, slope, from_x_mm)
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
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(PlanPoint, x_mm, y_mm)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(ScrapeStep, aim, side, across, along, from_mm, to_mm, polygon, depth_um, u95_um,
                                   strokes, volume_mm3, where, stop)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(PlannedZone, along, across, before_um, after_um)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(ScrapePlan, status, sentence, needs_rolling_test, steps, prediction, remarks,
                                   alternatives)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(ArealParameters, sa, sq, ssk, sku, sp, sv, sz)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(SpreadValue, value, u_scan, u_cane)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(ComplianceAt, x_mm, left_mm_per_n, centre_mm_per_n, right_mm_per_n)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(ReedMode, frequency_hz, kind, shape)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(FacingCurve, tip_opening_mm, length_mm, power)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(Mouthpiece, window_end_mm, ligature_mm, rail_width_mm, left, right,
                                   facing_is_invented)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(ClosingPoint, pressure_kpa, left_mm, centre_mm, right_mm, left_rests_mm,
                                   right_rests_mm)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(OtherOpening, tip_opening_mm, stiffness_ratio)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(Closing, mouthpiece, lip_force_n, curve, pressure_kpa, u_pressure_kpa,
                                   right_minus_left_um, facing_right_minus_left_um, others)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(Strength, known, halves, u_halves, sentence, advice)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(ClippedReed, clip_mm, stiffness_lip_n_per_mm, stiffness_ratio, tip_thickness_mm)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(Texture, x_mm, y_mm, step_mm, s_f, s_l)
// NOLINTEND(cppcoreguidelines-macro-usage)

namespace {

json json_from(const Rig& rig) {
  json object{{"name", rig.name}, {"priors", rig.priors}, {"mirrored", rig.mirrored}};
  if (rig.pads) object["pads"] = *rig.pads;
  json carrier{{"u_size_um", rig.carrier.u_size_um}};
  if (rig.carrier.sphere_diameter_mm) carrier["sphere_diameter_mm"] = *rig.carrier.sphere_diameter_mm;
  if (rig.carrier.block_edges_mm) carrier["block_edges_mm"] = *rig.carrier.block_edges_mm;
  object["carrier"] = std::move(carrier);
  if (!rig.calibrated_at.empty()) object["calibrated_at"] = rig.calibrated_at;
  if (!rig.handedness_found.empty()) object["handedness_found"] = rig.handedness_found;
  if (!rig.obtained.empty()) object["obtained"] = rig.obtained;
  return object;
}

Rig rig_from(const json& object) {
  Rig rig;
  object.at("name").get_to(rig.name);
  object.at("priors").get_to(rig.priors);
  object.at("mirrored").get_to(rig.mirrored);
  if (object.contains("pads")) rig.pads = object.at("pads").get<Pads>();
  if (object.contains("calibrated_at")) object.at("calibrated_at").get_to(rig.calibrated_at);
  if (object.contains("handedness_found")) object.at("handedness_found").get_to(rig.handedness_found);
  if (object.contains("obtained")) object.at("obtained").get_to(rig.obtained);
  if (!object.contains("carrier")) return rig;
  const json& carrier = object.at("carrier");
  carrier.at("u_size_um").get_to(rig.carrier.u_size_um);
  if (carrier.contains("sphere_diameter_mm"))
    rig.carrier.sphere_diameter_mm = carrier.at("sphere_diameter_mm").get<double>();
  if (carrier.contains("block_edges_mm"))
    rig.carrier.block_edges_mm = carrier.at("block_edges_mm").get<std::array<double, 3>>();
  return rig;
}

json json_from(const Registration& registration) {
  json variances = json::array();
  for (Eigen::Index k = 0; k < 6; ++k) variances.push_back(std::sqrt(registration.covariance(k, k)));
  return {{"method", registration.method},
          {"residual_mm", registration.residual_mm},
          {"u_shift_xyz_mm_and_turn_xyz_rad", std::move(variances)}};
}

/// The correlations are not kept: whoever reads a result needs the sizes alone.
Registration registration_from(const json& object) {
  Registration registration;
  object.at("method").get_to(registration.method);
  object.at("residual_mm").get_to(registration.residual_mm);
  const json& u = object.at("u_shift_xyz_mm_and_turn_xyz_rad");
  for (Eigen::Index k = 0; k < 6; ++k) {
    const auto value = u.at(static_cast<std::size_t>(k)).get<double>();
    registration.covariance(k, k) = value * value;
  }
  return registration;
}

json json_from(const ThicknessMap& map) {
  json object{{"cell_mm", map.grid.cell_mm},
              {"rows", map.grid.rows},
              {"columns", map.grid.columns},
              {"thickness_mm", map.thickness_mm},
              {"u_mm", map.u_mm},
              {"noise", map.noise},
              {"point_noise_mm", map.point_noise_mm},
              {"outlier_share", map.outlier_share}};
  if (map.table_mm.size() > 0) object["table_mm"] = map.table_mm;
  return object;
}

void map_from(const json& object, ThicknessMap& map) {
  map.grid.cell_mm = object.at("cell_mm").get<double>();
  map.grid.rows = object.at("rows").get<Eigen::Index>();
  map.grid.columns = object.at("columns").get<Eigen::Index>();
  object.at("thickness_mm").get_to(map.thickness_mm);
  object.at("u_mm").get_to(map.u_mm);
  object.at("noise").get_to(map.noise);
  map.point_noise_mm = object.at("point_noise_mm").get<double>();
  map.outlier_share = object.at("outlier_share").get<double>();
  const auto has_shape = [&](const Field& field) {
    return field.rows() == map.grid.rows && field.cols() == map.grid.columns;
  };
  if (object.contains("table_mm")) {
    object.at("table_mm").get_to(map.table_mm);
    if (!has_shape(map.table_mm)) throw Impossible{Message("result.table_shape")};
  }
  if (!has_shape(map.thickness_mm) || !has_shape(map.u_mm)) throw Impossible{Message("result.map_shape")};
}

json json_from(const TargetComparison& comparison) {
  return {{"name", comparison.target.name},
          {"title", comparison.target.title},
          {"origin", comparison.target.origin},
          {"chosen_by_user", comparison.chosen_by_user},
          {"verdict", comparison.verdict},
          {"root_mean_square_mm", comparison.root_mean_square_mm},
          {"vamp_length_mm", comparison.target.vamp_length_mm},
          {"thickness_mm", comparison.target.thickness_mm},
          {"tolerance_mm", comparison.target.tolerance_mm},
          {"zones", comparison.zones}};
}

TargetComparison comparison_from(const json& object) {
  TargetComparison comparison;
  comparison.target.name = object.at("name").get<std::string>();
  comparison.target.title = object.at("title").get<std::string>();
  comparison.target.origin = object.at("origin").get<std::string>();
  comparison.target.vamp_length_mm = object.at("vamp_length_mm").get<double>();
  object.at("thickness_mm").get_to(comparison.target.thickness_mm);
  object.at("tolerance_mm").get_to(comparison.target.tolerance_mm);
  comparison.chosen_by_user = object.at("chosen_by_user").get<bool>();
  comparison.verdict = object.at("verdict").get<Verdict>();
  comparison.root_mean_square_mm = object.at("root_mean_square_mm").get<double>();
  object.at("zones").get_to(comparison.zones);
  return comparison;
}

json json_from(const BudgetTable& table) {
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

struct PlayerOption {
  const char* name;
  std::optional<double> Player::*member;
};
constexpr std::array kPlayerOptions{
    PlayerOption{"tip_opening_mm", &Player::tip_opening_mm},
    PlayerOption{"facing_length_mm", &Player::facing_length_mm},
    PlayerOption{"facing_power", &Player::facing_power},
    PlayerOption{"left_tip_opening_mm", &Player::left_tip_opening_mm},
    PlayerOption{"left_facing_length_mm", &Player::left_facing_length_mm},
    PlayerOption{"right_tip_opening_mm", &Player::right_tip_opening_mm},
    PlayerOption{"right_facing_length_mm", &Player::right_facing_length_mm},
    PlayerOption{"window_end_mm", &Player::window_end_mm},
    PlayerOption{"ligature_mm", &Player::ligature_mm},
    PlayerOption{"wanted_halves", &Player::wanted_halves},
};
struct PlayerNumber {
  const char* name;
  double Player::*member;
};
constexpr std::array kPlayerNumbers{
    PlayerNumber{"u_depth_per_stroke_rel", &Player::u_depth_per_stroke_rel},
    PlayerNumber{"lip_at_mm", &Player::lip_at_mm},
    PlayerNumber{"lip_length_mm", &Player::lip_length_mm},
    PlayerNumber{"lip_force_n", &Player::lip_force_n},
    PlayerNumber{"tip_patch_at_mm", &Player::tip_patch_at_mm},
};

/// A field of small numbers, as whole millionths.
json millionths(const Field& field) {
  json rows = json::array();
  for (Eigen::Index r = 0; r < field.rows(); ++r) {
    json row = json::array();
    for (Eigen::Index c = 0; c < field.cols(); ++c) {
      row.push_back(std::isnan(field(r, c)) ? json(nullptr)
                                            : json(std::lround(1e6 * static_cast<double>(field(r, c)))));
    }
    rows.push_back(std::move(row));
  }
  return rows;
}
Field from_millionths(const json& rows) {
  Eigen::ArrayXXf field;
  rows.get_to(field);
  return field / 1e6F;
}

/// Figures by name, each with its unit in its key; sensitivities of those that a player acts on.
constexpr std::array<const char*, kBendingFigureCount> kFigureKeys{"stiffness_left_n_per_mm",
                                                                   "stiffness_centre_n_per_mm",
                                                                   "stiffness_right_n_per_mm",
                                                                   "stiffness_lip_n_per_mm",
                                                                   "imbalance_tip",
                                                                   "imbalance_lip"};
constexpr std::array kKeptSensitivities{BendingFigure::stiffness_lip, BendingFigure::imbalance_tip,
                                        BendingFigure::imbalance_lip};

json json_from(const Mechanics& m) {
  if (!m.known()) return {{"why_not", m.why_not}};
  json object{{"sentence", m.sentence},
              {"cane", m.cane},
              {"tip_patch_at_mm", m.tip_patch_at_mm},
              {"lip_at_mm", m.lip_at_mm},
              {"lip_length_mm", m.lip_length_mm},
              {"modes", m.modes},
              {"along", m.along},
              {"bent_mm", m.bent_mm},
              {"shape_step_mm", m.shape_step_mm},
              {"shape_first_y_mm", m.shape_first_y_mm},
              {"closing", m.closing},
              {"strength", m.strength}};
  for (const BendingFigure figure : kBendingFigures) {
    object["figures"][kFigureKeys.at(index_of(figure))] = m.figure(figure);
    if (is_imbalance(figure)) object["verdicts"][kFigureKeys.at(index_of(figure))] = m.verdicts.at(index_of(figure));
  }
  for (const BendingFigure figure : kKeptSensitivities) {
    object["sensitivity_millionths_per_10_um_and_mm2"][kFigureKeys.at(index_of(figure))] =
        millionths(m.sensitivity.at(index_of(figure)));
  }
  return object;
}

Mechanics mechanics_from(const json& object) {
  Mechanics m;
  if (object.contains("why_not")) {
    object.at("why_not").get_to(m.why_not);
    return m;
  }
  object.at("sentence").get_to(m.sentence);
  object.at("cane").get_to(m.cane);
  object.at("tip_patch_at_mm").get_to(m.tip_patch_at_mm);
  object.at("lip_at_mm").get_to(m.lip_at_mm);
  object.at("lip_length_mm").get_to(m.lip_length_mm);
  object.at("modes").get_to(m.modes);
  object.at("along").get_to(m.along);
  object.at("bent_mm").get_to(m.bent_mm);
  object.at("shape_step_mm").get_to(m.shape_step_mm);
  object.at("shape_first_y_mm").get_to(m.shape_first_y_mm);
  object.at("closing").get_to(m.closing);
  object.at("strength").get_to(m.strength);
  for (const BendingFigure figure : kBendingFigures) {
    const auto k = index_of(figure);
    object.at("figures").at(kFigureKeys.at(k)).get_to(m.figures.at(k));
    if (is_imbalance(figure)) object.at("verdicts").at(kFigureKeys.at(k)).get_to(m.verdicts.at(k));
  }
  for (const BendingFigure figure : kKeptSensitivities) {
    m.sensitivity.at(index_of(figure)) =
        from_millionths(object.at("sensitivity_millionths_per_10_um_and_mm2").at(kFigureKeys.at(index_of(figure))));
  }
  return m;
}

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

json json_from(const Player& player) {
  json object{{"name", player.name},
              {"depth_per_stroke_um", player.depth_per_stroke_um},
              {"hand_is_known", player.hand_is_known},
              {"tool_width_mm", player.tool_width_mm}};
  const auto add = [&](const char* key, const std::optional<double>& value) {
    if (value) object[key] = *value;
  };
  for (const auto& entry : kPlayerOptions) add(entry.name, player.*entry.member);
  for (const auto& entry : kPlayerNumbers) object[entry.name] = player.*entry.member;
  object["known_reeds"] = json::array();
  for (const KnownReed& reed : player.known) {
    object["known_reeds"].push_back({{"mark", reed.mark},
                                     {"halves", reed.halves},
                                     {"stiffness_n_per_mm", reed.stiffness_n_per_mm},
                                     {"state", reed.state}});
  }
  return object;
}

Player player_from(const json& object) {
  Player player;
  player.name = object.at("name").get<std::string>();
  player.depth_per_stroke_um = object.at("depth_per_stroke_um").get<double>();
  player.hand_is_known = object.at("hand_is_known").get<bool>();
  player.tool_width_mm = object.at("tool_width_mm").get<double>();
  const auto get = [&](const char* key, std::optional<double>& value) {
    if (object.contains(key)) value = object.at(key).get<double>();
  };
  for (const auto& entry : kPlayerOptions) get(entry.name, player.*entry.member);
  for (const auto& entry : kPlayerNumbers) {
    if (object.contains(entry.name)) player.*entry.member = object.at(entry.name).get<double>();
  }
  if (!object.contains("known_reeds")) return player;
  for (const auto& reed : object.at("known_reeds")) {
    player.known.push_back({reed.at("mark").get<std::string>(), reed.at("halves").get<double>(),
                            reed.at("stiffness_n_per_mm").get<double>(), reed.value("state", MoistureState::unknown)});
  }
  return player;
}

/// What is null in the file is a number that the scan did not show. Counts are always known: made a whole number, NaN
/// or a fraction would be undefined.
void nulls_to_nan(json& value) {
  constexpr std::array counts{"rows", "columns", "cells", "points", "dropped_non_finite", "strokes"};
  if (value.is_object() && !value.contains("id")) {  // What a message counts is called as its pattern likes.
    for (const char* key : counts) {
      if (value.contains(key) && !value.at(key).is_number_unsigned())
        throw Impossible{{"result.no_whole_number", {{"key", canewise::text(key)}}}};
    }
  }
  if (value.is_null()) value = std::numeric_limits<double>::quiet_NaN();
  if (value.is_structured()) {
    for (auto& child : value) nulls_to_nan(child);
  }
}

HandednessSource handedness_from(const std::string& name) {
  for (const HandednessSource source : kHandednessSources) {
    if (name == name_of(source)) return source;
  }
  throw Impossible{Message("result.handedness")};
}

/// Version 1 held English sentences where version 2 holds messages: they are kept as they are, in English.
void take_prose_as_messages(json& document) {
  const auto as_message = [](json& prose) {
    if (prose.is_string()) prose = json{{"id", "verbatim"}, {"text", {{"text", prose}}}};
  };
  const auto take = [&](json& object, const char* key, bool many) {
    if (!object.contains(key)) return;
    json& value = object.at(key);
    if (!many) return as_message(value);
    if (value.is_string()) value = json::array({value});
    for (json& prose : value) as_message(prose);
  };
  for (const char* key : {"headline", "certainty", "notes"}) take(document, key, true);
  // It was a sentence too, and began with the way.
  const auto handedness = document.at("handedness").get<std::string>();
  document["handedness"] = name_of(handedness.starts_with("assumed")     ? HandednessSource::assumed
                                   : handedness.starts_with("corrected") ? HandednessSource::rig_file
                                                                         : HandednessSource::mark);
  json& plan = document.at("plan");
  for (const char* key : {"sentence", "remarks", "alternatives"}) take(plan, key, true);
  for (json& step : plan.at("steps")) take(step, "where", false), take(step, "stop", false);
  if (document.contains("mechanics")) {
    json& mechanics = document.at("mechanics");
    take(mechanics, "why_not", false);
    take(mechanics, "cane", false);
    take(mechanics, "sentence", true);
    if (mechanics.contains("strength")) {
      take(mechanics.at("strength"), "sentence", true);
      take(mechanics.at("strength"), "advice", false);
    }
  }
  if (document.contains("registration")) take(document.at("registration"), "method", false);
  for (json& table : document.at("budgets")) {
    take(table, "quantity", false);
    for (json& line : table.at("lines")) take(line, "source", false);
  }
}

}  // namespace

std::string json_from_result(const Result& r) {
  json document{{"format", "canewise-result"},
                {"version", kResultVersion},
                {"program_version", r.program_version},
                {"measured_at", r.measured_at},
                {"headline", r.headline},
                {"certainty", r.certainty},
                {"scans", r.scans},
                {"state", r.state},
                {"datum", r.datum},
                {"handedness", name_of(r.handedness)},
                {"instrument", r.instrument},
                {"instrument_given", r.instrument_given},
                {"rig", json_from(r.rig)},
                {"player", json_from(r.player)},
                {"options", r.options},
                {"notes", r.notes},
                {"outline", r.outline},
                {"frame_uncertainty", r.frame},
                {"plate_noise_mm", r.plate_noise_mm},
                {"spacing_mm", r.spacing_mm},
                {"map", json_from(r.map)},
                {"cut", r.assessment.cut},
                {"zones", r.assessment.zone_thickness},
                {"balance",
                 {{"verdict", r.assessment.balance.verdict},
                  {"zones", r.assessment.balance.zones},
                  {"faults", r.assessment.faults},
                  {"u_difference_mm", r.assessment.balance.u_difference_mm}}},
                {"relative_thickness_mm", r.relative_thickness_mm},
                {"texture", r.texture},
                {"mechanics", json_from(r.mechanics)},
                {"clipped", r.clipped},
                {"plan", json_from(r.plan)}};
  document["outline"]["chip_unclear"] = r.outline.chip_unclear;
  document["cut"]["shoulder"] = r.assessment.cut.shoulder;
  if (r.assessment.target) document["target"] = json_from(*r.assessment.target);
  if (r.registration) document["registration"] = json_from(*r.registration);
  if (r.table) document["table"] = *r.table;
  document["budgets"] = json::array();
  for (const auto& table : r.budgets) document["budgets"].push_back(json_from(table));
  for (const MessageId caution : kCautions) document["cautions"].push_back(Message(caution));
  return document.dump(-1, ' ', false, json::error_handler_t::replace) + "\n";
}

Result result_from_json(const std::string& text, const std::string& where) {
  const auto refuse = [&](Message what) {
    return InputError({"in_file", {{"file", canewise::text(where)}, {"what", part(std::move(what))}}});
  };
  if (text.find('{') != 0) throw refuse({"result.is_none"});
  try {
    json document = json::parse(text, [&](int depth, json::parse_event_t, json& value) {
      constexpr int deepest = 32;
      // No result holds numbers that large; made a whole number, one would be undefined.
      constexpr double largest = 2147483647.0;
      if (value.is_number_float() && std::abs(value.get<double>()) > largest)
        throw refuse({"result.impossible_number"});
      if (depth > deepest) throw refuse({"result.too_deep"});
      return true;
    });
    if (document.value("format", "") != "canewise-result") throw refuse({"result.of_something_else"});
    const int version = document.value("version", 0);
    if (version == 1) {
      take_prose_as_messages(document);
    } else if (version != kResultVersion) {
      throw refuse({"result.other_version"});
    }
    nulls_to_nan(document);
    Result r;
    document.at("program_version").get_to(r.program_version);
    document.at("measured_at").get_to(r.measured_at);
    document.at("headline").get_to(r.headline);
    document.at("certainty").get_to(r.certainty);
    document.at("scans").get_to(r.scans);
    document.at("state").get_to(r.state);
    document.at("datum").get_to(r.datum);
    r.handedness = handedness_from(document.at("handedness").get<std::string>());
    document.at("instrument").get_to(r.instrument);
    document.at("instrument_given").get_to(r.instrument_given);
    r.rig = rig_from(document.at("rig"));
    r.player = player_from(document.at("player"));
    document.at("options").get_to(r.options);
    document.at("notes").get_to(r.notes);
    document.at("outline").get_to(r.outline);
    r.outline.chip_unclear = document.at("outline").value("chip_unclear", false);
    document.at("frame_uncertainty").get_to(r.frame);
    document.at("plate_noise_mm").get_to(r.plate_noise_mm);
    document.at("spacing_mm").get_to(r.spacing_mm);
    map_from(document.at("map"), r.map);
    document.at("cut").get_to(r.assessment.cut);
    r.assessment.cut.shoulder = document.at("cut").value("shoulder", ShoulderKind::unclear);
    document.at("zones").get_to(r.assessment.zone_thickness);
    document.at("balance").at("verdict").get_to(r.assessment.balance.verdict);
    document.at("balance").at("zones").get_to(r.assessment.balance.zones);
    if (document.at("balance").contains("faults"))  // Results of before have none.
      document.at("balance").at("faults").get_to(r.assessment.faults);
    r.assessment.balance.difference_mm = difference_of_sides(r.map);
    // Results of before have none: no pair of cells then tells anything by itself.
    Field& u_difference = r.assessment.balance.u_difference_mm;
    u_difference = Field::Constant(r.map.grid.rows, r.map.grid.columns, std::numeric_limits<float>::quiet_NaN());
    if (document.at("balance").contains("u_difference_mm")) {
      document.at("balance").at("u_difference_mm").get_to(u_difference);
      if (u_difference.rows() != r.map.grid.rows || u_difference.cols() != r.map.grid.columns)
        throw Impossible{Message("result.u_difference_shape")};
    }
    document.at("relative_thickness_mm").get_to(r.relative_thickness_mm);
    document.at("texture").get_to(r.texture);
    // Results of before have none.
    if (document.contains("mechanics")) {
      r.mechanics = mechanics_from(document.at("mechanics"));
      document.at("clipped").get_to(r.clipped);
    } else {
      r.mechanics.why_not = Message("result.without_bending");
    }
    r.plan = plan_from(document.at("plan"));
    if (document.contains("registration")) r.registration = registration_from(document.at("registration"));
    if (document.contains("table")) r.table = document.at("table").get<TableForm>();
    if (document.contains("target")) r.assessment.target = comparison_from(document.at("target"));
    for (const auto& table : document.at("budgets")) r.budgets.push_back(budget_from(table));
    check(r);
    r.assessment.zones =
        map_zones(r.map.grid, r.outline, r.assessment.cut.vamp_length_mm.value, r.assessment.cut.vamp_length_mm.u);
    return r;
  } catch (const json::exception&) {
    throw refuse({"result.damaged"});
  } catch (const Impossible& found) {
    throw refuse({"result.damaged_because", {{"why", part(found.why)}}});
  } catch (const std::invalid_argument&) {
    throw refuse({"result.damaged"});
  }
}

Result read_result(const std::filesystem::path& path) {
  std::error_code error;
  const std::filesystem::path file_path = std::filesystem::is_directory(path, error) ? path / "result.json" : path;
  const ScanFile file(file_path);
  constexpr std::uint64_t largest_result = 256U << 20U;
  if (file.size() > largest_result) file.fail({"result.too_large"});
  return result_from_json(file.all(), file_path.string());
}

}  // namespace canewise
