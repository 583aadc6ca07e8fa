#pragma once

#include <limits>
#include <string_view>
#include <vector>

#include "scanproc/ledger/row.h"

namespace canewise {

/// What a column may hold.
enum class ColumnKind {
  words,   ///< Free text of several lines.
  name,    ///< One line that a terminal can show.
  label,   ///< A name that a file can have too: no slashes, nothing hidden, no option.
  number,  ///< Within its bounds.
  whole,
  yes_no,  ///< 1 or 0.
  day,     ///< '2026-12-01'.
  moment,  ///< '2026-12-01T18:30:00Z'.
  choice,  ///< One of `choices`.
};

struct Column {
  std::string_view name;
  ColumnKind kind = ColumnKind::words;
  bool is_required = false;
  double low = -std::numeric_limits<double>::infinity(), high = std::numeric_limits<double>::infinity();
  std::string_view refers_to = {};             ///< Table whose key it names.
  std::vector<std::string_view> choices = {};  ///< Of a choice.
};

struct Table {
  std::string_view name;
  std::string_view key;  ///< Column that names an entry; 'id' is counted up by the ledger.
  std::vector<Column> columns;
  [[nodiscard]] bool is_numbered() const { return key == "id"; }
};

/// Everything that the ledger keeps, each table after those that it refers to. Export, import, checks and the command
/// follow this list; the SQL that makes the tables stands in migrations.cpp, and a test holds the two equal.
[[nodiscard]] const std::vector<Table>& tables();
/// Throws std::logic_error for a name that is none: names of tables never come from outside.
[[nodiscard]] const Table& table_named(std::string_view name);
/// Null if the table has no such column.
[[nodiscard]] const Column* column_of(const Table& table, std::string_view name);

/// What somebody typed as the column takes it: 'yes' and 'no', numbers, words; of a day without a time its noon; '' is
/// not known. What fits no column is left as words, for check_row to refuse.
[[nodiscard]] Cell cell_from_text(const Column& column, const std::string& typed);

/// Throws UsageError that names table, column and what it may hold. Required columns are asked for where `is_whole`.
void check_row(const Table& table, const Row& row, bool is_whole);

}  // namespace canewise
