// Nothing outside the served folder, whatever its name says.
#include "viewer/server/results.h"

#include <gtest/gtest.h>

#include "scanproc/words/speech.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

namespace fs = std::filesystem;

std::vector<ResultEntry> listed(ResultList& list, const HeldFolder& held) {
  return list.list(held, [] { return true; }).entries;
}

fs::path make_result(const fs::path& folder, const std::string& name, const std::string& measured_at) {
  fs::create_directories(folder / name);
  std::ofstream(folder / name / "result.json")
      << R"({"format":"canewise-result","measured_at":")" << measured_at
      << R"(","headline":"a \"quoted\" one","plan":{"headline":"not this"},"map":[[1,null],[2,3]]})";
  return folder / name;
}

TEST(Results, AreListedLastMeasuredFirst) {
  const test::TempFolder folder;
  make_result(folder.path(), "one", "2026-01-01T00:00:00Z");
  make_result(folder.path(), "two", "2026-02-01T00:00:00Z");
  fs::create_directories(folder.path() / "no result");
  make_result(folder.path(), ".hidden", "2026-03-01T00:00:00Z");
  fs::create_directories(folder.path() / "broken");
  std::ofstream(folder.path() / "broken/result.json") << "{\"format\":\"canewise-result\",";
  fs::create_directories(folder.path() / "other");
  std::ofstream(folder.path() / "other/result.json") << "{\"format\":\"something\"}";
  const HeldFolder held(folder.path());
  ResultList list;
  for (int again = 0; again < 2; ++again) {
    const auto entries = listed(list, held);
    ASSERT_EQ(entries.size(), 2U);
    EXPECT_EQ(entries[0].name, "two");
    EXPECT_EQ(entries[1].name, "one");
    EXPECT_EQ(sentences(entries[0].headline), "A \"quoted\" one");
  }
  fs::remove_all(folder.path() / "two");
  EXPECT_EQ(listed(list, held).size(), 1U);
  make_result(folder.path(), "broken", "2026-03-01T00:00:00Z");
  EXPECT_EQ(listed(list, held).front().name, "broken") << "a file that changed is read anew";
}

TEST(Results, AreReadAsLongAsTimeAllowsAndTheRestTheNextTime) {
  const test::TempFolder folder;
  for (const char* name : {"a", "b", "c", "d", "e"}) make_result(folder.path(), name, "2026-01-01T00:00:00Z");
  const HeldFolder held(folder.path());
  ResultList list;
  for (const std::size_t expected : {2U, 4U, 5U, 5U}) {
    int reads = 0;
    const auto now = list.list(held, [&] { return ++reads <= 2; });
    EXPECT_EQ(now.entries.size(), expected);
    EXPECT_EQ(now.more, expected < 5);
  }
}

TEST(Results, OneThatIsLargerThanAnyResultIsNotRead) {
  const test::TempFolder folder;
  make_result(folder.path(), "one", "2026-01-01T00:00:00Z");
  const HeldFolder held(folder.path());
  EXPECT_TRUE(result_bytes(held, "one"));
  std::filesystem::resize_file(folder.path() / "one/result.json", kMostResultBytes + 1);
  EXPECT_FALSE(result_bytes(held, "one"));
  ResultList list;
  EXPECT_TRUE(listed(list, held).empty());
}

TEST(Results, NoTextIsListedThatIsLongerThanAnyOfOurs) {
  const test::TempFolder folder;
  for (const char* key : {"measured_at", "state", "headline"}) {
    std::filesystem::create_directories(folder.path() / key);
    std::ofstream(folder.path() / key / "result.json")
        << R"({"format":"canewise-result",")" << key << R"(":")" << std::string(100000, 'x') << R"("})";
  }
  std::filesystem::create_directories(folder.path() / "messages");
  std::ofstream messages(folder.path() / "messages/result.json");
  messages << R"({"format":"canewise-result","headline":[{"id":"a"})";
  for (int k = 0; k < 10000; ++k) messages << R"(,{"id":"a"})";
  messages << "]}";
  messages.close();
  const HeldFolder held(folder.path());
  ResultList list;
  const auto entries = listed(list, held);
  ASSERT_EQ(entries.size(), 4U);
  for (const auto& entry : entries) {
    EXPECT_EQ(entry.measured_at, "") << entry.name;
    EXPECT_EQ(entry.state, "") << entry.name;
    EXPECT_TRUE(entry.headline.empty()) << entry.name;
  }
}

TEST(Results, ATokenWithoutEndIsNotEvenParsed) {
  const test::TempFolder folder;
  const std::string begin = R"({"format":"canewise-result","headline":[],"map":)";
  const auto put = [&](const char* name, const std::string& map) {
    std::filesystem::create_directories(folder.path() / name);
    std::ofstream(folder.path() / name / "result.json") << begin << map << "}";
  };
  put("number", std::string(2000000, '1'));
  put("text", "\"" + std::string(2000000, ',') + "\"");
  std::string numbers = "[1";
  for (int k = 0; k < 500000; ++k) numbers += ",12.5";
  put("fine", numbers + R"(,"a \" quote"])");
  const HeldFolder held(folder.path());
  ResultList list;
  const auto entries = listed(list, held);
  ASSERT_EQ(entries.size(), 1U);
  EXPECT_EQ(entries[0].name, "fine") << "two megabytes of short ones";
}

TEST(Results, StrangersFileNamesBecomeOurs) {
  EXPECT_EQ(safe_file_name("reed 1.ply"), "reed 1.ply");
  EXPECT_EQ(safe_file_name("../../etc/passwd"), "passwd");
  EXPECT_EQ(safe_file_name("C:\\scans\\reed.stl"), "reed.stl");
  EXPECT_EQ(safe_file_name(".ssh"), "ssh");
  EXPECT_EQ(safe_file_name("-rf.ply"), "rf.ply") << "a name that begins with '-' is an option to many a program";
  EXPECT_EQ(safe_file_name("__ reed.ply"), "reed.ply");
  EXPECT_EQ(safe_file_name("\xc3\xa9\xc3\xa9.ply"), "scan.ply") << "the ending tells the format";
  EXPECT_EQ(safe_file_name("a\nb<c>.ply"), "a_b_c_.ply");
  EXPECT_EQ(safe_file_name(std::string(500, 'x') + ".ply").size(), 80U);
  EXPECT_TRUE(safe_file_name(std::string(500, 'x') + ".ply").ends_with(".ply"));
  EXPECT_EQ(safe_file_name("\x1d." + std::string(78, '1')).size(), 80U) << "not longer by the name it was given";
  for (const char* nothing : {"", ".", "..", "/", "...", "\\", "___", "\xff\xfe"})
    EXPECT_EQ(safe_file_name(nothing), "") << nothing;
}

}  // namespace
}  // namespace canewise
