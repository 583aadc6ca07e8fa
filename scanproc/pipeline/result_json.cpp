#include "scanproc/pipeline/result_json.h"

#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>

#include "scanproc/core/error.h"
#include "scanproc/scan/scan_file.h"

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
    if (static_cast<Index>(row.size()) != columns) throw std::invalid_argument("rows of unequal length");
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
NLOHMANN_JSON_SERIALIZE_ENUM(Blank, {{Blank::medium, "medium"}, {Blank::thin, "thin"}, {Blank::thick, "thick"}})
NLOHMANN_JSON_SERIALIZE_ENUM(AlongBand, {{AlongBand::tip, "tip"},
                                         {AlongBand::front, "front"},
                                         {AlongBand::middle, "middle"},
                                         {AlongBand::back, "back"}})
NLOHMANN_JSON_SERIALIZE_ENUM(AcrossBand,
                             {{AcrossBand::centre, "centre"}, {AcrossBand::flank, "flank"}, {AcrossBand::rail, "rail"}})
NLOHMANN_JSON_SERIALIZE_ENUM(Side, {{Side::left, "left"}, {Side::right, "right"}})
NLOHMANN_JSON_SERIALIZE_ENUM(StepAim, {{StepAim::balance, "balance"}, {StepAim::target, "target"}})
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
                                                pose_bending_um)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(Pads, above_table_mm, u_above_table_um)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(SideLine, offset_mm, slope, u_offset_mm, scatter_mm)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(Outline, left, right, length_mm, u_length_mm, tip_arc_radius_mm, u_tip_arc_radius_mm,
                                   corner_drop_mm, u_corner_drop_mm, tip_edge_mm, tip_edge_first_y_mm, tip_edge_step_mm,
                                   chipped, shadowed_left, shadowed_right)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(FrameUncertainty, x_mm, y_mm, yaw_rad, pivot_x_mm, plate_plane)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(LocalNoise, bin_sd_mm, bins_per_cell, covariance_sum_mm2, filled_share)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(Measured, value, u)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(TableForm, bow_um, cup_um, twist_um, tolerance_um, flat, rest_um)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(Bark, height_mm, radius_mm, slope, from_x_mm)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(CutFeatures, length_mm, tip_width_mm, butt_width_mm, stock_height_mm, blank,
                                   blank_is_sure, vamp_length_mm, tip_arc_radius_mm, corner_drop_mm, shaved_mm, filed,
                                   tip_thickness_mm, heart_thickness_mm, rail_thickness_mm, bark)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(Zone, along, across, side)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(ZoneMean, mean_mm, u_mm, u_local_mm, cells, covered)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(ZoneThickness, zone, thickness)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(ZoneBalance, along, across, difference, tolerance_mm, verdict, worst_mm, worst_x_mm,
                                   worst_y_mm, area_beyond_u_mm2, volume_mm3, u_volume_mm3, smallest_visible_mm,
                                   surely_outside_mm)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(ZoneDeviation, zone, deviation, target_mm, tolerance_mm, verdict)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(PlanPoint, x_mm, y_mm)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(ScrapeStep, aim, side, across, along, from_mm, to_mm, polygon, depth_um, u95_um,
                                   strokes, volume_mm3, where, stop)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(PlannedZone, along, across, before_um, after_um)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(ScrapePlan, status, sentence, needs_rolling_test, steps, prediction, remarks,
                                   alternatives)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(ArealParameters, sa, sq, ssk, sku, sp, sv, sz)
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
    if (!has_shape(map.table_mm)) throw std::invalid_argument("the table's shape is wrong");
  }
  if (!has_shape(map.thickness_mm) || !has_shape(map.u_mm)) throw std::invalid_argument("the map's shape is wrong");
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
  table.quantity = object.at("quantity").get<std::string>();
  for (const auto& line : object.at("lines")) {
    table.lines.push_back({line.at("source").get<std::string>(), line.at("u_um").get<double>()});
  }
  table.combined = combine(table.lines);
  return table;
}

json json_from(const Player& player) {
  json object{{"name", player.name},
              {"depth_per_stroke_um", player.depth_per_stroke_um},
              {"hand_is_known", player.hand_is_known},
              {"tool_width_mm", player.tool_width_mm}};
  const auto add = [&](const char* key, const std::optional<double>& value) {
    if (value) object[key] = *value;
  };
  add("tip_opening_mm", player.tip_opening_mm);
  add("facing_length_mm", player.facing_length_mm);
  add("reference_stiffness_n_per_mm", player.reference_stiffness_n_per_mm);
  add("wanted_stiffness_n_per_mm", player.wanted_stiffness_n_per_mm);
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
  get("tip_opening_mm", player.tip_opening_mm);
  get("facing_length_mm", player.facing_length_mm);
  get("reference_stiffness_n_per_mm", player.reference_stiffness_n_per_mm);
  get("wanted_stiffness_n_per_mm", player.wanted_stiffness_n_per_mm);
  return player;
}

