#include "scanproc/core/durable.h"

#include <gtest/gtest.h>
#include <sys/stat.h>

#include <iterator>
#include <system_error>

#include "tests/support/temp_file.h"

namespace canewise {
namespace {

namespace fs = std::filesystem;

std::string content(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

int error_of(const std::function<void()>& call) {
  try {
    call();
  } catch (const std::system_error& failure) {
    return failure.code().value();
  }
  return 0;
}

TEST(Durable, ANewFileHoldsEveryByteAndReplacesNothing) {
  const test::TempFolder folder;
  const std::string bytes("a\0b\n", 4);
  write_new_file(folder.path() / "a", bytes);
  EXPECT_EQ(content(folder.path() / "a"), bytes);
  EXPECT_EQ(error_of([&] { write_new_file(folder.path() / "a", "other"); }), EEXIST);
  EXPECT_EQ(content(folder.path() / "a"), bytes);
  EXPECT_EQ(error_of([&] { write_new_file(folder.path() / "no" / "a", "x"); }), ENOENT);
}

TEST(Durable, TwoNamesChangePlacesInOneStep) {
  const test::TempFolder folder;
  fs::create_directory(folder.path() / "a");
  const fs::path b = folder.file("b", "file");
  ASSERT_TRUE(exchange_paths(folder.path() / "a", b));
  EXPECT_TRUE(fs::is_directory(b));
  EXPECT_EQ(content(folder.path() / "a"), "file");
  EXPECT_EQ(error_of([&] { (void)exchange_paths(b, folder.path() / "nothing"); }), ENOENT);
}

TEST(Durable, AFolderIsLinkedWithAllThatItHoldsAndLinksAreNotFollowed) {
  const test::TempFolder folder;
  const fs::path from = folder.path() / "from", to = folder.path() / "to";
  fs::create_directories(from / "deep");
  (void)folder.file("from/deep/a", "one");
  fs::create_symlink("/nowhere", from / "link");
  fs::permissions(from / "deep", fs::perms::owner_all | fs::perms::group_read);
  fs::last_write_time(from / "deep", fs::file_time_type::clock::now() - std::chrono::hours(1000));
  const auto date = fs::last_write_time(from / "deep");
  link_or_copy(from, to);
  EXPECT_EQ(content(to / "deep/a"), "one");
  EXPECT_EQ(fs::hard_link_count(to / "deep/a"), 2U);
  EXPECT_EQ(fs::read_symlink(to / "link"), "/nowhere");
  EXPECT_EQ(fs::status(to / "deep").permissions(), fs::perms::owner_all | fs::perms::group_read);
  EXPECT_EQ(fs::last_write_time(to / "deep"), date);
}

TEST(Durable, SyncingWhatIsNoFolderFails) {
  const test::TempFolder folder;
  EXPECT_NO_THROW(sync_folder(folder.path()));
  EXPECT_EQ(error_of([&] { sync_folder(folder.path() / "nothing"); }), ENOENT);
  EXPECT_EQ(error_of([&] { sync_folder(folder.file("a", "")); }), ENOTDIR);
}

}  // namespace
}  // namespace canewise
