#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <variant>
#include <vector>

namespace canewise {

/// A value of the ledger: not known, words, a whole number or a number.
using Cell = std::variant<std::monostate, std::string, std::int64_t, double>;
/// One entry: its columns by name. A column that is missing is not known.
using Row = std::map<std::string, Cell, std::less<>>;
using Rows = std::vector<Row>;

[[nodiscard]] inline bool is_known(const Cell& cell) { return !std::holds_alternative<std::monostate>(cell); }

}  // namespace canewise
