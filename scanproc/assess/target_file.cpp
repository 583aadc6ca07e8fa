#include "scanproc/assess/target_file.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>
#include <utility>

#include "scanproc/assess/builtin_data.h"
#include "scanproc/bytes/number_text.h"
#include "scanproc/bytes/scan_file.h"
#include "scanproc/bytes/text_bounds.h"
#include "scanproc/core/error.h"

namespace canewise {
namespace {

using nlohmann::json;

constexpr int kVersion = 1;

json rows_of(const Eigen::ArrayXXd& field) {
  json rows = json::array();
  for (Eigen::Index i = 0; i < field.rows(); ++i) {
    json row = json::array();
    for (Eigen::Index j = 0; j < field.cols(); ++j) {
      if (std::isnan(field(i, j))) {
        row.push_back(nullptr);
      } else {
        row.push_back(std::round(field(i, j) * 1e5) / 1e5);
      }
    }
    rows.push_back(std::move(row));
  }
  return rows;
}

[[noreturn]] void refuse(const std::string& where, Message what) {
  throw InputError({"in_file", {{"file", text(where)}, {"what", part(std::move(what))}}});
}

/// Before it is made a document, which takes many times the text.
void refuse_what_is_no_target(const std::string& content, const std::string& where) {
  constexpr std::uint64_t most = 10000;
  const TextParts parts = parts_of(content);
  if (std::max(parts.containers, parts.keys) > most) refuse(where, {"target_file.too_many", {{"most", digits(most)}}});
}

Eigen::ArrayXXd field_from(const json& rows, const std::string& where, const char* key) {
  const auto fail = [&] {
    refuse(where,
           {"target_file.field",
            {{"key", text(key)}, {"rows", count(Target::kNodesAlong)}, {"columns", count(Target::kNodesAcross)}}});
  };
  if (!rows.is_array() || rows.size() != Target::kNodesAlong) fail();
  Eigen::ArrayXXd field(Target::kNodesAlong, Target::kNodesAcross);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (!rows[i].is_array() || rows[i].size() != Target::kNodesAcross) fail();
    for (std::size_t j = 0; j < rows[i].size(); ++j) {
      const json& value = rows[i][j];
      if (!value.is_null() && !value.is_number()) fail();
      const double node_mm = value.is_null() ? std::numeric_limits<double>::quiet_NaN() : value.get<double>();
      constexpr double thickest_mm = 10.0;
      if (node_mm < 0.0 || node_mm > thickest_mm) fail();
      field(static_cast<Eigen::Index>(i), static_cast<Eigen::Index>(j)) = node_mm;
    }
  }
  return field;
}

}  // namespace

Target target_from_json(const std::string& content, const std::string& where) {
  try {
    refuse_what_is_no_target(content, where);
    const json document = json::parse(content, [&](int depth, json::parse_event_t, json& value) {
      constexpr int deepest = 8;
      if (depth > deepest) refuse(where, {"target_file.too_deep", {{"most", count(deepest)}}});
      // No such file holds numbers that large; made a whole number, one would be undefined.
      constexpr double largest = 2147483647.0;
      if (value.is_number_float() && std::abs(value.get<double>()) > largest) {
        refuse(where, {"target_file.impossible_number"});
      }
      return true;
    });
    if (document.value("format", "") != "canewise-target" || document.value("version", 0) != kVersion) {
      refuse(where, {"target_file.version", {{"version", count(kVersion)}}});
    }
    Target target;
    target.name = document.at("name").get<std::string>();
    target.title = document.at("title").get<std::string>();
    target.instrument = document.at("instrument").get<std::string>();
    target.origin = document.at("origin").get<std::string>();
    target.reeds = document.at("reeds").get<int>();
    const auto blank = document.at("blank").get<std::string>();
    target.blank = blank == "thin" ? Blank::thin : blank == "thick" ? Blank::thick : Blank::medium;
    target.filed = document.at("filed").get<bool>();
    const auto state = moisture_from(document.value("state", "unknown"));
    if (!state) refuse(where, {"target_file.damaged"});
    target.state = *state;
    target.rig = document.value("rig", "");
    target.vamp_length_mm = document.at("vamp_length_mm").get<double>();
    target.thickness_mm = field_from(document.at("thickness_mm"), where, "thickness_mm");
    target.tolerance_mm = field_from(document.at("tolerance_mm"), where, "tolerance_mm");
    return target;
  } catch (const json::exception& error) {
    // The library's own text names its internals; the byte position in it does not help a player.
    refuse(where, {"target_file.damaged"});
  }
}

std::string json_from_target(const Target& target) {
  json document;
  document["format"] = "canewise-target";
  document["version"] = kVersion;
  document["name"] = target.name;
  document["title"] = target.title;
  document["instrument"] = target.instrument;
  document["origin"] = target.origin;
  document["reeds"] = target.reeds;
  document["blank"] = name_of(target.blank);
  document["filed"] = target.filed;
  document["state"] = name_of(target.state);
  if (!target.rig.empty()) document["rig"] = target.rig;
  document["vamp_length_mm"] = target.vamp_length_mm;
  document["thickness_mm"] = rows_of(target.thickness_mm);
  document["tolerance_mm"] = rows_of(target.tolerance_mm);
  return document.dump() + "\n";
}

const std::vector<Target>& builtin_targets() {
  static const std::vector<Target> targets = [] {
    std::vector<Target> all;
    for (const auto& [name, content] : kBuiltinTargets)
      all.push_back(target_from_json(std::string(content), std::string(name)));
    return all;
  }();
  return targets;
}

Target load_target(const std::string& name_or_path) {
  for (const auto& [name, content] : kBuiltinTargets) {
    if (name == name_or_path) return target_from_json(std::string(content), name_or_path);
  }
  std::error_code error;
  const std::string made = name_or_path + ".target.json";  // As 'target make' calls it.
  if (!std::filesystem::exists(name_or_path, error) && std::filesystem::exists(made, error)) return load_target(made);
  if (!std::filesystem::exists(name_or_path, error)) {
    throw UsageError({"target.none", {{"name", text(name_or_path)}}});
  }
  const ScanFile file(name_or_path);
  constexpr std::uint64_t largest_target_file = 1U << 20U;
  if (file.size() > largest_target_file)
    file.fail({"target_file.too_large", {{"mib", digits(largest_target_file >> 20U)}}});
  return target_from_json(file.all(), name_or_path);
}

const Target* nearest_builtin(const ThicknessMap& map, const ZoneMap& zones, const Outline& outline,
                              const CutFeatures& cut, std::string_view instrument) {
  const Target* best = nullptr;
  double best_score = std::numeric_limits<double>::infinity();
  for (const Target& target : builtin_targets()) {
    if (target.instrument != instrument) continue;
    const auto comparison = compare_with_target(map, zones, outline, cut, target);
    // A reed is first compared with its own kind: another blank or filing counts like 0.2 mm of thickness.
    constexpr double other_kind_mm = 0.2;
    double score = comparison.root_mean_square_mm;
    score += target.blank != cut.blank ? other_kind_mm : 0.0;
    score += cut.filed != Verdict::cannot_tell && target.filed != (cut.filed == Verdict::within) ? other_kind_mm : 0.0;
    if (score < best_score) {
      best_score = score;
      best = &target;
    }
  }
  return best;
}

}  // namespace canewise
