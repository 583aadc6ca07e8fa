#include "scanproc/bytes/dated_copy.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <set>
#include <string>

#include "scanproc/core/error.h"
#include "tests/support/refusals.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

namespace fs = std::filesystem;
using testing::MatchesRegex;

std::string content(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}
std::set<std::string> names_in(const fs::path& folder) {
  std::set<std::string> names;
  for (const auto& entry : fs::directory_iterator(folder)) names.insert(entry.path().filename().string());
  return names;
}

TEST(DatedCopy, ANewFileHasNothingToKeep) {
  const test::TempFolder folder;
  EXPECT_EQ(write_keeping_old(folder.path() / "rig.toml", "new"), "");
  EXPECT_EQ(content(folder.path() / "rig.toml"), "new");
  EXPECT_EQ(names_in(folder.path()), (std::set<std::string>{"rig.toml"}));
}

TEST(DatedCopy, TheFileThatWasThereStaysBesideItToTheLastByte) {
  const test::TempFolder folder;
  const std::string old("a\0b\r\n\xff", 6);
  const std::string kept = write_keeping_old(folder.file("my rig.v2.toml", old), "new");
  EXPECT_THAT(kept, MatchesRegex("my rig\\.v2-before-[0-9]{8}T[0-9]{6}Z\\.toml"));
  EXPECT_EQ(content(folder.path() / kept), old);
  EXPECT_EQ(content(folder.path() / "my rig.v2.toml"), "new");
  EXPECT_EQ(names_in(folder.path()), (std::set<std::string>{"my rig.v2.toml", kept}));
}

TEST(DatedCopy, ANameWithoutExtensionIsDatedAtItsEnd) {
  const test::TempFolder folder;
  EXPECT_THAT(write_keeping_old(folder.file("player", "old"), "new"), MatchesRegex("player-before-[0-9]{8}T[0-9]{6}Z"));
}

TEST(DatedCopy, StepsWithinASecondKeepEveryFile) {
  const test::TempFolder folder;
  const fs::path path = folder.file("rig.toml", "0");
  std::set<std::string> kept;
  for (const char* next : {"1", "2", "3", "4"}) kept.insert(write_keeping_old(path, next));
  EXPECT_EQ(kept.size(), 4U);
  std::set<std::string> contents;
  for (const std::string& name : kept) contents.insert(content(folder.path() / name));
  EXPECT_EQ(contents, (std::set<std::string>{"0", "1", "2", "3"}));
  EXPECT_EQ(content(path), "4");
}

TEST(DatedCopy, AnEmptyFileIsKeptLikeAnyOther) {
  const test::TempFolder folder;
  const std::string kept = write_keeping_old(folder.file("rig.toml", ""), "new");
  EXPECT_TRUE(fs::exists(folder.path() / kept));
  EXPECT_EQ(content(folder.path() / "rig.toml"), "new");
}

TEST(DatedCopy, ANameWithoutAFolderIsThatOfTheCurrentOne) {
  const test::TempFolder folder;
  const fs::path was = fs::current_path();
  fs::current_path(folder.path());
  EXPECT_NO_THROW((void)write_keeping_old("rig.toml", "first"));
  EXPECT_NO_THROW((void)write_keeping_old("rig.toml", "second"));
  fs::current_path(was);
  EXPECT_EQ(content(folder.path() / "rig.toml"), "second");
  EXPECT_EQ(names_in(folder.path()).size(), 2U);
}

TEST(DatedCopy, WhereNothingCanBeWrittenNothingChanges) {
  const test::TempFolder folder;
  (void)folder.file("a file", "mine");
  const test::Refusal refusal =
      test::refusal_of([&] { return write_keeping_old(folder.path() / "a file" / "rig.toml", "new"); });
  EXPECT_EQ(refusal.exit_code, ExitCode::cannot_write);
  EXPECT_THAT(refusal.words, testing::HasSubstr("a file"));
  EXPECT_EQ(content(folder.path() / "a file"), "mine");
  EXPECT_EQ(names_in(folder.path()), (std::set<std::string>{"a file"}));
}

TEST(DatedCopy, AFolderOfThatNameIsLeftAlone) {
  const test::TempFolder folder;
  fs::create_directory(folder.path() / "rig.toml");
  EXPECT_THROW((void)write_keeping_old(folder.path() / "rig.toml", "new"), OutputError);
  EXPECT_EQ(names_in(folder.path()), (std::set<std::string>{"rig.toml"}));
}

}  // namespace
}  // namespace canewise
