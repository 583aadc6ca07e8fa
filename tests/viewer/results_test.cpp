// Nothing outside the served folder, whatever its name says.
#include "viewer/server/results.h"

#include <gtest/gtest.h>

#include "scanproc/words/speech.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

namespace fs = std::filesystem;

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
  ResultList list(folder.path());
  for (int again = 0; again < 2; ++again) {
    const auto entries = list.entries();
    ASSERT_EQ(entries.size(), 2U);
    EXPECT_EQ(entries[0].name, "two");
    EXPECT_EQ(entries[1].name, "one");
    EXPECT_EQ(sentences(entries[0].headline), "A \"quoted\" one");
  }
  fs::remove_all(folder.path() / "two");
  EXPECT_EQ(list.entries().size(), 1U);
}

TEST(Results, FoldersOutsideAreNotFound) {
  const test::TempFolder outside, folder;
  make_result(outside.path(), "secret", "2026-01-01T00:00:00Z");
  make_result(folder.path(), "one", "2026-01-01T00:00:00Z");
  EXPECT_TRUE(result_folder(folder.path(), "one"));
  fs::create_directory_symlink(outside.path() / "secret", folder.path() / "link");
  for (const std::string& name : {std::string("link"), std::string(".."), std::string("."),
                                  std::string("../") + outside.path().filename().string() + "/secret",
                                  (outside.path() / "secret").string(), std::string(), std::string("one/../one"),
                                  std::string("one\0", 4), std::string("nothing"), std::string(5000, 'x')})
    EXPECT_FALSE(result_folder(folder.path(), name)) << name;
}

TEST(Results, AFileThatIsALinkIsNotRead) {
  const test::TempFolder folder;
  folder.file("plain", "x");
  fs::create_symlink("/etc/passwd", folder.path() / "link");
  EXPECT_EQ(file_bytes(folder.path() / "plain"), "x");
  EXPECT_FALSE(file_bytes(folder.path() / "link"));
  EXPECT_FALSE(file_bytes(folder.path()));
}

TEST(Results, StrangersFileNamesBecomeOurs) {
  EXPECT_EQ(safe_file_name("reed 1.ply"), "reed 1.ply");
  EXPECT_EQ(safe_file_name("../../etc/passwd"), "passwd");
  EXPECT_EQ(safe_file_name("C:\\scans\\reed.stl"), "reed.stl");
  EXPECT_EQ(safe_file_name(".ssh"), "ssh");
  EXPECT_EQ(safe_file_name("-rf.ply"), "-rf.ply") << "never given to a shell, always behind a folder";
  EXPECT_EQ(safe_file_name("a\nb<c>.ply"), "a_b_c_.ply");
  EXPECT_EQ(safe_file_name(std::string(500, 'x') + ".ply").size(), 80U);
  EXPECT_TRUE(safe_file_name(std::string(500, 'x') + ".ply").ends_with(".ply"));
  for (const char* nothing : {"", ".", "..", "/", "...", "\\", "___", "\xff\xfe"})
    EXPECT_EQ(safe_file_name(nothing), "") << nothing;
}

}  // namespace
}  // namespace canewise
