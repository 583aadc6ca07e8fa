#include "scanproc/scan/settings.h"

#include <toml++/toml.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <sstream>

#include "scanproc/core/error.h"
#include "scanproc/scan/number_text.h"
#include "scanproc/scan/scan_file.h"

namespace canewise {

struct Settings::Build {
  static constexpr int kDeepest = 8;  // No settings file nests deeper; recursion must end.

  static Value from(const toml::node& node, int depth = 0) {
    Value value;
    value.line = static_cast<int>(node.source().begin.line);
    if (depth > kDeepest) return value;
    if (node.is_string()) {
      value.kind = Value::Kind::text;
      value.text = *node.value<std::string>();
    } else if (node.is_boolean()) {
      value.kind = Value::Kind::flag;
      value.flag = *node.value<bool>();
    } else if (node.is_number()) {
      value.kind = Value::Kind::number;
      value.number = *node.value<double>();
    } else if (const auto* list = node.as_array()) {
      value.kind = Value::Kind::list;
      for (const auto& item : *list) value.items.push_back(from(item, depth + 1));
    } else if (const auto* table = node.as_table()) {
      value.kind = Value::Kind::table;
      for (const auto& [key, item] : *table)
        value.entries.emplace(std::string(key.str().substr(0, 200)), from(item, depth + 1));
    }
    return value;
  }

