// Room for scans that come in: bounded, one server a folder, nothing left behind.
#include "viewer/server/uploads.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <fstream>
#include <vector>

#include "scanproc/core/error.h"
#include "scanproc/core/staging.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;

TEST(Uploads, AFolderHasOneServer) {
  const test::TempFolder folder;
  auto first = std::make_unique<Uploads>(folder.path(), UploadLimits{});
  const auto slot = first->begin(10);
  ASSERT_TRUE(slot);
  try {
    const Uploads second(folder.path(), UploadLimits{});
    FAIL() << "a second one was let in";
  } catch (const OutputError& error) {
    EXPECT_THAT(error.what(), HasSubstr("another 'canewise serve'"));
  }
  EXPECT_TRUE(fs::exists(slot->folder())) << "what the first one receives is not taken for leftovers";
}

TEST(Uploads, TheFolderIsFreeAgainAfterwards) {
  const test::TempFolder folder;
  { const Uploads first(folder.path(), UploadLimits{}); }
  EXPECT_NO_THROW(Uploads(folder.path(), UploadLimits{}));
}

TEST(Uploads, BytesAreReservedBeforeTheyArrive) {
  const test::TempFolder folder;
  Uploads uploads(folder.path(), {.at_once = 10, .bytes = 100});
  EXPECT_FALSE(uploads.begin(101));
  auto first = uploads.begin(60);
  ASSERT_TRUE(first);
  EXPECT_FALSE(uploads.begin(60)) << "not a byte of the first has come yet";
  EXPECT_TRUE(uploads.begin(40));
  // Kept for a measurement: it counts with what it takes until somebody takes it away.
  std::ofstream(first->folder() / "reed.ply") << std::string(50, 'x');
  const fs::path kept = first->folder();
  first->keep();
  first.reset();
  EXPECT_TRUE(fs::exists(kept / "reed.ply"));
  EXPECT_FALSE(uploads.begin(51));
  EXPECT_TRUE(uploads.begin(50));
  fs::remove_all(kept);
  EXPECT_TRUE(uploads.begin(100));
}

TEST(Uploads, NoMoreThanSoManyAtOnce) {
  const test::TempFolder folder;
  Uploads uploads(folder.path(), {.at_once = 3, .bytes = 1000});
  std::vector<Uploads::Slot> slots;
  for (int k = 0; k < 3; ++k) {
    auto slot = uploads.begin(1);
    ASSERT_TRUE(slot);
    slots.push_back(std::move(*slot));
  }
  EXPECT_FALSE(uploads.begin(1));
  slots.pop_back();
  EXPECT_TRUE(uploads.begin(1));
}

TEST(Uploads, OneThatIsNotKeptLeavesNothing) {
  const test::TempFolder folder;
  Uploads uploads(folder.path(), UploadLimits{});
  {
    const auto slot = uploads.begin(10);
    ASSERT_TRUE(slot);
    std::ofstream(slot->folder() / "half.ply") << "ply";
  }
  EXPECT_TRUE(fs::is_empty(folder.path()));
}

TEST(Uploads, LeftoversGoWithWhoeverIsDeadAndNobodyElse) {
  const test::TempFolder folder;
  const pid_t dead = ::fork();
  if (dead == 0) ::_exit(0);
  ::waitpid(dead, nullptr, 0);
  const auto named = [&](const std::string& name) { return folder.path() / name; };
  const fs::path orphan = named(".canewise-" + std::to_string(dead) + "-1"), foreign = named(".canewise-notes");
  // The number of a dead writer, given to another process since.
  const fs::path reused = named(".canewise-" + std::to_string(::getpid()) + "-1");
  const Staging alive(folder.path());
  for (const auto& path : {orphan, reused, alive.path(), foreign, named(".canewise-incoming-1"), named("reed-1")})
    fs::create_directories(path / "inside");
  { const Uploads uploads(folder.path(), UploadLimits{}); }
  EXPECT_FALSE(fs::exists(orphan));
  EXPECT_FALSE(fs::exists(reused));
  EXPECT_FALSE(fs::exists(named(".canewise-incoming-1")));
  EXPECT_TRUE(fs::exists(alive.path() / "inside")) << "a 'canewise measure' in a terminal writes there just now";
  EXPECT_TRUE(fs::exists(foreign / "inside"));
  EXPECT_TRUE(fs::exists(named("reed-1") / "inside"));
}

}  // namespace
}  // namespace canewise
