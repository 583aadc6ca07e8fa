#include "scanproc/bytes/settings.h"

#include <fmt/format.h>
#include <toml++/toml.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <string_view>
#include <utility>

#include "scanproc/bytes/number_text.h"
#include "scanproc/bytes/scan_file.h"
#include "scanproc/bytes/text_bounds.h"
#include "scanproc/core/error.h"
#include "scanproc/words/short_text.h"

namespace canewise {
namespace {

/// A limit with as many decimals as it has; very large and very small ones as files write them.
Argument limit(double value) {
  const std::string written = fmt::format("{:g}", value);
  if (written.find('e') != std::string::npos) return text(written);
  const auto point = written.find('.');
  return number(value, point == std::string::npos ? 0 : static_cast<int>(written.size() - point - 1));
}

/// A line, from 1 on.
std::string_view line_of(std::string_view text, std::size_t line) {
  for (; line > 1 && text.find('\n') != std::string_view::npos; --line) text.remove_prefix(text.find('\n') + 1);
  return text.substr(0, text.find_first_of("\r\n"));
}

void refuse_what_is_no_settings(const std::string& text, const std::string& name) {
  constexpr std::uint64_t most_containers = 10000, most_keys = 20000, deepest = 100;
  const TextParts parts = parts_of(text);
  const auto refuse = [&](MessageId what, std::uint64_t most) {
    const Message why{what, {{"most", digits(most)}}};
    throw InputError({"in_file", {{"file", canewise::text(name)}, {"what", part(why)}}});
  };
  if (parts.containers > most_containers) refuse("settings.many_tables", most_containers);
  if (parts.keys > most_keys) refuse("settings.many_keys", most_keys);
  if (parts.longest_path > deepest) refuse("settings.long_path", deepest);
}

}  // namespace

struct Settings::Build {
  static constexpr int kDeepest = 8;  // No settings file nests deeper; recursion must end.

  /// Lists of numbers may be long, and a number is short.
  static void add_to(Value& list, Value item) {
    if (item.kind == Value::Kind::number) {
      list.numbers.push_back(item.number);
    } else {
      list.items.push_back(std::move(item));
    }
  }

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
      for (const auto& item : *list) add_to(value, from(item, depth + 1));
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
      for (const auto& item : node) add_to(value, from(item, depth + 1));
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
  refuse_what_is_no_settings(text, name);
  const auto first = text.find_first_not_of(" \t\r\n");
  if (first != std::string::npos && text[first] == '{') {
    try {
      settings.root_ = Build::from(nlohmann::json::parse(text));
    } catch (const nlohmann::json::exception&) {
      // The library's own words hold a number of its own and the text; where it stopped is found again instead.
      const bool complete = nlohmann::json::accept(text, true);
      throw InputError(
          {"settings.no_json", {{"file", canewise::text(name)}, {"has_comments", word(complete ? "yes" : "no")}}});
    }
    return settings;
  }
  try {
    settings.root_ = Build::from(static_cast<const toml::node&>(toml::parse(text)));
  } catch (const toml::parse_error& error) {
    // The library gives its reason in English alone; the line itself needs no language.
    const auto& at = error.source().begin;
    throw InputError({"settings.no_toml",
                      {{"file", canewise::text(name)},
                       {"line", digits(at.line)},
                       {"column", digits(at.column)},
                       {"written", short_text(line_of(text, at.line))}}});
  }
  return settings;
}

Settings Settings::read(const std::filesystem::path& path) {
  const ScanFile file(path);
  constexpr std::uint64_t largest = 1U << 20U;
  if (file.size() > largest) file.fail({"settings.too_large", {{"mib", digits(largest >> 20U)}}});
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
    fail(key, {"settings.no_number", {{"low", limit(low)}, {"high", limit(high)}}});
  }
  return value->number;
}

std::optional<std::string> Settings::text(const std::string& key) {
  const Value* value = find(key);
  if (value == nullptr) return std::nullopt;
  if (value->kind != Value::Kind::text) fail(key, {"settings.no_text"});
  return value->text;
}

std::optional<bool> Settings::flag(const std::string& key) {
  const Value* value = find(key);
  if (value == nullptr) return std::nullopt;
  if (value->kind != Value::Kind::flag) fail(key, {"settings.no_flag"});
  return value->flag;
}

std::vector<double> Settings::numbers(const std::string& key, std::size_t count, double low, double high) {
  const Value* value = find(key);
  if (value == nullptr) return {};
  std::vector<double> result;
  for (const double item : value->numbers) {
    if (item >= low && item <= high) result.push_back(item);
  }
  if (value->kind != Value::Kind::list || result.size() != count || value->size() != count) {
    fail(key, {"settings.no_numbers", {{"count", digits(count)}, {"low", limit(low)}, {"high", limit(high)}}});
  }
  return result;
}

std::vector<double> Settings::numbers_up_to(const std::string& key, std::size_t most, double low, double high) {
  const Value* value = find(key);
  if (value == nullptr) return {};
  if (value->kind != Value::Kind::list || value->size() > most)
    fail(key, {"settings.too_many_numbers", {{"most", digits(most)}}});
  return numbers(key, value->size(), low, high);
}

std::vector<Settings> Settings::tables(const std::string& key) {
  std::vector<Settings> all;
  const Value* value = find(key);
  if (value == nullptr) return all;
  const bool list = value->kind == Value::Kind::list;
  const auto refuse = [&] { fail(key, {"settings.no_tables", {{"key", canewise::text(key)}}}); };
  if ((!list && value->kind != Value::Kind::table) || !value->numbers.empty()) refuse();
  const std::size_t count = list ? value->items.size() : 1;
  for (std::size_t i = 0; i < count; ++i) {
    const Value& item = list ? value->items[i] : *value;
    if (item.kind != Value::Kind::table) refuse();
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
    if (item.kind != Value::Kind::text) fail(key, {"settings.no_texts"});
    result.push_back(item.text);
  }
  if (value->kind != Value::Kind::list || !value->numbers.empty()) fail(key, {"settings.no_texts"});
  return result;
}

Settings Settings::table(const std::string& key) {
  Settings inner;
  inner.file_ = file_;
  inner.prefix_ = prefix_ + key + ".";
  if (const Value* value = find(key)) {
    if (value->kind != Value::Kind::table) fail(key, {"settings.no_table"});
    inner.root_ = *value;
  }
  return inner;
}

void Settings::refuse_unknown() const {
  for (const auto& [key, value] : root_.entries) {
    if (asked_.contains(key)) continue;
    std::string known;
    for (const auto& name : asked_) known += (known.empty() ? "" : ", ") + name;
    fail(key, {"settings.unknown", {{"known", canewise::text(known)}}});
  }
}

void Settings::fail(const std::string& key, Message what) const {
  const auto found = root_.entries.find(key);
  const int line = found == root_.entries.end() ? 0 : found->second.line;
  Arguments with{{"file", canewise::text(file_)}, {"key", excerpt(prefix_ + key)}, {"what", part(std::move(what))}};
  if (line <= 0) throw InputError({"settings.at_key", std::move(with)});
  with.emplace("line", canewise::number(line));
  throw InputError({"settings.at_line", std::move(with)});
}

}  // namespace canewise
