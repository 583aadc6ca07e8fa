#include "scanproc/ledger/migrations.h"

#include <SQLiteCpp/Database.h>
#include <SQLiteCpp/Statement.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "scanproc/core/error.h"
#include "scanproc/ledger/ledger.h"
#include "scanproc/ledger/tables.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;

std::vector<fs::path> files_in(const fs::path& folder) {
  std::vector<fs::path> files;
  for (const auto& entry : fs::directory_iterator(folder)) files.push_back(entry.path());
  return files;
}

std::string refused(const fs::path& path) {
  try {
    const Ledger ledger(path, Ledger::Access::write);
    return {};
  } catch (const InputError& error) {
    return error.what();
  }
}

TEST(Migrations, MakeTheTablesThatTheListNames) {
  const test::TempFolder folder;
  const fs::path path = folder.path() / "ledger.sqlite";
  const Ledger ledger(path, Ledger::Access::make);
  SQLite::Database database(path.string());
  for (const Table& table : tables()) {
    SQLite::Statement info(database, "SELECT name, type, \"notnull\" FROM pragma_table_info(?)");
    info.bind(1, std::string(table.name));
    std::size_t columns = 0;
    while (info.executeStep()) {
      const std::string name = info.getColumn(0).getString(), type = info.getColumn(1).getString();
      if (table.is_numbered() && name == "id") continue;
      const Column* const column = column_of(table, name);
      ASSERT_NE(column, nullptr) << table.name << ' ' << name;
      ++columns;
      const bool is_whole = column->kind == ColumnKind::whole || column->kind == ColumnKind::yes_no;
      EXPECT_EQ(type, is_whole                             ? "INTEGER"
                      : column->kind == ColumnKind::number ? "REAL"
                                                           : "TEXT")
          << table.name << ' ' << name;
      EXPECT_EQ(info.getColumn(2).getInt() == 1, column->is_required) << table.name << ' ' << name;
    }
    EXPECT_EQ(columns, table.columns.size()) << table.name;
    std::set<std::string> referred, stated;
    SQLite::Statement keys(database, "SELECT \"from\", \"table\" FROM pragma_foreign_key_list(?)");
    keys.bind(1, std::string(table.name));
    while (keys.executeStep()) referred.insert(keys.getColumn(0).getString() + " " + keys.getColumn(1).getString());
    for (const Column& column : table.columns)
      if (!column.refers_to.empty()) stated.insert(std::string(column.name) + " " + std::string(column.refers_to));
    EXPECT_EQ(referred, stated) << table.name;
  }
}

TEST(Migrations, BackUpWhatHoldsSomethingBeforeTheyChangeIt) {
  const test::TempFolder folder;
  const fs::path path = folder.path() / "mine.sqlite";
  { Ledger(path, Ledger::Access::make).insert("box", {{"name", "B3"}}); }
  std::vector<std::string_view> steps(migrations().begin(), migrations().end());
  steps.push_back("ALTER TABLE box ADD COLUMN smell TEXT");
  SQLite::Database database(path.string(), SQLite::OPEN_READWRITE);
  migrate(database, path, steps);
  EXPECT_EQ(database.execAndGet("PRAGMA user_version").getInt(), static_cast<int>(steps.size()));
  EXPECT_EQ(database.execAndGet("SELECT name FROM box WHERE smell IS NULL").getString(), "B3");
  int copies = 0;
  for (const fs::path& file : files_in(folder.path())) {
    if (file.filename().string().find("mine-version-1-") != 0) continue;
    ++copies;
    EXPECT_TRUE(Ledger(file, Ledger::Access::read).has("box", "B3"));
  }
  EXPECT_EQ(copies, 1);
}

TEST(Migrations, ThatFailChangeNothing) {
  const test::TempFolder folder;
  const fs::path path = folder.path() / "mine.sqlite";
  { Ledger(path, Ledger::Access::make).insert("box", {{"name", "B3"}}); }
  std::vector<std::string_view> steps(migrations().begin(), migrations().end());
  steps.push_back("ALTER TABLE box ADD COLUMN smell TEXT");
  steps.push_back("DROP TABLE nothing_of_the_kind");
  {
    SQLite::Database database(path.string(), SQLite::OPEN_READWRITE);
    EXPECT_THROW(migrate(database, path, steps), SQLite::Exception);
  }
  EXPECT_TRUE(Ledger(path, Ledger::Access::write).has("box", "B3"));
  for (const fs::path& file : files_in(folder.path()))
    EXPECT_EQ(file.filename().string().find("version"), std::string::npos) << "a backup of what did not change";
}

TEST(Migrations, RefuseVersionsThatThereCannotBe) {
  for (const char* version : {"-1", "-2000000000", "0"}) {
    const test::TempFolder folder;
    const fs::path path = folder.path() / "mine.sqlite";
    { const Ledger made(path, Ledger::Access::make); }
    {
      SQLite::Database database(path.string(), SQLite::OPEN_READWRITE);
      database.exec(std::string("PRAGMA user_version = ") + version);
    }
    EXPECT_NE(refused(path), "") << version;
    int copies = 0;
    for (const fs::path& file : files_in(folder.path())) copies += file.filename() != "mine.sqlite";
    EXPECT_LE(copies, 2) << "SQLite's own neighbours, and no backup";
  }
}

TEST(Migrations, RefuseWhatIsNoLedgerAndLeaveItAsItIs) {
  const test::TempFolder folder;
  const fs::path other = folder.path() / "other.sqlite";
  {
    SQLite::Database database(other.string(), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
    database.exec("CREATE TABLE music (title TEXT)");
  }
  EXPECT_THAT(refused(other), HasSubstr("no ledger of canewise"));
  SQLite::Database database(other.string(), SQLite::OPEN_READONLY);
  EXPECT_EQ(definitions_of(database).size(), 1U);
  EXPECT_THAT(refused(folder.file("text.sqlite", std::string(5000, 'x'))), HasSubstr("no ledger of canewise"));
}

TEST(Migrations, RefuseALedgerOfANewerVersion) {
  const test::TempFolder folder;
  const fs::path path = folder.path() / "mine.sqlite";
  { const Ledger made(path, Ledger::Access::make); }
  {
    SQLite::Database database(path.string(), SQLite::OPEN_READWRITE);
    database.exec("PRAGMA user_version = 99");
  }
  EXPECT_THAT(refused(path), HasSubstr("newer canewise"));
}

TEST(Migrations, RefuseTablesThatSomebodyChanged) {
  for (const char* sql :
       {"CREATE TRIGGER spy AFTER INSERT ON reed BEGIN DELETE FROM reed; END",
        "CREATE VIEW shown AS SELECT * FROM reed", "ALTER TABLE reed ADD COLUMN more TEXT", "DROP TABLE humidity"}) {
    const test::TempFolder folder;
    const fs::path path = folder.path() / "mine.sqlite";
    { const Ledger made(path, Ledger::Access::make); }
    {
      SQLite::Database database(path.string(), SQLite::OPEN_READWRITE);
      database.exec(sql);
    }
    EXPECT_THAT(refused(path), HasSubstr("changed the tables")) << sql;
  }
}

}  // namespace
}  // namespace canewise
