#include "scanproc/pipeline/result_json.h"

#include <array>
#include <cmath>
#include <functional>
#include <limits>
#include <nlohmann/json.hpp>

#include "scanproc/bytes/number_text.h"
#include "scanproc/bytes/scan_file.h"
#include "scanproc/core/error.h"
#include "scanproc/pipeline/check_result.h"
#include "scanproc/pipeline/fields_json.h"
#include "scanproc/pipeline/result_caps.h"
#include "scanproc/pipeline/result_parts_json.h"
#include "scanproc/words/message_json.h"

namespace canewise {

using nlohmann::json;

// NOLINTNEXTLINE(cppcoreguidelines-macro-usage)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(ReedName, label, box, player)
// NOLINTNEXTLINE(cppcoreguidelines-macro-usage)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(ScanSource, file, sha256, format, unit, unit_guessed, points, dropped_non_finite)

namespace {

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

/// The value of that name; throws Impossible for what is none.
template <typename Enum, std::size_t n>
Enum one_of(const json& document, const char* key, const std::array<Enum, n>& values) {
  const auto name = document.at(key).get<std::string>();
  for (const Enum value : values) {
    if (name == name_of(value)) return value;
  }
  throw Impossible{{"result.no_such_name", {{"key", canewise::text(key)}}}};
}

/// Of version 2, nulls taken for NaN.
Result result_from(const json& document) {
  Result r;
  document.at("program_version").get_to(r.program_version);
  document.at("measured_at").get_to(r.measured_at);
  document.at("headline").get_to(r.headline);
  document.at("certainty").get_to(r.certainty);
  document.at("scans").get_to(r.scans);
  if (document.contains("reed")) document.at("reed").get_to(r.reed);
  r.state = one_of<MoistureState>(document, "state", kMoistureStates);
  if (document.contains("cane")) r.cane = cane_from(document.at("cane"));
  if (r.cane && r.cane->state != r.state) throw Impossible{Message{"result.cane"}};
  r.datum = one_of<DatumMode>(document, "datum", kDatumModes);
  r.handedness = one_of<HandednessSource>(document, "handedness", kHandednessSources);
  document.at("instrument").get_to(r.instrument);
  document.at("instrument_given").get_to(r.instrument_given);
  r.rig = rig_from(document.at("rig"));
  r.player = player_from(document.at("player"));
  document.at("options").get_to(r.options);
  document.at("notes").get_to(r.notes);
  r.outline = outline_from(document.at("outline"));
  r.frame = frame_from(document.at("frame_uncertainty"));
  document.at("plate_noise_mm").get_to(r.plate_noise_mm);
  document.at("spacing_mm").get_to(r.spacing_mm);
  r.map = map_from(document.at("map"));
  r.assessment.cut = cut_from(document.at("cut"));
  r.assessment.zone_thickness = zones_from(document.at("zones"));
  balance_from(document.at("balance"), r.map, r.assessment);
  r.relative_thickness_mm = field_from(document.at("relative_thickness_mm"));
  r.texture = texture_from(document.at("texture"));
  // Results of before have none.
  if (document.contains("mechanics")) {
    r.mechanics = mechanics_from(document.at("mechanics"));
    r.clipped = clipped_from(document.at("clipped"));
  } else {
    r.mechanics.why_not = Message("result.without_bending");
  }
  r.plan = plan_from(document.at("plan"));
  if (document.contains("registration")) r.registration = registration_from(document.at("registration"));
  if (document.contains("table")) r.table = table_from(document.at("table"));
  if (document.contains("target")) r.assessment.target = target_from(document.at("target"), r);
  r.budgets = budgets_from(document.at("budgets"));
  check(r);
  r.assessment.zones =
      map_zones(r.map.grid, r.outline, r.assessment.cut.vamp_length_mm.value, r.assessment.cut.vamp_length_mm.u);
  if (r.assessment.target && r.assessment.target->deviation_mm.size() == 0)  // Results of before have none.
    r.assessment.target->deviation_mm =
        deviation_mm({.map = r.map, .zones = r.assessment.zones, .outline = r.outline}, r.assessment.target->target);
  return r;
}

/// Throws what `refuse` makes of numbers and depths that no result has, and json::exception.
json parsed(const std::string& text, const std::function<InputError(Message)>& refuse) {
  return json::parse(text, [&](int depth, json::parse_event_t, json& value) {
    // No result holds numbers that large; made a whole number, one would be undefined.
    constexpr double largest = 2147483647.0;
    if (value.is_number_float() && std::abs(value.get<double>()) > largest) throw refuse({"result.impossible_number"});
    if (depth > kResultCaps.nesting) throw refuse({"result.too_deep", {{"most", number(kResultCaps.nesting)}}});
    return true;
  });
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
                {"state", name_of(r.state)},
                {"datum", name_of(r.datum)},
                {"handedness", name_of(r.handedness)},
                {"instrument", r.instrument},
                {"instrument_given", r.instrument_given},
                {"rig", json_from(r.rig)},
                {"player", json_from(r.player)},
                {"options", r.options},
                {"notes", r.notes},
                {"outline", json_from(r.outline)},
                {"frame_uncertainty", json_from(r.frame)},
                {"plate_noise_mm", r.plate_noise_mm},
                {"spacing_mm", r.spacing_mm},
                {"map", json_from(r.map)},
                {"cut", json_from(r.assessment.cut)},
                {"zones", json_from(r.assessment.zone_thickness)},
                {"balance", balance_json_from(r.assessment)},
                {"relative_thickness_mm", rows_from(r.relative_thickness_mm)},
                {"texture", json_from(r.texture)},
                {"mechanics", json_from(r.mechanics)},
                {"clipped", json_from(r.clipped)},
                {"budgets", json_from(r.budgets)},
                {"plan", json_from(r.plan)}};
  if (!r.reed.label.empty()) document["reed"] = r.reed;
  if (r.cane) document["cane"] = json_from(*r.cane);
  if (r.assessment.target) document["target"] = json_from(*r.assessment.target);
  if (r.registration) document["registration"] = json_from(*r.registration);
  if (r.table) document["table"] = json_from(*r.table);
  for (const MessageId caution : kCautions) document["cautions"].push_back(Message(caution));
  return document.dump(-1, ' ', false, json::error_handler_t::replace) + "\n";
}

namespace {

/// Lets go of the text once it is a document.
Result result_from_text(std::string text, const std::string& where) {
  const auto refuse = [&](Message what) {
    return InputError({"in_file", {{"file", canewise::text(where)}, {"what", part(std::move(what))}}});
  };
  if (text.find('{') != 0) throw refuse({"result.is_none"});
  try {
    check_text(text);
    json document = parsed(text, refuse);
    std::string().swap(text);
    if (document.value("format", "") != "canewise-result") throw refuse({"result.of_something_else"});
    const int version = document.value("version", 0);
    if (version == 1) {
      take_prose_as_messages(document);
    } else if (version != kResultVersion) {
      throw refuse({"result.other_version"});
    }
    check_lengths(document);
    nulls_to_nan(document);
    return result_from(document);
  } catch (const json::exception&) {
    throw refuse({"result.damaged"});
  } catch (const Impossible& found) {
    throw refuse({"result.damaged_because", {{"why", part(found.why)}}});
  } catch (const std::invalid_argument&) {
    throw refuse({"result.damaged"});
  }
}

}  // namespace

Result result_from_json(const std::string& text, const std::string& where) { return result_from_text(text, where); }

Result read_result(const std::filesystem::path& path) {
  std::error_code error;
  const std::filesystem::path file_path = std::filesystem::is_directory(path, error) ? path / "result.json" : path;
  const ScanFile file(file_path);
  if (file.size() > kResultCaps.file_mib << 20U)
    file.fail({"result.too_large", {{"mib", digits(kResultCaps.file_mib)}}});
  return result_from_text(file.all(), file_path.string());
}

}  // namespace canewise
