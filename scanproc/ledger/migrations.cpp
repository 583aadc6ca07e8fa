#include "scanproc/ledger/migrations.h"

#include <SQLiteCpp/Database.h>
#include <SQLiteCpp/Statement.h>
#include <SQLiteCpp/Transaction.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <system_error>

#include "scanproc/core/durable.h"
#include "scanproc/core/error.h"
#include "scanproc/core/output_place.h"
#include "scanproc/core/utc.h"

namespace canewise {
namespace {

// Names are the keys. A renamed box, reed or player is renamed wherever it is referred to. What belongs to a reed goes
// with it; what merely names a player, place or box keeps them from going.
constexpr std::string_view kVersion1 = R"sql(
CREATE TABLE player (
  name TEXT PRIMARY KEY NOT NULL, is_teacher INTEGER, player_file TEXT, note TEXT) STRICT;
CREATE TABLE mouthpiece (
  name TEXT PRIMARY KEY NOT NULL, player TEXT REFERENCES player ON UPDATE CASCADE, instrument TEXT,
  tip_opening_mm REAL, facing_length_mm REAL, note TEXT) STRICT;
CREATE TABLE place (name TEXT PRIMARY KEY NOT NULL, note TEXT) STRICT;
CREATE TABLE box (
  name TEXT PRIMARY KEY NOT NULL, player TEXT REFERENCES player ON UPDATE CASCADE, instrument TEXT, strength TEXT,
  cut TEXT, blank TEXT, holds INTEGER, bought_on TEXT, is_set_aside INTEGER, note TEXT) STRICT;
CREATE TABLE reed (
  label TEXT PRIMARY KEY NOT NULL, box TEXT REFERENCES box ON UPDATE CASCADE, number INTEGER,
  player TEXT REFERENCES player ON UPDATE CASCADE, place TEXT REFERENCES place ON UPDATE CASCADE,
  stage TEXT NOT NULL, is_keeper INTEGER, added_at TEXT NOT NULL, stage_since TEXT, binned_at TEXT, note TEXT) STRICT;
CREATE TABLE result (
  folder TEXT PRIMARY KEY NOT NULL, reed TEXT NOT NULL REFERENCES reed ON UPDATE CASCADE ON DELETE CASCADE,
  measured_at TEXT NOT NULL, state TEXT NOT NULL, instrument TEXT, plan TEXT, scans TEXT, program_version TEXT) STRICT;
CREATE TABLE figure (
  id INTEGER PRIMARY KEY, folder TEXT NOT NULL REFERENCES result ON UPDATE CASCADE ON DELETE CASCADE,
  name TEXT NOT NULL, value REAL NOT NULL, u REAL) STRICT;
CREATE TABLE trial (
  id INTEGER PRIMARY KEY, reed TEXT NOT NULL REFERENCES reed ON UPDATE CASCADE ON DELETE CASCADE,
  played_at TEXT NOT NULL, player TEXT REFERENCES player ON UPDATE CASCADE,
  mouthpiece TEXT REFERENCES mouthpiece ON UPDATE CASCADE, minutes REAL, response INTEGER NOT NULL,
  evenness INTEGER NOT NULL, tone INTEGER NOT NULL, articulation INTEGER, high_register TEXT, dynamic_range INTEGER,
  airiness INTEGER, resistance INTEGER, freer_side TEXT, suction_s REAL, is_blind INTEGER, words TEXT) STRICT;
CREATE TABLE playing (
  id INTEGER PRIMARY KEY, reed TEXT NOT NULL REFERENCES reed ON UPDATE CASCADE ON DELETE CASCADE,
  played_on TEXT NOT NULL, minutes REAL NOT NULL) STRICT;
CREATE TABLE work (
  id INTEGER PRIMARY KEY, reed TEXT NOT NULL REFERENCES reed ON UPDATE CASCADE ON DELETE CASCADE,
  done_at TEXT NOT NULL, folder TEXT REFERENCES result ON UPDATE CASCADE ON DELETE SET NULL, strokes TEXT,
  note TEXT) STRICT;
CREATE TABLE humidity (
  id INTEGER PRIMARY KEY, place TEXT NOT NULL REFERENCES place ON UPDATE CASCADE ON DELETE CASCADE,
  read_at TEXT NOT NULL, percent REAL NOT NULL, celsius REAL) STRICT;
CREATE INDEX mouthpiece_player ON mouthpiece (player);
CREATE INDEX box_player ON box (player);
CREATE INDEX reed_box ON reed (box, number);
CREATE INDEX reed_player ON reed (player);
CREATE INDEX reed_place ON reed (place);
CREATE INDEX result_reed ON result (reed, measured_at);
CREATE INDEX figure_folder ON figure (folder);
CREATE INDEX trial_reed ON trial (reed, played_at);
CREATE INDEX trial_player ON trial (player);
CREATE INDEX trial_mouthpiece ON trial (mouthpiece);
CREATE INDEX playing_reed ON playing (reed, played_on);
CREATE INDEX work_reed ON work (reed, done_at);
CREATE INDEX work_folder ON work (folder);
CREATE INDEX humidity_place ON humidity (place, read_at);
)sql";

constexpr std::array kSteps{kVersion1};

int number_of(SQLite::Database& database, const char* pragma) { return database.execAndGet(pragma).getInt(); }

bool is_empty(SQLite::Database& database) {
  return database.execAndGet("SELECT count(*) FROM sqlite_schema").getInt() == 0;
}

InputError in_file(const std::filesystem::path& path, Message what) {
  return InputError({"in_file", {{"file", text(path.string())}, {"what", part(std::move(what))}}});
}

/// The date without colons: what every file system takes.
std::filesystem::path place_of_backup(const std::filesystem::path& path, int version) {
  std::string date = now_utc();
  std::erase(date, ':');
  const std::string stem = path.stem().string() + "-version-" + std::to_string(version) + "-" + date;
  std::filesystem::path copy = path;
  copy.replace_filename(stem + path.extension().string());
  for (int k = 2; is_there(copy); ++k)
    copy.replace_filename(stem + "-" + std::to_string(k) + path.extension().string());
  return copy;
}

}  // namespace

