#include "scanproc/ledger/file_result.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "scanproc/core/error.h"
#include "scanproc/ledger/records.h"
#include "scanproc/pipeline/result_json.h"
#include "tests/support/results.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

namespace fs = std::filesystem;

struct FileResultTest : testing::Test {
  static void SetUpTestSuite() { measured = new Result(test::heavy_rail_result()); }
  static void TearDownTestSuite() { delete measured; }
  static Result* measured;
  test::TempFolder folder;
  Ledger ledger{folder.path() / "ledger.sqlite", Ledger::Access::make};

  /// A result of that reed in a folder of its own.
  [[nodiscard]] Result result_in(const std::string& name, const ReedName& reed) const {
    Result result = *measured;
    result.reed = reed;
    fs::create_directories(folder.path() / name);
    std::ofstream(folder.path() / name / "result.json") << json_from_result(result);
    return result;
  }
};
Result* FileResultTest::measured = nullptr;

TEST_F(FileResultTest, ALabelTellsTheBox) {
  ledger.insert("player", {{"name", "Anna"}});
  ledger.insert("box", {{"name", "B3"}, {"player", "Anna"}});
  add_reed(ledger, "B3-7");
  const ReedRecord reed = find_reed(ledger, "B3-7");
  EXPECT_EQ(reed.box, "B3");
  EXPECT_EQ(reed.number, 7);
  EXPECT_EQ(reed.player, "Anna");
  for (const char* label : {"B4-7", "B3-x", "B3-0", "B3-07x", "-7", "B3"}) {
    if (std::string(label).front() == '-') continue;
    add_reed(ledger, label);
    EXPECT_EQ(find_reed(ledger, label).box, "") << label;
  }
  EXPECT_THROW(add_reed(ledger, "b3-7"), UsageError) << "a slip of the shift key";
  const ReedName next = whose_reed(ledger, "B3-8");
  EXPECT_EQ(next.box, "B3");
  EXPECT_EQ(next.player, "Anna");
  EXPECT_FALSE(ledger.has("reed", "B3-8")) << "asking adds nothing";
  EXPECT_THROW((void)whose_reed(ledger, "../B3"), UsageError);
}

TEST_F(FileResultTest, FilesWhereItLiesAndItsFigures) {
  const Result result = result_in("B3-7-a", {"B3-7", "B3", "Anna"});
  file_result(ledger, folder.path() / "B3-7-a", result);
  const auto filed = latest_result(ledger, "B3-7");
  ASSERT_TRUE(filed);
  EXPECT_EQ(filed->folder, "B3-7-a") << "from the ledger's folder on, so that both can move";
  EXPECT_EQ(filed->plan, name_of(result.plan.status));
  EXPECT_GE(filed->figures.size(), 7U);
  EXPECT_EQ(find_reed(ledger, "B3-7").player, "Anna") << "what the result knows and the ledger did not";
  file_result(ledger, folder.path() / "B3-7-a", result);
  ledger.insert("work", {{"reed", "B3-7"}, {"done_at", "2026-12-01T10:00:00Z"}, {"folder", "B3-7-a"}});
  file_result(ledger, folder.path() / "B3-7-a", result);
  EXPECT_EQ(ledger.rows("work").front().at("folder"), Cell("B3-7-a")) << "what was noted of it stays";
  EXPECT_EQ(ledger.count_of("result"), 1);
  EXPECT_EQ(ledger.count_of("figure"), static_cast<std::int64_t>(filed->figures.size()));
}

TEST_F(FileResultTest, AdoptsEveryResultOnce) {
  (void)result_in("season/B3-7-a", {"B3-7", "B3", "Anna"});
  (void)result_in("season/B3-7-b", {"B3-7", "B3", "Anna"});
  (void)result_in("scan-canewise", {});
  fs::create_directories(folder.path() / "broken");
  std::ofstream(folder.path() / "broken/result.json") << "{\"format\": \"canewise-result\"";
  fs::create_directories(folder.path() / "off-compare");
  std::ofstream(folder.path() / "off-compare/compare.json") << "{}";
  fs::create_directory_symlink(folder.path(), folder.path() / "round");
  const auto adopted = adopt_results(ledger, folder.path());
  ASSERT_EQ(adopted.size(), 4U);
  int refused = 0;
  for (const AdoptedResult& entry : adopted) refused += !entry.refusal.empty();
  EXPECT_EQ(refused, 1);
  EXPECT_EQ(ledger.count_of("result"), 3);
  EXPECT_EQ(ledger.count_of("result", {.equal = {{"reed", "B3-7"}}}), 2);
  EXPECT_EQ(ledger.count_of("result", {.equal = {{"reed", "scan-canewise"}}}), 1) << "named after its folder";
  EXPECT_EQ(find_reed(ledger, "B3-7").box, "B3");
  EXPECT_EQ(adopt_results(ledger, folder.path()).size(), 1U) << "the broken one, and no other again";
}

TEST_F(FileResultTest, AdoptingALabelKeepsItsBoxAndPassesHiddenFoldersBy) {
  ledger.insert("box", {{"name", "B3"}});
  (void)result_in("B3-7", {});
  (void)result_in(".canewise-tmp/B3-8", {"B3-8", "", ""});
  ASSERT_EQ(adopt_results(ledger, folder.path()).size(), 1U);
  EXPECT_EQ(find_reed(ledger, "B3-7").box, "B3");
}

TEST_F(FileResultTest, TheLedgerIsMadeAnewFromTheResults) {
  file_result(ledger, folder.path() / "a", result_in("a", {"B3-7", "B3", "Anna"}));
  file_result(ledger, folder.path() / "b", result_in("b", {"B3-8", "B3", "Anna"}));
  Ledger anew(folder.path() / "anew.sqlite", Ledger::Access::make);
  (void)adopt_results(anew, folder.path());
  for (const char* table : {"player", "box", "result"}) EXPECT_EQ(anew.rows(table), ledger.rows(table)) << table;
  EXPECT_EQ(anew.count_of("figure"), ledger.count_of("figure"));
}

}  // namespace
}  // namespace canewise