  static Value from(const nlohmann::json& node, int depth = 0) {
    Value value;
    if (depth > kDeepest) return value;
    if (node.is_string()) {
      value.kind = Value::Kind::text;
      value.text = node.get<std::string>();
    } else if (node.is_boolean()) {
      value.kind = Value::Kind::flag;
      value.flag = node.get<bool>();
    } else if (node.is_number()) {
      value.kind = Value::Kind::number;
      value.number = node.get<double>();
    } else if (node.is_array()) {
      value.kind = Value::Kind::list;
      for (const auto& item : node) value.items.push_back(from(item, depth + 1));
    } else if (node.is_object()) {
      value.kind = Value::Kind::table;
      for (const auto& [key, item] : node.items()) value.entries.emplace(key.substr(0, 200), from(item, depth + 1));
    }
    return value;
  }
};

Settings Settings::parse(const std::string& text, const std::string& name) {
  Settings settings;
  settings.file_ = name;
  const auto first = text.find_first_not_of(" \t\r\n");
  if (first != std::string::npos && text[first] == '{') {
    try {
      settings.root_ = Build::from(nlohmann::json::parse(text));
    } catch (const nlohmann::json::exception&) {
      // The library's own words hold a number of its own and the text; where it stopped is found again instead.
      const bool complete = nlohmann::json::accept(text, true);
      throw InputError(name + ": is no readable JSON" + (complete ? " (it has comments, which JSON has not)" : "") +
                       ". Check its brackets, commas and quotes, or write it as TOML.");
    }
    return settings;
  }
  try {
    settings.root_ = Build::from(static_cast<const toml::node&>(toml::parse(text)));
  } catch (const toml::parse_error& error) {
    throw InputError(name + ": line " + std::to_string(error.source().begin.line) + ": " +
                     std::string(error.description()) + ". Mend the file.");
  }
  return settings;
}

Settings Settings::read(const std::filesystem::path& path) {
  const ScanFile file(path);
  constexpr std::uint64_t largest = 1U << 20U;
  if (file.size() > largest) file.fail("is too large for a settings file. Was another file meant?");
  return parse(file.all(), path.string());
}

const Settings::Value* Settings::find(const std::string& key) {
  asked_.insert(key);
  const auto found = root_.entries.find(key);
  return found == root_.entries.end() ? nullptr : &found->second;
}

bool Settings::has(const std::string& key) { return find(key) != nullptr; }

std::optional<double> Settings::number(const std::string& key, double low, double high) {
  const Value* value = find(key);
  if (value == nullptr) return std::nullopt;
  if (value->kind != Value::Kind::number || !(value->number >= low && value->number <= high)) {
    std::ostringstream limits;
    limits << "must be a number from " << low << " to " << high << ".";
    fail(key, limits.str());
  }
  return value->number;
}

std::optional<std::string> Settings::text(const std::string& key) {
  const Value* value = find(key);
  if (value == nullptr) return std::nullopt;
  if (value->kind != Value::Kind::text) fail(key, "must be a text in quotes.");
  return value->text;
}

std::optional<bool> Settings::flag(const std::string& key) {
  const Value* value = find(key);
  if (value == nullptr) return std::nullopt;
  if (value->kind != Value::Kind::flag) fail(key, "must be true or false.");
  return value->flag;
}

std::vector<double> Settings::numbers(const std::string& key, std::size_t count, double low, double high) {
  const Value* value = find(key);
  if (value == nullptr) return {};
  std::vector<double> result;
  for (const auto& item : value->items) {
    if (item.kind == Value::Kind::number && item.number >= low && item.number <= high) result.push_back(item.number);
  }
  if (value->kind != Value::Kind::list || result.size() != count || value->items.size() != count) {
    std::ostringstream limits;
    limits << "must be a list of " << count << " numbers from " << low << " to " << high << ".";
    fail(key, limits.str());
  }
  return result;
}

std::vector<double> Settings::numbers_up_to(const std::string& key, std::size_t most, double low, double high) {
  const Value* value = find(key);
  if (value == nullptr) return {};
  if (value->kind != Value::Kind::list || value->items.size() > most)
    fail(key, "must be a list of at most " + std::to_string(most) + " numbers.");
  return numbers(key, value->items.size(), low, high);
}

std::vector<Settings> Settings::tables(const std::string& key) {
  std::vector<Settings> all;
  const Value* value = find(key);
  if (value == nullptr) return all;
  const bool list = value->kind == Value::Kind::list;
  if (!list && value->kind != Value::Kind::table) fail(key, "must be tables: write [[" + key + "]].");
  const std::size_t count = list ? value->items.size() : 1;
  for (std::size_t i = 0; i < count; ++i) {
    const Value& item = list ? value->items[i] : *value;
    if (item.kind != Value::Kind::table) fail(key, "must be tables: write [[" + key + "]].");
    Settings inner;
    inner.file_ = file_;
    inner.prefix_ = prefix_ + key + (count > 1 ? " " + std::to_string(i + 1) : "") + ".";
    inner.root_ = item;
    all.push_back(std::move(inner));
  }
  return all;
}

std::map<std::string, std::string> Settings::all_texts() {
  std::map<std::string, std::string> all;
  for (const auto& [key, value] : root_.entries) all[key] = *text(key);
  return all;
}

std::map<std::string, double> Settings::all_numbers(double low, double high) {
  std::map<std::string, double> all;
  for (const auto& [key, value] : root_.entries) all[key] = *number(key, low, high);
  return all;
}

std::vector<std::string> Settings::texts(const std::string& key) {
  const Value* value = find(key);
  if (value == nullptr) return {};
  std::vector<std::string> result;
  for (const auto& item : value->items) {
    if (item.kind != Value::Kind::text) fail(key, "must be a list of texts in quotes.");
    result.push_back(item.text);
  }
  if (value->kind != Value::Kind::list) fail(key, "must be a list of texts in quotes.");
  return result;
}

Settings Settings::table(const std::string& key) {
  Settings inner;
  inner.file_ = file_;
  inner.prefix_ = prefix_ + key + ".";
  if (const Value* value = find(key)) {
    if (value->kind != Value::Kind::table) fail(key, "must be a table.");
    inner.root_ = *value;
  }
  return inner;
}

void Settings::refuse_unknown() const {
  for (const auto& [key, value] : root_.entries) {
    if (asked_.contains(key)) continue;
    std::string known;
    for (const auto& name : asked_) known += (known.empty() ? "" : ", ") + name;
    fail(key, "is unknown. Known are: " + known + ".");
  }
}

void Settings::fail(const std::string& key, const std::string& what) const {
  const auto found = root_.entries.find(key);
  const int line = found == root_.entries.end() ? 0 : found->second.line;
  throw InputError(file_ + ": " + (line > 0 ? "line " + std::to_string(line) + ": " : std::string()) +
                   shown(prefix_ + key) + " " + what);
}

}  // namespace canewise
