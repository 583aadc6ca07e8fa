#include "scanproc/bytes/scan_file.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <array>
#include <filesystem>
#include <string>

#include "tests/support/refusals.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;

test::Refusal refusal_of_file(const fs::path& path) {
  return test::refusal_of([&] { return ScanFile(path).size(); });
}

TEST(ScanFile, KnowsItsPathAndSizeAndGivesItsBytes) {
  const test::TempFolder folder;
  const std::string bytes("one\0two\n\xff", 9);
  const fs::path path = folder.file("a.bin", bytes);
  const ScanFile file(path);
  EXPECT_EQ(file.path(), path);
  EXPECT_EQ(file.size(), 9U);
  EXPECT_EQ(file.all(), bytes);
}

TEST(ScanFile, TheHeadIsNoLongerThanAskedOrThanTheFile) {
  const test::TempFolder folder;
  const ScanFile file(folder.file("a.bin", "0123456789"));
  EXPECT_EQ(file.head(4), "0123");
  EXPECT_EQ(file.head(10), "0123456789");
  EXPECT_EQ(file.head(1000), "0123456789");
  EXPECT_EQ(file.head(0), "");
}

TEST(ScanFile, BytesAreReadFromAnyPlaceInAnyOrder) {
  const test::TempFolder folder;
  const ScanFile file(folder.file("a.bin", "0123456789"));
  std::array<char, 3> bytes{};
  file.read_at(7, bytes);
  EXPECT_EQ(std::string(bytes.data(), 3), "789") << "up to the very end";
  file.read_at(2, bytes);
  EXPECT_EQ(std::string(bytes.data(), 3), "234");
}

TEST(ScanFile, ReadingBeyondTheEndNamesTheByteWhereItEnds) {
  const test::TempFolder folder;
  const fs::path path = folder.file("a.bin", "0123456789");
  const test::Refusal refusal = test::refusal_of([&] {
    std::array<char, 3> bytes{};
    ScanFile(path).read_at(8, bytes);
  });
  EXPECT_EQ(refusal.id, "scan_file.ends_early");
  EXPECT_EQ(refusal.number("byte"), 10.0);
  EXPECT_EQ(refusal.file, path.string());
}

TEST(ScanFile, ItsDigestIsThatOfAllItsBytes) {
  const test::TempFolder folder;
  // FIPS 180-4's examples: 'abc', and a million times 'a', which is more than one piece.
  EXPECT_EQ(ScanFile(folder.file("a", "abc")).sha256(),
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  EXPECT_EQ(ScanFile(folder.file("b", std::string(1000000, 'a'))).sha256(),
            "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
}

TEST(ScanFile, WhatIsNoFileWithContentIsRefusedByItsName) {
  const test::TempFolder folder;
  const fs::path empty = folder.file("empty.ply", "");
  for (const auto& [path, id] : {std::pair<fs::path, const char*>{folder.path() / "none.ply", "scan_file.none"},
                                 {folder.path(), "scan_file.folder"},
                                 {"/dev/null", "scan_file.not_regular"},
                                 {empty, "scan_file.empty"},
                                 {empty / "inside.ply", "scan_file.cannot_open"}}) {
    const test::Refusal refusal = refusal_of_file(path);
    EXPECT_EQ(refusal.id, id);
    EXPECT_EQ(refusal.exit_code, ExitCode::bad_input);
    EXPECT_THAT(refusal.words, testing::StartsWith(path.string() + ": "));
  }
}

TEST(ScanFile, ARefusalNamesTheFileWhoseNameSpeaksToNoTerminal) {
  const test::TempFolder folder;
  const ScanFile file(folder.file("a\x1b[31m\n.ply", "x"));
  const test::Refusal refusal = test::refusal_of([&] { file.fail({"zip.damaged"}); });
  EXPECT_EQ(refusal.exit_code, ExitCode::bad_input);
  EXPECT_EQ(refusal.id, "zip.damaged");
  EXPECT_THAT(refusal.words, HasSubstr("a\\x1b[31m\\x0a.ply: "));
  EXPECT_THAT(refusal.words, testing::Not(HasSubstr("\x1b")));
}

}  // namespace
}  // namespace canewise
