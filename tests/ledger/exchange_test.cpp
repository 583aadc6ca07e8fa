#include "scanproc/ledger/exchange.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "scanproc/core/error.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

using testing::HasSubstr;

/// Something in every table, awkward words among them.
void fill(Ledger& ledger) {
  const std::string moment = "2026-12-01T18:00:00Z";
  ledger.insert("player", {{"name", "Änne"}, {"is_teacher", std::int64_t{1}}, {"note", "=1+1"}});
  ledger.insert("mouthpiece", {{"name", "open"}, {"player", "Änne"}, {"tip_opening_mm", 1.05}});
  ledger.insert("place", {{"name", "drawer"}});
  ledger.insert("box", {{"name", "B3"}, {"strength", "3 1/2"}, {"holds", std::int64_t{10}}, {"note", "a \"b\",\nc"}});
  ledger.insert("reed", {{"label", "B3-1"}, {"box", "B3"}, {"player", "Änne"}, {"stage", "new"}, {"added_at", moment}});
  ledger.insert("result", {{"folder", "B3-1-2026-12-01"}, {"reed", "B3-1"}, {"measured_at", moment}, {"state", "dry"}});
  ledger.insert("figure",
                {{"folder", "B3-1-2026-12-01"}, {"name", "stiffness"}, {"value", 42.0}, {"u", 0.1234567890123}});
  ledger.insert("trial", {{"reed", "B3-1"},
                          {"played_at", moment},
                          {"mouthpiece", "open"},
                          {"minutes", 5.0},
                          {"response", std::int64_t{4}},
                          {"evenness", std::int64_t{3}},
                          {"tone", std::int64_t{5}}});
  ledger.insert("playing", {{"reed", "B3-1"}, {"played_on", "2026-12-01"}, {"minutes", 12.5}});
  ledger.insert("work", {{"reed", "B3-1"}, {"done_at", moment}, {"folder", "B3-1-2026-12-01"}, {"strokes", "1,0.5"}});
  ledger.insert("humidity", {{"place", "drawer"}, {"read_at", moment}, {"percent", 55.0}});
}

TEST(Exchange, RoundTripIsTheSameToTheByte) {
  const test::TempFolder folder;
  Ledger first(folder.path() / "a.sqlite", Ledger::Access::make),
      second(folder.path() / "b.sqlite", Ledger::Access::make);
  fill(first);
  const std::string json = json_from_ledger(first);
  fill_from_json(second, json, "a.json");
  EXPECT_EQ(json_from_ledger(second), json);
  EXPECT_THAT(json, HasSubstr("0.1234567890123"));
  EXPECT_EQ(second.row("figure", std::int64_t{1}).at("value"), Cell(42.0));
}

TEST(Exchange, FillsOnlyAnEmptyLedger) {
  const test::TempFolder folder;
  Ledger ledger(folder.path() / "a.sqlite", Ledger::Access::make);
  fill(ledger);
  EXPECT_THROW(fill_from_json(ledger, json_from_ledger(ledger), "a.json"), UsageError);
}

TEST(Exchange, TakesAllOfAFileOrNothingAndNamesTheEntry) {
  const test::TempFolder folder;
  Ledger ledger(folder.path() / "a.sqlite", Ledger::Access::make);
  const auto refused = [&](const std::string& tables) {
    try {
      fill_from_json(ledger, R"({"format": "canewise-ledger", "version": 1, "tables": )" + tables + "}", "it.json");
      return std::string();
    } catch (const InputError& error) {
      return std::string(error.what());
    }
  };
  EXPECT_THAT(refused(R"({"box": [{"name": "B3"}, {"name": "B3"}]})"), HasSubstr("entry 2"));
  EXPECT_THAT(refused(R"({"box": [{"name": "B3", "holds": 1e3}]})"), HasSubstr("whole number"));
  EXPECT_THAT(refused(R"({"box": [{"name": "B3", "holds": 18446744073709551615}]})"), HasSubstr("whole number"));
  EXPECT_THAT(refused(R"({"box": [{"name": ["B3"]}]})"), HasSubstr("must be words"));
  EXPECT_THAT(
      refused(R"({"reed": [{"label": "B3-1", "box": "B3", "stage": "new", "added_at": "2026-12-01T10:00:00Z"}]})"),
      HasSubstr("no box named B3"));
  for (const char* no : {"[]", R"({"box": {}})", R"({"box": [3]})", "7"})
    EXPECT_THAT(refused(no), HasSubstr("it.json"));
  EXPECT_EQ(ledger.count_of("box"), 0);
  for (const char* no : {"", "{", "[[[[[[[[[[]]]]]]]]]]", R"({"format": "other"})", R"({"format": 3, "tables": {}})"})
    EXPECT_THROW(fill_from_json(ledger, no, "it.json"), InputError) << no;
}

// Parsers that look through a list for each of its entries do not end.
TEST(Exchange, ManyEmptyEntriesAreRefusedAtOnce) {
  const test::TempFolder folder;
  Ledger ledger(folder.path() / "a.sqlite", Ledger::Access::make);
  std::string many = "[{}";
  for (int k = 0; k < 2000000; ++k) many += ",{}";
  EXPECT_THROW(
      fill_from_json(ledger, R"({"format": "canewise-ledger", "version": 1, "tables": {"box": )" + many + "]}}",
                     "it.json"),
      InputError);
  EXPECT_THROW(fill_from_json(ledger, std::string(1000000, '['), "it.json"), InputError);
}

TEST(Exchange, TablesForSpreadsheetsKeepQuotesAndRunNothing) {
  const test::TempFolder folder;
  Ledger ledger(folder.path() / "a.sqlite", Ledger::Access::make);
  fill(ledger);
  std::map<std::string, std::string> files;
  for (const OutputFile& file : csv_from_ledger(ledger)) files[file.name] = file.bytes;
  EXPECT_EQ(files["player.csv"], "name,is_teacher,player_file,note\r\n\"Änne\",1,,\"'=1+1\"\r\n");
  EXPECT_THAT(files["box.csv"], HasSubstr("\"a \"\"b\"\",\nc\""));
  EXPECT_EQ(files.size(), 11U);
}

}  // namespace
}  // namespace canewise