std::span<const std::string_view> migrations() { return kSteps; }

std::vector<std::string> definitions_of(SQLite::Database& database) {
  std::vector<std::string> definitions;
  SQLite::Statement statement(database,
                              R"(SELECT "type", "name", coalesce("sql", '') FROM "sqlite_schema" ORDER BY 1, 2)");
  while (statement.executeStep()) {
    definitions.push_back(statement.getColumn(0).getString() + " " + statement.getColumn(1).getString() + " " +
                          statement.getColumn(2).getString());
  }
  return definitions;
}

void copy_database(SQLite::Database& database, const std::filesystem::path& copy) {
  if (is_there(copy)) throw OutputError({"ledger.copy_is_there", {{"file", text(copy.string())}}});
  const std::filesystem::path unfinished =
      copy.parent_path() / ("." + copy.filename().string() + "-" + std::to_string(::getpid()));
  std::error_code ignored;
  std::filesystem::remove(unfinished, ignored);
  try {
    SQLite::Statement into(database, "VACUUM INTO ?");
    into.bind(1, unfinished.string());
    into.exec();
    link_or_copy(unfinished, copy);
    sync_folder(copy.has_parent_path() ? copy.parent_path() : ".");
  } catch (const std::system_error& error) {
    std::filesystem::remove(unfinished, ignored);
    throw cannot_write(copy, error.code().value(), Left::unchanged);
  } catch (const SQLite::Exception& error) {
    std::filesystem::remove(unfinished, ignored);
    throw OutputError({"ledger.no_copy", {{"file", text(copy.string())}, {"why", text(error.what())}}});
  }
  std::filesystem::remove(unfinished, ignored);
}

std::vector<std::string> definitions_at(std::span<const std::string_view> steps) {
  SQLite::Database fresh(":memory:", SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
  for (const std::string_view step : steps) fresh.exec(std::string(step));
  return definitions_of(fresh);
}

void migrate(SQLite::Database& database, const std::filesystem::path& path, std::span<const std::string_view> steps) {
  const bool is_new = is_empty(database);
  const int version = number_of(database, "PRAGMA user_version"), known = static_cast<int>(steps.size());
  if (!is_new && number_of(database, "PRAGMA application_id") != kLedgerApplication)
    throw in_file(path, {"ledger.is_none"});
  if (version > known) throw in_file(path, {"ledger.newer"});
  if (version < 0 || is_new != (version == 0)) throw in_file(path, {"ledger.is_none"});
  // Whoever made it: its tables are those of its version and nothing else is.
  if (definitions_of(database) != definitions_at(steps.first(static_cast<std::size_t>(version))))
    throw in_file(path, {"ledger.changed_form"});
  if (version == known) return;
  const std::filesystem::path backup = is_new ? std::filesystem::path() : place_of_backup(path, version);
  if (!is_new) copy_database(database, backup);
  try {
    SQLite::Transaction transaction(database, SQLite::TransactionBehavior::IMMEDIATE);
    // Somebody else may have done it meanwhile.
    for (int now = number_of(database, "PRAGMA user_version"); now < known; ++now)
      database.exec(std::string(steps[static_cast<std::size_t>(now)]));
    database.exec("PRAGMA application_id = " + std::to_string(kLedgerApplication));
    database.exec("PRAGMA user_version = " + std::to_string(known));
    transaction.commit();
  } catch (...) {
    std::error_code ignored;
    if (!is_new) std::filesystem::remove(backup, ignored);  // What it would save is as it was.
    throw;
  }
}

}  // namespace canewise