/// What is null in the file is a number that the scan did not show.
void nulls_to_nan(json& value) {
  if (value.is_null()) value = std::numeric_limits<double>::quiet_NaN();
  if (value.is_structured()) {
    for (auto& child : value) nulls_to_nan(child);
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
                {"handedness", r.handedness},
                {"instrument", r.instrument},
                {"instrument_title", r.instrument_title},
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
                {"balance", {{"verdict", r.assessment.balance.verdict}, {"zones", r.assessment.balance.zones}}},
                {"relative_thickness_mm", r.relative_thickness_mm},
                {"texture", r.texture},
                {"plan", r.plan}};
  if (r.assessment.target) document["target"] = json_from(*r.assessment.target);
  if (r.registration) document["registration"] = json_from(*r.registration);
  if (r.table) document["table"] = *r.table;
  document["budgets"] = json::array();
  for (const auto& table : r.budgets) document["budgets"].push_back(json_from(table));
  document["cautions"] = kCautions;
  return document.dump(-1, ' ', false, json::error_handler_t::replace) + "\n";
}

Result result_from_json(const std::string& text, const std::string& where) {
  const std::string remedy = " Measure the scan again.";
  if (text.find('{') != 0)
    throw InputError(where + ": is not a canewise result. Measure the scan first, then name its result folder.");
  try {
    json document = json::parse(text, [&](int depth, json::parse_event_t, json& value) {
      constexpr int deepest = 32;
      // No result holds numbers that large; made a whole number, one would be undefined.
      constexpr double largest = 2147483647.0;
      if (value.is_number_float() && std::abs(value.get<double>()) > largest)
        throw InputError(where + ": holds an impossible number." + remedy);
      if (depth > deepest) throw InputError(where + ": is nested too deeply for a canewise result." + remedy);
      return true;
    });
    if (document.value("format", "") != "canewise-result")
      throw InputError(where + ": is not a canewise result." + remedy);
    if (document.value("version", 0) != kResultVersion) {
      throw InputError(where + ": was written by another version of canewise." + remedy);
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
    document.at("handedness").get_to(r.handedness);
    document.at("instrument").get_to(r.instrument);
    document.at("instrument_title").get_to(r.instrument_title);
    document.at("instrument_given").get_to(r.instrument_given);
    r.rig = rig_from(document.at("rig"));
    r.player = player_from(document.at("player"));
    document.at("options").get_to(r.options);
    document.at("notes").get_to(r.notes);
    document.at("outline").get_to(r.outline);
    document.at("frame_uncertainty").get_to(r.frame);
    document.at("plate_noise_mm").get_to(r.plate_noise_mm);
    document.at("spacing_mm").get_to(r.spacing_mm);
    map_from(document.at("map"), r.map);
    document.at("cut").get_to(r.assessment.cut);
    document.at("zones").get_to(r.assessment.zone_thickness);
    document.at("balance").at("verdict").get_to(r.assessment.balance.verdict);
    document.at("balance").at("zones").get_to(r.assessment.balance.zones);
    document.at("relative_thickness_mm").get_to(r.relative_thickness_mm);
    document.at("texture").get_to(r.texture);
    document.at("plan").get_to(r.plan);
    if (document.contains("registration")) r.registration = registration_from(document.at("registration"));
    if (document.contains("table")) r.table = document.at("table").get<TableForm>();
    if (document.contains("target")) r.assessment.target = comparison_from(document.at("target"));
    for (const auto& table : document.at("budgets")) r.budgets.push_back(budget_from(table));
    if (r.relative_thickness_mm.rows() != Target::kNodesAlong ||
        r.relative_thickness_mm.cols() != Target::kNodesAcross) {
      throw std::invalid_argument("the relative thickness has a wrong shape");
    }
    return r;
  } catch (const json::exception&) {
    throw InputError(where + ": is damaged or was changed by hand." + remedy);
  } catch (const std::invalid_argument&) {
    throw InputError(where + ": is damaged or was changed by hand." + remedy);
  }
}

Result read_result(const std::filesystem::path& path) {
  std::error_code error;
  const std::filesystem::path file_path = std::filesystem::is_directory(path, error) ? path / "result.json" : path;
  const ScanFile file(file_path);
  constexpr std::uint64_t largest_result = 256U << 20U;
  if (file.size() > largest_result) file.fail("is too large for a result.");
  return result_from_json(file.all(), file_path.string());
}

}  // namespace canewise
