#include "scanproc/ledger/exchange.h"

#include <nlohmann/json.hpp>
#include <utility>

#include "scanproc/core/error.h"
#include "scanproc/ledger/tables.h"

namespace canewise {
namespace {

using nlohmann::ordered_json;

constexpr int kExchangeVersion = 1;

ordered_json json_from(const Cell& cell) {
  return std::visit(
      [](const auto& value) -> ordered_json {
        if constexpr (std::is_same_v<std::decay_t<decltype(value)>, std::monostate>) {
          return nullptr;
        } else {
          return value;
        }
      },
      cell);
}

Cell cell_from(const nlohmann::json& value) {
  if (value.is_string()) return value.get<std::string>();
  if (value.is_number_unsigned() && value.get<std::uint64_t>() > std::uint64_t{1} << 53U) return std::nan("");
  if (value.is_number_integer()) return value.get<std::int64_t>();
  if (value.is_number()) return value.get<double>();
  if (value.is_null()) return {};
  return std::nan("");  // Which no column takes.
}

/// The columns of a table in their order, the key first if it is counted.
std::vector<std::string_view> columns_of(const Table& table) {
  std::vector<std::string_view> names;
  if (table.is_numbered()) names.push_back(table.key);
  for (const Column& column : table.columns) names.push_back(column.name);
  return names;
}

/// Whether brackets stand in brackets more often than in any export: asked before a parser grows with them.
bool is_deep(std::string_view json) {
  constexpr int deepest = 5;
  int depth = 0;
  bool in_words = false;
  for (std::size_t at = 0; at < json.size(); ++at) {
    const char c = json[at];
    if (in_words && c == '\\') ++at;
    if (c == '"') in_words = !in_words;
    if (in_words) continue;
    depth += c == '[' || c == '{' ? 1 : c == ']' || c == '}' ? -1 : 0;
    if (depth > deepest) return true;
  }
  return false;
}

void fill_table(Ledger& ledger, const Table& table, const nlohmann::json& entries) {
  std::size_t number = 0;
  for (const nlohmann::json& entry : entries) {
    ++number;
    Row row;
    for (const auto& [name, value] : entry.items()) {
      // Numbers of the file may have lost their point: 5.0 is kept as 5.
      const Column* const column = column_of(table, name);
      Cell cell = cell_from(value);
      const auto* const whole = std::get_if<std::int64_t>(&cell);
      if (column != nullptr && column->kind == ColumnKind::number && whole != nullptr)
        cell = static_cast<double>(*whole);
      row.emplace(name, std::move(cell));
    }
    try {
      ledger.insert(table.name, std::move(row));
    } catch (const UsageError& error) {
      throw UsageError({"ledger.entry_of_file", {{"n", count(number)}, {"what", part(error.message())}}});
    }
  }
}

std::string csv_cell(const Cell& cell) {
  if (!is_known(cell)) return {};
  if (!std::holds_alternative<std::string>(cell)) return json_from(cell).dump();
  const auto& words = std::get<std::string>(cell);
  std::string quoted = "\"";
  constexpr std::string_view kBeginsFormula = "=+-@\t\r";
  if (!words.empty() && kBeginsFormula.find(words.front()) != std::string_view::npos) quoted += '\'';
  for (const char c : words) {
    if (c == '"') quoted += '"';
    quoted += c;
  }
  return quoted + '"';
}

}  // namespace

std::string json_from_ledger(const Ledger& ledger) {
  ordered_json document{
      {"format", "canewise-ledger"}, {"version", kExchangeVersion}, {"tables", ordered_json::object()}};
  for (const Table& table : tables()) {
    ordered_json entries = ordered_json::array();
    for (const Row& row : ledger.rows(table.name)) {
      ordered_json entry = ordered_json::object();
      for (const std::string_view name : columns_of(table)) {
        const auto found = row.find(name);
        if (found != row.end()) entry[std::string(name)] = json_from(found->second);
      }
      entries.push_back(std::move(entry));
    }
    document["tables"][std::string(table.name)] = std::move(entries);
  }
  return document.dump(1, ' ', false, ordered_json::error_handler_t::replace) + "\n";
}

void fill_from_json(Ledger& ledger, const std::string& json, const std::string& where) {
  const auto refuse = [&](Message what) {
    return InputError({"in_file", {{"file", text(where)}, {"what", part(std::move(what))}}});
  };
  if (is_deep(json)) throw refuse({"ledger.no_export"});
  nlohmann::json document;
  try {
    document = nlohmann::json::parse(json);
  } catch (const nlohmann::json::exception&) {
    throw refuse({"ledger.no_export"});
  }
  if (!document.is_object() || !document.contains("tables") || !document["tables"].is_object() ||
      !(document.value("format", nlohmann::json()) == "canewise-ledger"))
    throw refuse({"ledger.no_export"});
  if (!(document.value("version", nlohmann::json()) == kExchangeVersion)) throw refuse({"ledger.newer"});
  ledger.in_one_step([&] {
    for (const Table& table : tables()) {
      if (ledger.count_of(table.name) > 0)
        throw UsageError({"ledger.not_empty", {{"file", text(ledger.path().string())}}});
    }
    for (const Table& table : tables()) {
      const auto entries = document["tables"].find(table.name);
      if (entries == document["tables"].end()) continue;
      if (!entries->is_array()) throw refuse({"ledger.no_export"});
      for (const nlohmann::json& entry : *entries)
        if (!entry.is_object()) throw refuse({"ledger.no_export"});
      try {
        fill_table(ledger, table, *entries);
      } catch (const UsageError& error) {
        throw refuse(error.message());
      }
    }
  });
}

std::vector<OutputFile> csv_from_ledger(const Ledger& ledger) {
  std::vector<OutputFile> files;
  for (const Table& table : tables()) {
    const auto columns = columns_of(table);
    std::string lines;
    for (const std::string_view name : columns) lines += (lines.empty() ? "" : ",") + std::string(name);
    lines += "\r\n";
    for (const Row& row : ledger.rows(table.name)) {
      std::string line;
      for (std::size_t k = 0; k < columns.size(); ++k) {
        const auto found = row.find(columns[k]);
        line += (k > 0 ? "," : "") + (found == row.end() ? std::string() : csv_cell(found->second));
      }
      lines += line + "\r\n";
    }
    files.push_back({std::string(table.name) + ".csv", std::move(lines)});
  }
  return files;
}

}  // namespace canewise
