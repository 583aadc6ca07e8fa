#include <array>
#include <nlohmann/json.hpp>

#include "scanproc/pipeline/result_parts_json.h"

namespace canewise {

using nlohmann::json;

// The macros name each type's members once for both directions; a member's name is its key, unit included.
// NOLINTBEGIN(cppcoreguidelines-macro-usage)
NLOHMANN_JSON_SERIALIZE_ENUM(MoistureState, {{MoistureState::unknown, "unknown"},
                                             {MoistureState::dry, "dry"},
                                             {MoistureState::wet, "wet"}})
// Priors that came later take their defaults in results of before.
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE_WITH_DEFAULT(Priors, seating_offset_um, seating_roll_um, seating_pitch_um,
                                                table_bow_um, table_cup_um, table_twist_um, tip_lift_um,
                                                tip_curl_side_um, scale_rel, plate_form_um, penetration_um,
                                                pose_bending_um, smooth_um, smooth_length_mm)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(Pads, above_table_mm, u_above_table_um)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(FeelerReading, gauge_mm, left_mm, right_mm)
// NOLINTEND(cppcoreguidelines-macro-usage)

namespace {

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
    PlayerOption{"lip_at_mm", &Player::lip_at_mm},
    PlayerOption{"lip_length_mm", &Player::lip_length_mm},
    PlayerOption{"lip_force_n", &Player::lip_force_n},
    PlayerOption{"tip_patch_at_mm", &Player::tip_patch_at_mm},
    PlayerOption{"wanted_halves", &Player::wanted_halves},
};

}  // namespace

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

json json_from(const Player& player) {
  json object{{"name", player.name},
              {"depth_per_stroke_um", player.depth_per_stroke_um},
              {"u_depth_per_stroke_rel", player.u_depth_per_stroke_rel},
              {"hand_is_known", player.hand_is_known},
              {"tool_width_mm", player.tool_width_mm}};
  const auto add = [&](const char* key, const std::optional<double>& value) {
    if (value) object[key] = *value;
  };
  for (const auto& entry : kPlayerOptions) add(entry.name, player.*entry.member);
  if (!player.hand_learned_from.empty()) object["hand_learned_from"] = player.hand_learned_from;
  if (!player.feelers.empty()) object["feelers"] = player.feelers;
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
  player.u_depth_per_stroke_rel = object.value("u_depth_per_stroke_rel", player.u_depth_per_stroke_rel);
  player.hand_learned_from = object.value("hand_learned_from", std::vector<std::string>());
  player.feelers = object.value("feelers", std::vector<FeelerReading>());
  if (!object.contains("known_reeds")) return player;
  for (const auto& reed : object.at("known_reeds")) {
    player.known.push_back({reed.at("mark").get<std::string>(), reed.at("halves").get<double>(),
                            reed.at("stiffness_n_per_mm").get<double>(), reed.value("state", MoistureState::unknown)});
  }
  return player;
}

}  // namespace canewise
