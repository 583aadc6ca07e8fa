#include <nlohmann/json.hpp>

#include "scanproc/pipeline/result_parts_json.h"

namespace canewise {

using nlohmann::json;

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

}  // namespace canewise
