#include "scanproc/ledger/tables.h"

#include <gtest/gtest.h>

#include "scanproc/core/error.h"
#include "scanproc/ledger/row.h"

namespace canewise {
namespace {

/// Why a row is refused; empty if it is taken.
std::string why_not(const char* table, const Row& row, bool is_whole = false) {
  try {
    check_row(table_named(table), row, is_whole);
    return {};
  } catch (const UsageError& error) {
    return error.what();
  }
}

TEST(Tables, StandAfterThoseThatTheyReferTo) {
  std::set<std::string_view> before;
  for (const Table& table : tables()) {
    for (const Column& column : table.columns)
      EXPECT_TRUE(column.refers_to.empty() || before.contains(column.refers_to)) << table.name << ' ' << column.name;
    before.insert(table.name);
  }
}

TEST(Tables, AreAsTheDocumentSays) {
  std::ifstream file(CANEWISE_SOURCE_DIR "/docs/ledger.md");
  const std::string document{std::istreambuf_iterator<char>(file), {}};
  for (const Table& table : tables()) {
    std::string line = "| " + std::string(table.name) + " | " + std::string(table.key) + " | ", rest;
    for (const Column& column : table.columns) {
      if (column.name == table.key) continue;
      rest += (rest.empty() ? "" : ", ") + std::string(column.name);
      if (!column.refers_to.empty()) rest += " (a " + std::string(column.refers_to) + ")";
    }
    EXPECT_NE(document.find(line + rest + " |\n"), std::string::npos) << line << rest;
  }
}

TEST(Tables, TakeWhatFits) {
  EXPECT_EQ(why_not("box", {{"name", "B3"}, {"strength", "3 1/2"}, {"holds", std::int64_t{10}}}), "");
  EXPECT_EQ(why_not("reed", {{"label", "Röschen 7"}, {"is_keeper", std::int64_t{1}}, {"stage", "playing"}}), "");
  EXPECT_EQ(why_not("humidity", {{"percent", 55.5}, {"celsius", Cell()}}), "");
}

TEST(Tables, RefuseWhatDoesNotAndSayWhatDoes) {
  EXPECT_NE(why_not("box", {{"holds", std::int64_t{0}}}).find("a whole number from 1 to 1000"), std::string::npos);
  EXPECT_NE(why_not("box", {{"holds", 2.5}}).find("whole number"), std::string::npos);
  EXPECT_NE(why_not("box", {{"bought_on", "1.12.2026"}}).find("like 2026-12-01"), std::string::npos);
  EXPECT_NE(why_not("reed", {{"stage", "lost"}}).find("breaking in, playing"), std::string::npos);
  EXPECT_NE(why_not("reed", {{"is_keeper", std::int64_t{2}}}).find("yes or no"), std::string::npos);
  EXPECT_NE(why_not("reed", {{"colour", "red"}}).find("nothing called colour"), std::string::npos);
  EXPECT_NE(why_not("trial", {{"response", std::int64_t{6}}}).find("from 1 to 5"), std::string::npos);
  EXPECT_NE(why_not("humidity", {{"percent", std::nan("")}}).find("a number"), std::string::npos);
  EXPECT_NE(why_not("reed", {{"label", "B3-1"}}, true).find("is missing"), std::string::npos);
}

TEST(Tables, ReadWhatWasTypedWholeOrLeaveItToBeRefused) {
  const auto typed = [](const char* table, const char* column, const char* text) {
    return cell_from_text(*column_of(table_named(table), column), text);
  };
  EXPECT_EQ(typed("humidity", "percent", "55.5"), Cell(55.5));
  EXPECT_EQ(typed("box", "holds", "10"), Cell(std::int64_t{10}));
  EXPECT_EQ(typed("box", "is_set_aside", "yes"), Cell(std::int64_t{1}));
  EXPECT_EQ(typed("box", "is_set_aside", "no"), Cell(std::int64_t{0}));
  EXPECT_EQ(typed("box", "strength", "3 1/2"), Cell("3 1/2"));
  EXPECT_EQ(typed("box", "note", ""), Cell());
  EXPECT_EQ(typed("trial", "played_at", "2026-12-01"), Cell("2026-12-01T12:00:00Z"));
  for (const char* no : {"55.5x", "x", "1e", " 5"})
    EXPECT_NE(why_not("humidity", {{"percent", typed("humidity", "percent", no)}}), "") << no;
  for (const char* no : {"4.5", "4 ", "four", "99999999999999999999"})
    EXPECT_NE(why_not("box", {{"holds", typed("box", "holds", no)}}), "") << no;
  EXPECT_NE(why_not("box", {{"is_set_aside", typed("box", "is_set_aside", "maybe")}}), "");
}

TEST(Tables, LabelsCanBeNamesOfFilesAndNotOptions) {
  for (const char* no : {"", " B3", "B3 ", "-rf", ".hidden", "../B3", "a/b", "a\\b", "a\nb", "\x1b[31m", "\xff"})
    EXPECT_NE(why_not("reed", {{"label", no}}), "") << no;
  EXPECT_NE(why_not("reed", {{"label", std::string(61, 'x')}}), "");
  EXPECT_EQ(why_not("reed", {{"label", std::string(60, 'x')}}), "");
}

}  // namespace
}  // namespace canewise
