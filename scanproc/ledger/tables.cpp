#include "scanproc/ledger/tables.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <stdexcept>
#include <string>

#include "scanproc/core/error.h"
#include "scanproc/ledger/dates.h"

namespace canewise {
namespace {

constexpr std::size_t kLongestName = 60, kLongestWords = 4000;

Column words(std::string_view name) { return {.name = name}; }
Column name(std::string_view named, bool is_required = false) {
  return {.name = named, .kind = ColumnKind::name, .is_required = is_required};
}
Column key(std::string_view named) { return {.name = named, .kind = ColumnKind::label, .is_required = true}; }
Column reference(std::string_view named, std::string_view table, bool is_required = false) {
  return {.name = named, .kind = ColumnKind::name, .is_required = is_required, .refers_to = table};
}
Column number(std::string_view named, double low, double high, bool is_required = false) {
  return {.name = named, .kind = ColumnKind::number, .is_required = is_required, .low = low, .high = high};
}
Column whole(std::string_view named, double low, double high, bool is_required = false) {
  return {.name = named, .kind = ColumnKind::whole, .is_required = is_required, .low = low, .high = high};
}
Column yes_no(std::string_view named) { return {.name = named, .kind = ColumnKind::yes_no}; }
Column day(std::string_view named, bool is_required = false) {
  return {.name = named, .kind = ColumnKind::day, .is_required = is_required};
}
Column moment(std::string_view named, bool is_required = false) {
  return {.name = named, .kind = ColumnKind::moment, .is_required = is_required};
}
Column choice(std::string_view named, std::vector<std::string_view> choices, bool is_required = false) {
  return {.name = named, .kind = ColumnKind::choice, .is_required = is_required, .choices = std::move(choices)};
}
/// From 1, poor, to 5, as good as it gets.
Column mark(std::string_view named, bool is_required = false) { return whole(named, 1, 5, is_required); }

std::vector<Table> all_tables() {
  constexpr double longest_mm = 100.0, most_minutes = 1440.0, largest = 1e9;
  return {
      {"player", "name", {key("name"), yes_no("is_teacher"), name("player_file"), words("note")}},
      {"mouthpiece",
       "name",
       {key("name"), reference("player", "player"), name("instrument"), number("tip_opening_mm", 0.2, 5.0),
        number("facing_length_mm", 5.0, longest_mm), words("note")}},
      {"place", "name", {key("name"), words("note")}},
      {"box",
       "name",
       {key("name"), reference("player", "player"), name("instrument"), name("strength"), name("cut"), name("blank"),
        whole("holds", 1, 1000), day("bought_on"), yes_no("is_set_aside"), words("note")}},
      {"reed",
       "label",
       {key("label"), reference("box", "box"), whole("number", 1, 1000), reference("player", "player"),
        reference("place", "place"),
        choice("stage", {"new", "breaking in", "playing", "concert", "resting", "retired"}, true), yes_no("is_keeper"),
        moment("added_at", true), day("stage_since"), moment("binned_at"), words("note")}},
      {"result",
       "folder",
       {{.name = "folder", .is_required = true},
        reference("reed", "reed", true),
        moment("measured_at", true),
        choice("state", {"dry", "wet", "unknown"}, true),
        name("instrument"),
        name("plan"),
        words("scans"),
        name("program_version")}},
      {"figure",
       "id",
       {{.name = "folder", .is_required = true, .refers_to = "result"},
        name("name", true),
        number("value", -largest, largest, true),
        number("u", 0.0, largest)}},
      {"trial",
       "id",
       {reference("reed", "reed", true), moment("played_at", true), reference("player", "player"),
        reference("mouthpiece", "mouthpiece"), number("minutes", 0.0, most_minutes), mark("response", true),
        mark("evenness", true), mark("tone", true), mark("articulation"),
        choice("high_register", {"holds", "drops", "flat"}), mark("dynamic_range"), whole("airiness", 1, 5),
        whole("resistance", 1, 5), choice("freer_side", {"left", "right", "alike"}), number("suction_s", 0.0, 60.0),
        yes_no("is_blind"), words("words")}},
      {"playing",
       "id",
       {reference("reed", "reed", true), day("played_on", true), number("minutes", 0.0, most_minutes, true)}},
      {"work",
       "id",
       {reference("reed", "reed", true),
        moment("done_at", true),
        {.name = "folder", .refers_to = "result"},
        words("strokes"),
        words("note")}},
      {"humidity",
       "id",
       {reference("place", "place", true), moment("read_at", true), number("percent", 0.0, 100.0, true),
        number("celsius", -40.0, 60.0)}},
  };
}

/// Letters of any alphabet; no control characters.
bool is_name(const std::string& text) {
  return !text.empty() && text.size() <= kLongestName && text.front() != ' ' && text.back() != ' ' &&
         text == printable(text);
}

bool is_label(const std::string& text) {
  return is_name(text) && text.front() != '.' && text.front() != '-' && text.find_first_of("/\\") == std::string::npos;
}

[[noreturn]] void refuse(const Table& table, const Column& column, Message what) {
  throw UsageError({"ledger.bad_value",
                    {{"table", word(table.name)}, {"column", text(column.name)}, {"what", part(std::move(what))}}});
}

bool is_within(const Column& column, double value) { return value >= column.low && value <= column.high; }

void check_number(const Table& table, const Column& column, const Cell& cell) {
  const auto* const whole_number = std::get_if<std::int64_t>(&cell);
  const auto* const real = std::get_if<double>(&cell);
  const bool takes_real = column.kind == ColumnKind::number;
  const bool is_right_kind = whole_number != nullptr || (takes_real && real != nullptr && std::isfinite(*real));
  const double value = whole_number != nullptr ? static_cast<double>(*whole_number) : real != nullptr ? *real : 0.0;
  if (!is_right_kind || !is_within(column, value)) {
    refuse(table, column,
           {"ledger.bounds",
            {{"whole", word(takes_real ? "no" : "yes")},
             {"low", canewise::number(column.low, takes_real ? 1 : 0)},
             {"high", canewise::number(column.high, takes_real ? 1 : 0)}}});
  }
}

std::string listed(const std::vector<std::string_view>& choices) {
  std::string all;
  for (const std::string_view choice : choices) all += (all.empty() ? "" : ", ") + std::string(choice);
  return all;
}

void check_words(const Table& table, const Column& column, const Cell& cell) {
  const auto* const given = std::get_if<std::string>(&cell);
  if (given == nullptr) refuse(table, column, {"ledger.wants_words"});
  switch (column.kind) {
    case ColumnKind::name:
      if (!is_name(*given)) refuse(table, column, {"ledger.no_name", {{"letters", count(kLongestName)}}});
      break;
    case ColumnKind::label:
      if (!is_label(*given)) refuse(table, column, {"ledger.no_label", {{"letters", count(kLongestName)}}});
      break;
    case ColumnKind::day:
      if (!is_day(*given)) refuse(table, column, {"ledger.no_day"});
      break;
    case ColumnKind::moment:
      if (!is_moment(*given)) refuse(table, column, {"ledger.no_moment"});
      break;
    case ColumnKind::choice:
      if (std::find(column.choices.begin(), column.choices.end(), *given) == column.choices.end())
        refuse(table, column, {"ledger.no_choice", {{"choices", text(listed(column.choices))}}});
      break;
    default:
      if (given->size() > kLongestWords)
        refuse(table, column, {"ledger.too_long", {{"letters", count(kLongestWords)}}});
  }
}

void check_cell(const Table& table, const Column& column, const Cell& cell) {
  if (!is_known(cell)) {
    if (column.is_required) refuse(table, column, {"ledger.is_needed"});
    return;
  }
  switch (column.kind) {
    case ColumnKind::number:
    case ColumnKind::whole:
      return check_number(table, column, cell);
    case ColumnKind::yes_no:
      if (!(cell == Cell(std::int64_t{0}) || cell == Cell(std::int64_t{1})))
        refuse(table, column, {"ledger.yes_or_no"});
      return;
    default:
      return check_words(table, column, cell);
  }
}

}  // namespace

const std::vector<Table>& tables() {
  static const std::vector<Table> all = all_tables();
  return all;
}

const Table& table_named(std::string_view name) {
  for (const Table& table : tables())
    if (table.name == name) return table;
  throw std::logic_error("the ledger has no table of this name");
}

const Column* column_of(const Table& table, std::string_view name) {
  for (const Column& column : table.columns)
    if (column.name == name) return &column;
  return nullptr;
}

Cell cell_from_text(const Column& column, const std::string& typed) {
  if (typed.empty()) return {};
  const char* const end = typed.data() + typed.size();
  const auto read = [&](auto value) -> Cell {
    const auto [rest, failed] = std::from_chars(typed.data(), end, value);
    return failed == std::errc() && rest == end ? Cell(value) : Cell(typed);
  };
  switch (column.kind) {
    case ColumnKind::yes_no:
      return typed == "yes" ? Cell(std::int64_t{1}) : typed == "no" ? Cell(std::int64_t{0}) : Cell(typed);
    case ColumnKind::whole:
      return read(std::int64_t{0});
    case ColumnKind::number:
      return read(0.0);
    case ColumnKind::moment:
      return is_day(typed) ? typed + "T12:00:00Z" : typed;
    default:
      return typed;
  }
}

void check_row(const Table& table, const Row& row, bool is_whole) {
  for (const auto& [name, cell] : row) {
    if (table.is_numbered() && name == table.key) {
      const auto* const id = std::get_if<std::int64_t>(&cell);
      if (id == nullptr || *id < 1) refuse(table, {.name = "id"}, {"ledger.no_id"});
      continue;
    }
    const Column* const column = column_of(table, name);
    if (column == nullptr)
      throw UsageError({"ledger.no_column", {{"table", word(table.name)}, {"column", text(name)}}});
    check_cell(table, *column, cell);
  }
  if (!is_whole) return;
  for (const Column& column : table.columns) {
    if (column.is_required && !row.contains(column.name)) refuse(table, column, {"ledger.is_needed"});
  }
}

}  // namespace canewise
