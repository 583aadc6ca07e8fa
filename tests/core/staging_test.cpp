#include "scanproc/core/staging.h"

#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <optional>
#include <string>

#include "tests/support/temp_file.h"

namespace canewise {
namespace {

namespace fs = std::filesystem;

std::size_t entries(const fs::path& folder) {
  return static_cast<std::size_t>(std::distance(fs::directory_iterator(folder), fs::directory_iterator()));
}

/// Lets a process of its own fill a staging folder in some way and be killed there.
template <typename Fill>
void killed_while_it(const fs::path& parent, const Fill& fill) {
  const pid_t writer = ::fork();
  if (writer == 0) {
    const Staging staging(parent);
    fill(staging);
    ::kill(::getpid(), SIGKILL);
  }
  int status = 0;
  ASSERT_EQ(::waitpid(writer, &status, 0), writer);
  ASSERT_TRUE(WIFSIGNALED(status));
}

TEST(Staging, IsHiddenAndGoesWithAllThatItHolds) {
  const test::TempFolder folder;
  {
    const Staging staging(folder.path());
    EXPECT_TRUE(is_staging_name(staging.path().filename().string())) << staging.path();
    EXPECT_EQ(staging.path().parent_path(), folder.path());
    fs::create_directories(staging.new_folder() / "deep");
    EXPECT_EQ(entries(folder.path()), 1U);
  }
  EXPECT_EQ(entries(folder.path()), 0U);
}

TEST(Staging, OnlyNamesOfOursAreTakenForOne) {
  EXPECT_TRUE(is_staging_name(".canewise-1-22"));
  for (const char* name : {".canewise-notes", ".canewise-1", ".canewise-1-", ".canewise--1", ".canewise-incoming-1",
                           ".canewise-1-2.txt", ".canewise-1-2-3", "canewise-1-2", ""}) {
    EXPECT_FALSE(is_staging_name(name)) << name;
  }
}

TEST(Staging, OfALivingWriterStays) {
  const test::TempFolder folder;
  const Staging alive(folder.path());
  fs::create_directory(alive.new_folder());
  clear_stale_staging(folder.path());
  EXPECT_TRUE(fs::exists(alive.new_folder()));
}

TEST(Staging, OfAKilledWriterGoesWhoeverHasItsNumberNow) {
  const test::TempFolder folder;
  killed_while_it(folder.path(), [](const Staging& s) { fs::create_directories(s.new_folder() / "deep"); });
  // The number of a living process that is no writer there.
  fs::create_directories(folder.path() / (".canewise-" + std::to_string(::getpid()) + "-1") / "inside");
  fs::create_directory(folder.path() / ".canewise-notes");
  (void)folder.file(".canewise-1-2", "a file of that name is nobody's");
  fs::create_directory(folder.path() / "elsewhere");
  fs::create_directory_symlink(folder.path() / "elsewhere", folder.path() / ".canewise-3-4");
  ASSERT_EQ(entries(folder.path()), 6U);
  clear_stale_staging(folder.path());
  EXPECT_EQ(entries(folder.path()), 4U);
  EXPECT_TRUE(fs::exists(folder.path() / ".canewise-notes"));
  EXPECT_TRUE(fs::exists(folder.path() / "elsewhere"));
}

TEST(Staging, AFolderThatWasPutAsideComesBackIfTheNewOneHasNotItsPlace) {
  const test::TempFolder folder;
  killed_while_it(folder.path(), [&](const Staging& s) {
    fs::create_directories(s.new_folder());
    fs::create_directories(s.aside("reed") / "old");
  });
  EXPECT_FALSE(fs::exists(folder.path() / "reed"));
  clear_stale_staging(folder.path());
  EXPECT_TRUE(fs::exists(folder.path() / "reed/old"));
  EXPECT_EQ(entries(folder.path()), 1U);
}

TEST(Staging, AFolderThatWasReplacedDoesNotComeBack) {
  const test::TempFolder folder;
  killed_while_it(folder.path(), [&](const Staging& s) {
    fs::create_directories(s.aside("reed") / "old");
    fs::create_directories(folder.path() / "reed/new");
  });
  clear_stale_staging(folder.path());
  EXPECT_TRUE(fs::exists(folder.path() / "reed/new"));
  EXPECT_FALSE(fs::exists(folder.path() / "reed/old"));
  EXPECT_EQ(entries(folder.path()), 1U);
}

TEST(Staging, WhatWaitsStaysWhereSomebodyElseTookItsPlace) {
  const test::TempFolder folder;
  killed_while_it(folder.path(), [&](const Staging& s) {
    fs::create_directories(s.new_folder());
    fs::create_directories(s.aside("reed") / "old");
    fs::create_directories(folder.path() / "reed/mine");
  });
  clear_stale_staging(folder.path());
  EXPECT_TRUE(fs::exists(folder.path() / "reed/mine"));
  EXPECT_EQ(entries(folder.path()), 2U) << "neither is lost";
}

TEST(Staging, AFolderThatTakesNoneIsSaidByTheSystemsNumber) {
  const test::TempFolder folder;
  try {
    const Staging staging(folder.path() / "nowhere");
    FAIL();
  } catch (const std::system_error& failure) {
    EXPECT_EQ(failure.code().value(), ENOENT);
  }
}

}  // namespace
}  // namespace canewise
