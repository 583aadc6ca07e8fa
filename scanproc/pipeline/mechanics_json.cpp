#include <array>
#include <nlohmann/json.hpp>

#include "scanproc/pipeline/fields_json.h"
#include "scanproc/pipeline/figure_keys.h"
#include "scanproc/pipeline/result_parts_json.h"
#include "scanproc/words/message_json.h"

namespace canewise {

using nlohmann::json;

// The macros name each type's members once for both directions; a member's name is its key, unit included.
// NOLINTBEGIN(cppcoreguidelines-macro-usage)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(FeelerStop, gauge_mm, at_mm)
// NOLINTEND(cppcoreguidelines-macro-usage)

void to_json(json& object, const FacingCurve& curve) {
  object = {{"tip_opening_mm", curve.tip_opening_mm}, {"length_mm", curve.length_mm}, {"power", curve.power}};
  if (!curve.stops.empty()) object["stops"] = curve.stops;
}
void from_json(const json& object, FacingCurve& curve) {
  object.at("tip_opening_mm").get_to(curve.tip_opening_mm);
  object.at("length_mm").get_to(curve.length_mm);
  object.at("power").get_to(curve.power);
  if (object.contains("stops")) object.at("stops").get_to(curve.stops);
}

// NOLINTBEGIN(cppcoreguidelines-macro-usage)
NLOHMANN_JSON_SERIALIZE_ENUM(Verdict, {{Verdict::cannot_tell, "cannot tell"},
                                       {Verdict::within, "within"},
                                       {Verdict::outside, "outside"}})
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(SpreadValue, value, u_scan, u_cane)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(LyingOnRails, left_rests_mm, right_rests_mm, imbalance_tip_by_facing,
                                   imbalance_lip_by_facing)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(ComplianceAt, x_mm, left_mm_per_n, centre_mm_per_n, right_mm_per_n)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(Mouthpiece, window_end_mm, ligature_mm, rail_width_mm, left, right,
                                   facing_is_invented)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(ClosingPoint, pressure_kpa, left_mm, centre_mm, right_mm, left_rests_mm,
                                   right_rests_mm)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(OtherOpening, tip_opening_mm, stiffness_ratio)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(Closing, mouthpiece, lip_force_n, curve, pressure_kpa, u_pressure_kpa,
                                   right_minus_left_um, facing_right_minus_left_um, others)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(Strength, known, halves, u_halves, sentence, advice)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(ClippedReed, clip_mm, stiffness_lip_n_per_mm, stiffness_ratio, tip_thickness_mm)
// NOLINTEND(cppcoreguidelines-macro-usage)

void to_json(json& object, const ReedMode& mode) {
  object = {{"frequency_hz", mode.frequency_hz}, {"kind", mode.kind}, {"shape", rows_from(mode.shape)}};
}
void from_json(const json& object, ReedMode& mode) {
  object.at("frequency_hz").get_to(mode.frequency_hz);
  object.at("kind").get_to(mode.kind);
  mode.shape = field_from(object.at("shape"));
}

json json_from(const Mechanics& m) {
  if (!m.known()) return {{"why_not", m.why_not}};
  json object{{"sentence", m.sentence},
              {"cane", m.cane},
              {"tip_patch_at_mm", m.tip_patch_at_mm},
              {"lip_at_mm", m.lip_at_mm},
              {"lip_length_mm", m.lip_length_mm},
              {"imbalance_tolerance", m.imbalance_tolerance},
              {"modes", m.modes},
              {"along", m.along},
              {"bent_mm", rows_from(m.bent_mm)},
              {"shape_step_mm", m.shape_step_mm},
              {"shape_first_y_mm", m.shape_first_y_mm},
              {"closing", m.closing},
              {"strength", m.strength}};
  if (m.lying) object["lying"] = *m.lying;
  for (const BendingFigure figure : kBendingFigures) {
    object["figures"][kFigureKeys.at(index_of(figure))] = m.figure(figure);
    if (is_imbalance(figure)) object["verdicts"][kFigureKeys.at(index_of(figure))] = m.verdicts.at(index_of(figure));
  }
  for (const BendingFigure figure : kKeptSensitivities) {
    object["sensitivity_millionths_per_10_um_and_mm2"][kFigureKeys.at(index_of(figure))] =
        millionths_from(m.sensitivity.at(index_of(figure)));
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
  // Results of before have what was everybody's.
  m.imbalance_tolerance = object.value("imbalance_tolerance", kUsualTolerances.imbalance);
  if (object.contains("lying")) m.lying = object.at("lying").get<LyingOnRails>();
  object.at("modes").get_to(m.modes);
  object.at("along").get_to(m.along);
  m.bent_mm = field_from(object.at("bent_mm"));
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
    m.sensitivity.at(index_of(figure)) = field_from_millionths(
        object.at("sensitivity_millionths_per_10_um_and_mm2").at(kFigureKeys.at(index_of(figure))));
  }
  return m;
}

json json_from(const std::vector<ClippedReed>& clipped) { return clipped; }
std::vector<ClippedReed> clipped_from(const json& list) { return list; }

}  // namespace canewise
