// Files of one folder, found without following a link at any step.
#include "viewer/server/held_folder.h"

#include <fcntl.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/stat.h>

#include <fstream>
#include <thread>

#include "scanproc/core/error.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

namespace fs = std::filesystem;

void put(const fs::path& path, const std::string& bytes) {
  fs::create_directories(path.parent_path());
  std::ofstream(path) << bytes;
}

TEST(HeldFolder, ReadsARegularFileOfOneOfItsFoldersWhole) {
  const test::TempFolder folder;
  put(folder.path() / "reed/map.png", "picture");
  const HeldFolder held(folder.path());
  EXPECT_EQ(held.read("reed", "map.png", 7), "picture");
  EXPECT_EQ(held.read("reed", "map.png", 6), std::nullopt) << "one byte more than is wanted";
  EXPECT_EQ(held.state("reed", "map.png").value().bytes, 7U);
  put(folder.path() / "reed/empty", "");
  EXPECT_EQ(held.read("reed", "empty", 0), "");
}

TEST(HeldFolder, WhatIsNoPlainNameIsNothing) {
  const test::TempFolder outside, folder;
  put(outside.path() / "secret/result.json", "secret");
  put(folder.path() / "reed/result.json", "open");
  put(folder.path() / ".hidden/result.json", "hidden");
  const HeldFolder held(folder.path());
  for (const std::string& name :
       {std::string(), std::string("."), std::string(".."), std::string(".hidden"), std::string("reed/../reed"),
        std::string("reed\0", 5), (outside.path() / "secret").string(), "../" + outside.path().filename().string(),
        std::string(5000, 'x')}) {
    EXPECT_EQ(held.read(name, "result.json", 100), std::nullopt) << name;
    EXPECT_EQ(held.read("reed", name, 100), std::nullopt) << name;
    EXPECT_FALSE(held.state(name, "result.json")) << name;
  }
}

TEST(HeldFolder, ALinkAPipeOrAFolderIsNoFile) {
  const test::TempFolder outside, folder;
  put(outside.path() / "secret/result.json", "secret");
  put(folder.path() / "reed/result.json", "open");
  fs::create_directory_symlink(outside.path() / "secret", folder.path() / "link");
  fs::create_symlink(outside.path() / "secret/result.json", folder.path() / "reed/link.json");
  fs::create_directories(folder.path() / "reed/folder");
  ASSERT_EQ(::mkfifo((folder.path() / "reed/pipe").c_str(), 0600), 0);
  const HeldFolder held(folder.path());
  EXPECT_EQ(held.read("link", "result.json", 100), std::nullopt);
  for (const char* file : {"link.json", "folder", "pipe"})
    EXPECT_EQ(held.read("reed", file, 100), std::nullopt) << file;
}

TEST(HeldFolder, ALinkThatIsSwappedInLeadsNowhereAtWhateverMoment) {
  const test::TempFolder outside, folder;
  put(outside.path() / "secret/map.png", "secret");
  put(folder.path() / "reed/map.png", "open");
  fs::create_directory_symlink(outside.path() / "secret", folder.path() / "link");
  const HeldFolder held(folder.path());
  // Ends with the test, whatever that finds.
  const std::jthread swaps([&](const std::stop_token& over) {
    const std::string one = (folder.path() / "reed").string(), other = (folder.path() / "link").string();
    while (!over.stop_requested()) ::renameat2(AT_FDCWD, one.c_str(), AT_FDCWD, other.c_str(), RENAME_EXCHANGE);
  });
  int opened = 0, nothing = 0;
  for (int k = 0; k < 20000; ++k) {
    const auto bytes = held.read("reed", "map.png", 100);
    if (!bytes) {
      ++nothing;
      continue;
    }
    ++opened;
    ASSERT_EQ(*bytes, "open");
  }
  EXPECT_GT(opened, 100);
  EXPECT_GT(nothing, 100) << "the link was met, or this shows nothing";
}

TEST(HeldFolder, StaysTheFolderThatItWas) {
  const test::TempFolder around;
  put(around.path() / "served/reed/map.png", "open");
  const HeldFolder held(around.path() / "served");
  EXPECT_TRUE(held.is_in_place());
  fs::rename(around.path() / "served", around.path() / "elsewhere");
  EXPECT_FALSE(held.is_in_place());
  put(around.path() / "served/reed/map.png", "another");
  EXPECT_FALSE(held.is_in_place()) << "another has its name";
  EXPECT_EQ(held.read("reed", "map.png", 100), "open");
  EXPECT_THROW(HeldFolder(around.path() / "nothing"), OutputError);
}

TEST(HeldFolder, ListsPlainNamesUpToSoMany) {
  const test::TempFolder folder;
  for (const char* name : {"one", "two", "three", ".hidden"}) fs::create_directories(folder.path() / name);
  const HeldFolder held(folder.path());
  for (int again = 0; again < 2; ++again)
    EXPECT_THAT(held.names(10), testing::UnorderedElementsAre("one", "two", "three")) << "each time from the beginning";
  EXPECT_EQ(held.names(2).size(), 2U);
}

}  // namespace
}  // namespace canewise
