#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace canewise {

/// A value of the ledger: not known, words, a whole number or a number.
using Cell = std::variant<std::monostate, std::string, std::int64_t, double>;
/// One entry: its columns by name. A column that is missing is not known.
using Row = std::map<std::string, Cell, std::less<>>;
using Rows = std::vector<Row>;

[[nodiscard]] inline bool is_known(const Cell& cell) { return !std::holds_alternative<std::monostate>(cell); }
/// Empty where they are not known.
[[nodiscard]] inline std::string words_in(const Row& row, std::string_view column) {
  const auto found = row.find(column);
  const auto* const words = found == row.end() ? nullptr : std::get_if<std::string>(&found->second);
  return words == nullptr ? std::string() : *words;
}
[[nodiscard]] inline std::optional<double> number_in(const Row& row, std::string_view column) {
  const auto found = row.find(column);
  if (found == row.end()) return std::nullopt;
  if (const auto* const whole = std::get_if<std::int64_t>(&found->second)) return static_cast<double>(*whole);
  const auto* const number = std::get_if<double>(&found->second);
  return number == nullptr ? std::nullopt : std::optional(*number);
}

}  // namespace canewise
