#include "scanproc/ledger/ledger.h"

#include <SQLiteCpp/Database.h>
#include <SQLiteCpp/Statement.h>
#include <SQLiteCpp/Transaction.h>
#include <sqlite3.h>

#include <algorithm>
#include <cerrno>
#include <system_error>
#include <utility>

#include "scanproc/core/error.h"
#include "scanproc/core/output_place.h"
#include "scanproc/ledger/ledger_file.h"
#include "scanproc/ledger/migrations.h"
#include "scanproc/ledger/tables.h"

namespace canewise {
namespace {

constexpr int kWait_ms = 5000;

InputError in_file(const std::filesystem::path& path, Message what) {
  return InputError({"in_file", {{"file", text(path.string())}, {"what", part(std::move(what))}}});
}

[[noreturn]] void tell(const std::filesystem::path& path, const SQLite::Exception& error) {
  switch (error.getErrorCode()) {
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      throw OutputError({"ledger.busy", {{"file", text(path.string())}}});
    case SQLITE_CORRUPT:
      throw in_file(path, {"ledger.damaged"});
    case SQLITE_NOTADB:
      throw in_file(path, {"ledger.is_none"});
    case SQLITE_FULL:
      throw cannot_write(path, ENOSPC, Left::unchanged);
    case SQLITE_READONLY:
      throw cannot_write(path, EACCES, Left::unchanged);
    case SQLITE_CANTOPEN:
      throw cannot_write(path, ENOENT, Left::unchanged);
    case SQLITE_IOERR:
      throw cannot_write(path, EIO, Left::unchanged);
    default:
      throw InputError({"ledger.no_answer", {{"file", text(path.string())}, {"why", text(error.what())}}});
  }
}

/// A name of tables() as SQL takes it.
std::string quoted(std::string_view name) { return '"' + std::string(name) + '"'; }

void bind_cell(SQLite::Statement& statement, int place, const Cell& cell) {
  if (const auto* const words = std::get_if<std::string>(&cell)) {
    statement.bind(place, *words);
  } else if (const auto* const whole = std::get_if<std::int64_t>(&cell)) {
    statement.bind(place, *whole);
  } else if (const auto* const number = std::get_if<double>(&cell)) {
    statement.bind(place, *number);
  } else {
    statement.bind(place);
  }
}

Cell cell_of(const SQLite::Column& column) {
  if (column.isText()) return column.getString();
  if (column.isInteger()) return column.getInt64();
  if (column.isFloat()) return column.getDouble();
  return {};
}

/// Of columns that a table has, in its order.
std::vector<std::string_view> names_in(const Table& table, const Row& row) {
  std::vector<std::string_view> names;
  if (table.is_numbered() && row.contains(table.key)) names.push_back(table.key);
  for (const Column& column : table.columns)
    if (row.contains(column.name)) names.push_back(column.name);
  return names;
}

const Column& known_column(const Table& table, std::string_view name) {
  static const Column id{.name = "id", .kind = ColumnKind::whole};
  if (table.is_numbered() && name == table.key) return id;
  const Column* const column = column_of(table, name);
  if (column == nullptr) throw UsageError({"ledger.no_column", {{"table", word(table.name)}, {"column", text(name)}}});
  return *column;
}

std::string like_pattern(const std::string& find) {
  std::string pattern = "%";
  for (const char c : find) {
    if (c == '%' || c == '_' || c == '!') pattern += '!';
    pattern += c;
  }
  return pattern + '%';
}

/// The part of a query behind its table, and what is bound to it.
struct Clauses {
  std::string sql;
  std::vector<Cell> bound;
};

Clauses where(const Table& table, const LedgerQuery& query) {
  Clauses clauses;
  const auto add = [&](const std::string& condition) {
    clauses.sql += (clauses.sql.empty() ? " WHERE " : " AND ") + condition;
  };
  for (const auto& [name, cell] : query.equal) {
    add(quoted(known_column(table, name).name) + " IS ?");
    clauses.bound.push_back(cell);
  }
  if (!query.find.empty()) {
    std::string any;
    for (const Column& column : table.columns) {
      const bool is_words = column.kind == ColumnKind::words || column.kind == ColumnKind::name ||
                            column.kind == ColumnKind::label || column.kind == ColumnKind::choice;
      if (!is_words) continue;
      any += (any.empty() ? "(" : " OR ") + quoted(column.name) + " LIKE ? ESCAPE '!'";
      clauses.bound.emplace_back(like_pattern(query.find));
    }
    add(any + ")");
  }
  return clauses;
}

Clauses clauses_of(const Table& table, const LedgerQuery& query) {
  Clauses clauses = where(table, query);
  const std::string way = query.descending ? " DESC" : "";
  clauses.sql += " ORDER BY ";
  if (!query.order_by.empty() && query.order_by != table.key)
    clauses.sql += quoted(known_column(table, query.order_by).name) + " COLLATE people" + way + ", ";
  // The key last, so that the order is one and the same each time.
  clauses.sql += quoted(table.key) + " COLLATE people" + way + " LIMIT ? OFFSET ?";
  clauses.bound.emplace_back(query.most);
  clauses.bound.emplace_back(query.first);
  return clauses;
}

bool cannot_be_written(const SQLite::Exception& error) {
  return error.getErrorCode() == SQLITE_READONLY || error.getErrorCode() == SQLITE_CANTOPEN;
}

void set_up(SQLite::Database& database) {
  // A hostile file runs no code of its own.
  database.exec("PRAGMA trusted_schema = OFF");
  database.exec("PRAGMA cell_size_check = ON");
  database.exec("PRAGMA foreign_keys = ON");
  database.exec("PRAGMA synchronous = FULL");
  add_people_order(database);
}

}  // namespace

struct Ledger::Store {
  SQLite::Database database;
  bool is_in_step = false;
};

Ledger::Ledger(const std::filesystem::path& path, Access access) : path_(path) {
  is_new_ = !is_ledger_file(path, access);
  if (is_new_ && access != Access::make) throw InputError({"ledger.not_there", {{"file", text(path.string())}}});
  try {
    try {
      SQLite::Database database(path.string(), SQLite::OPEN_READWRITE | (is_new_ ? SQLite::OPEN_CREATE : 0), kWait_ms);
      set_up(database);
      migrate(database, path, migrations());
      database.exec("PRAGMA journal_mode = WAL");
      store_ = std::make_unique<Store>(Store{std::move(database)});
    } catch (const SQLite::Exception& error) {
      if (access != Access::read || !cannot_be_written(error)) throw;
      store_ = std::make_unique<Store>(Store{open_unwritable(path)});
      set_up(store_->database);
      if (store_->database.execAndGet("PRAGMA application_id").getInt() != kLedgerApplication ||
          store_->database.execAndGet("PRAGMA user_version").getInt() != static_cast<int>(migrations().size()))
        throw in_file(path, {"ledger.is_none"});
      if (definitions_of(store_->database) != definitions_at(migrations()))
        throw in_file(path, {"ledger.changed_form"});
    }
  } catch (const SQLite::Exception& error) {
    tell(path, error);
  }
}

Ledger::~Ledger() = default;
Ledger::Ledger(Ledger&&) noexcept = default;
Ledger& Ledger::operator=(Ledger&&) noexcept = default;

Rows Ledger::rows(std::string_view table_name, const LedgerQuery& query) const {
  Rows found = rows_as_they_are(table_name, query);
  const Table& table = table_named(table_name);
  for (const Row& row : found) {
    try {
      check_row(table, row, true);
    } catch (const UsageError& error) {  // Another program put it there.
      throw in_file(path_, {"ledger.bad_entry", {{"what", part(error.message())}}});
    }
  }
  return found;
}

Rows Ledger::rows_as_they_are(std::string_view table_name, const LedgerQuery& query) const {
  const Table& table = table_named(table_name);
  std::string columns = table.is_numbered() ? quoted(table.key) : "";
  for (const Column& column : table.columns) columns += (columns.empty() ? "" : ", ") + quoted(column.name);
  try {
    const Clauses clauses = clauses_of(table, query);
    SQLite::Statement statement(store_->database, "SELECT " + columns + " FROM " + quoted(table.name) + clauses.sql);
    for (std::size_t k = 0; k < clauses.bound.size(); ++k)
      bind_cell(statement, static_cast<int>(k) + 1, clauses.bound[k]);
    Rows found;
    while (statement.executeStep()) {
      Row row;
      for (int k = 0; k < statement.getColumnCount(); ++k) {
        Cell cell = cell_of(statement.getColumn(k));
        if (is_known(cell)) row.emplace(statement.getColumnName(k), std::move(cell));
      }
      found.push_back(std::move(row));
    }
    return found;
  } catch (const SQLite::Exception& error) {
    tell(path_, error);
  }
}

std::int64_t Ledger::count_of(std::string_view table_name, const LedgerQuery& query) const {
  const Table& table = table_named(table_name);
  try {
    const Clauses clauses = where(table, query);
    SQLite::Statement statement(store_->database, "SELECT count(*) FROM " + quoted(table.name) + clauses.sql);
    for (std::size_t k = 0; k < clauses.bound.size(); ++k)
      bind_cell(statement, static_cast<int>(k) + 1, clauses.bound[k]);
    statement.executeStep();
    return statement.getColumn(0).getInt64();
  } catch (const SQLite::Exception& error) {
    tell(path_, error);
  }
}

Row Ledger::row(std::string_view table, const Cell& key) const {
  Rows found = rows(table, {.equal = {{std::string(table_named(table).key), key}}});
  return found.empty() ? Row() : std::move(found.front());
}

bool Ledger::has(std::string_view table, const Cell& key) const { return !row(table, key).empty(); }

void Ledger::in_one_step(const std::function<void()>& work) {
  if (store_->is_in_step) return work();
  try {
    SQLite::Transaction transaction(store_->database, SQLite::TransactionBehavior::IMMEDIATE);
    store_->is_in_step = true;
    try {
      work();
    } catch (...) {
      store_->is_in_step = false;
      throw;
    }
    store_->is_in_step = false;
    transaction.commit();
  } catch (const SQLite::Exception& error) {
    tell(path_, error);
  }
}

namespace {

std::string words_of(const Cell& cell) {
  const auto* const words = std::get_if<std::string>(&cell);
  return words != nullptr ? *words : std::to_string(std::get<std::int64_t>(cell));
}

/// Says which name is not there, before SQLite says that something is wrong.
void check_references(const Ledger& ledger, const Table& table, const Row& row) {
  for (const auto& [name, cell] : row) {
    const Column* const column = column_of(table, name);
    if (column == nullptr || column->refers_to.empty() || !is_known(cell)) continue;
    if (!ledger.has(column->refers_to, cell))
      throw UsageError({"ledger.no_such", {{"table", word(column->refers_to)}, {"name", text(words_of(cell))}}});
  }
}

[[noreturn]] void tell_of_key(const std::filesystem::path& path, const Table& table, const Cell& key,
                              const SQLite::Exception& error) {
  const Arguments which{{"table", word(table.name)}, {"name", text(words_of(key))}};
  switch (error.getExtendedErrorCode()) {
    case SQLITE_CONSTRAINT_PRIMARYKEY:
    case SQLITE_CONSTRAINT_ROWID:
    case SQLITE_CONSTRAINT_UNIQUE:
      throw UsageError({"ledger.name_taken", which});
    case SQLITE_CONSTRAINT_FOREIGNKEY:
      throw UsageError({"ledger.still_used", which});
    default:
      tell(path, error);
  }
}

}  // namespace

Cell Ledger::insert(std::string_view table_name, Row row) {
  const Table& table = table_named(table_name);
  std::erase_if(row, [](const auto& entry) { return !is_known(entry.second); });
  check_row(table, row, true);
  Cell key = row.contains(table.key) ? row.find(table.key)->second : Cell();
  in_one_step([&] {
    check_references(*this, table, row);
    std::string names, marks;
    const auto columns = names_in(table, row);
    for (const std::string_view name : columns) {
      names += (names.empty() ? "" : ", ") + quoted(name);
      marks += marks.empty() ? "?" : ", ?";
    }
    try {
      SQLite::Statement statement(store_->database,
                                  "INSERT INTO " + quoted(table.name) + " (" + names + ") VALUES (" + marks + ")");
      for (std::size_t k = 0; k < columns.size(); ++k)
        bind_cell(statement, static_cast<int>(k) + 1, row.find(columns[k])->second);
      statement.exec();
    } catch (const SQLite::Exception& error) {
      tell_of_key(path_, table, key, error);
    }
    if (!is_known(key)) key = static_cast<std::int64_t>(store_->database.getLastInsertRowid());
  });
  return key;
}

void Ledger::update(std::string_view table_name, const Cell& key, const Row& changes) {
  const Table& table = table_named(table_name);
  check_row(table, changes, false);
  in_one_step([&] {
    if (!has(table.name, key))
      throw UsageError({"ledger.no_such", {{"table", word(table.name)}, {"name", text(words_of(key))}}});
    check_references(*this, table, changes);
    std::string sets;
    const auto columns = names_in(table, changes);
    if (columns.empty()) return;
    for (const std::string_view name : columns) sets += (sets.empty() ? "" : ", ") + quoted(name) + " = ?";
    try {
      SQLite::Statement statement(
          store_->database, "UPDATE " + quoted(table.name) + " SET " + sets + " WHERE " + quoted(table.key) + " IS ?");
      for (std::size_t k = 0; k < columns.size(); ++k)
        bind_cell(statement, static_cast<int>(k) + 1, changes.find(columns[k])->second);
      bind_cell(statement, static_cast<int>(columns.size()) + 1, key);
      statement.exec();
    } catch (const SQLite::Exception& error) {
      const auto renamed = changes.find(table.key);
      tell_of_key(path_, table, renamed != changes.end() ? renamed->second : key, error);
    }
  });
}

void Ledger::erase(std::string_view table_name, const Cell& key) {
  const Table& table = table_named(table_name);
  in_one_step([&] {
    if (!has(table.name, key))
      throw UsageError({"ledger.no_such", {{"table", word(table.name)}, {"name", text(words_of(key))}}});
    try {
      SQLite::Statement statement(store_->database,
                                  "DELETE FROM " + quoted(table.name) + " WHERE " + quoted(table.key) + " IS ?");
      bind_cell(statement, 1, key);
      statement.exec();
    } catch (const SQLite::Exception& error) {
      tell_of_key(path_, table, key, error);
    }
  });
}

void Ledger::back_up(const std::filesystem::path& copy) const { copy_database(store_->database, copy); }

Messages Ledger::faults() const {
  Messages found;
  constexpr std::size_t most = 20;
  try {
    SQLite::Statement whole(store_->database, "PRAGMA integrity_check(20)");
    while (whole.executeStep()) {
      const std::string says = whole.getColumn(0).getString();
      if (says != "ok") found.push_back({"ledger.fault", {{"what", text(says)}}});
    }
    SQLite::Statement references(store_->database, "PRAGMA foreign_key_check");
    while (references.executeStep() && found.size() < most) {
      found.push_back({"ledger.fault_reference",
                       {{"table", word(references.getColumn(0).getString())},
                        {"refers_to", word(references.getColumn(2).getString())}}});
    }
  } catch (const SQLite::Exception& error) {
    found.push_back({"ledger.fault", {{"what", text(error.what())}}});
    return found;
  }
  // Values that another program may have put there.
  for (const Table& table : tables()) {
    for (const Row& row : rows_as_they_are(table.name, {})) {
      if (found.size() >= most) return found;
      try {
        check_row(table, row, true);
      } catch (const UsageError& error) {
        found.push_back(error.message());
      }
    }
  }
  return found;
}

}  // namespace canewise
