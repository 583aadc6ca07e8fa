#include "scanproc/core/output_files.h"

#include <fcntl.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cerrno>
#include <cstdio>
#include <iterator>

#include "scanproc/core/error.h"
#include "tests/support/refusals.h"
#include "tests/support/temp_file.h"

namespace {

/// The name that a file cannot be given; empty: none.
std::string forbidden_name;

}  // namespace

// Takes the place of that of the C library in this program.
extern "C" int rename(const char* from, const char* to) noexcept {
  if (!forbidden_name.empty() && std::string(to).ends_with("/" + forbidden_name)) {
    errno = EIO;
    return -1;
  }
  return ::renameat(AT_FDCWD, from, AT_FDCWD, to);
}

namespace canewise {
namespace {

namespace fs = std::filesystem;

std::string content(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}
std::size_t entries(const fs::path& folder) {
  return static_cast<std::size_t>(std::distance(fs::directory_iterator(folder), fs::directory_iterator()));
}

TEST(OutputFiles, GoIntoTheUsersFolderAndLeaveTheOthersAlone) {
  const test::TempFolder folder;
  (void)folder.file("mine.txt", "keep");
  (void)folder.file("a.txt", "old");
  write_output_files(folder.path(), {{"a.txt", "new"}, {"b.txt", "also"}});
  EXPECT_EQ(content(folder.path() / "mine.txt"), "keep");
  EXPECT_EQ(content(folder.path() / "a.txt"), "new");
  EXPECT_EQ(content(folder.path() / "b.txt"), "also");
  EXPECT_EQ(entries(folder.path()), 3U);
}

TEST(OutputFiles, AFolderThatIsNotThereAppearsWithAllOfThem) {
  const test::TempFolder folder;
  write_output_files(folder.path() / "new/deep/", {{"a.txt", "one"}});
  EXPECT_EQ(content(folder.path() / "new/deep/a.txt"), "one");
  EXPECT_EQ(entries(folder.path() / "new"), 1U);
}

TEST(OutputFiles, IfOneCannotTakeItsPlaceNoneDoes) {
  const test::TempFolder folder;
  (void)folder.file("a.txt", "old");
  fs::create_directory(folder.path() / "b.txt");  // A folder where a file should go.
  EXPECT_THROW(write_output_files(folder.path(), {{"a.txt", "new"}, {"b.txt", "new"}}), OutputError);
  EXPECT_EQ(content(folder.path() / "a.txt"), "old");
  EXPECT_EQ(entries(folder.path()), 2U);
}

TEST(OutputFiles, IfTheLastCannotTakeItsPlaceThoseBeforeItArePutBack) {
  const test::TempFolder folder;
  (void)folder.file("a.txt", "old");
  (void)folder.file("stale.txt", "stale");
  forbidden_name = "c.txt";
  const test::Refusal refusal = test::refusal_of([&] {
    write_output_files(folder.path(), {{"a.txt", "new"}, {"b.txt", "new"}, {"c.txt", "new"}}, {"stale.txt"});
    return 0;
  });
  forbidden_name.clear();
  EXPECT_THAT(refusal.words, testing::HasSubstr("What was there is unchanged"));
  EXPECT_EQ(content(folder.path() / "a.txt"), "old");
  EXPECT_EQ(content(folder.path() / "stale.txt"), "stale");
  EXPECT_EQ(entries(folder.path()), 2U);
}

TEST(OutputFiles, WhatIsToBeDroppedGoes) {
  const test::TempFolder folder;
  (void)folder.file("stale.txt", "old");
  write_output_files(folder.path(), {{"a.txt", "new"}}, {"stale.txt", "never was.txt"});
  EXPECT_EQ(entries(folder.path()), 1U);
}

TEST(OutputFiles, LeftoversOfAKilledWriterGo) {
  const test::TempFolder folder;
  fs::create_directories(folder.path() / ".canewise-1-1/new");
  write_output_files(folder.path(), {{"a.txt", "new"}});
  EXPECT_EQ(entries(folder.path()), 1U);
}

TEST(OutputFiles, AFileInTheFoldersPlaceIsLeftAlone) {
  const test::TempFolder folder;
  const fs::path file = folder.file("a", "a file");
  EXPECT_THROW(write_output_files(file, {{"a.txt", "x"}}), OutputError);
  EXPECT_EQ(content(file), "a file");
}

}  // namespace
}  // namespace canewise
