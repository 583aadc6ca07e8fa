#include "scanproc/core/output_folder.h"

#include <dlfcn.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <cerrno>
#include <fstream>
#include <functional>
#include <iterator>
#include <optional>
#include <utility>

#include "scanproc/core/error.h"
#include "tests/support/refusals.h"

namespace {

/// What the file system answers to an exchange; 0: what it really does.
int answer_to_exchange = 0;
/// What it answers to the renaming of a new folder into its place; 0 as above.
int answer_to_rename = 0;
/// What it answers to a hard link from the new folder into the old one; 0 as above.
int answer_to_link = 0;
/// What somebody else does just before the exchange.
std::function<void()> meanwhile;

}  // namespace

// Take the places of those of the C library in this program.
extern "C" int renameat2(int from_folder, const char* from, int to_folder, const char* to,
                         unsigned int flags) noexcept {
  if (meanwhile) std::exchange(meanwhile, nullptr)();
  if (answer_to_exchange != 0) {
    errno = answer_to_exchange;
    return -1;
  }
  using Function = int(int, const char*, int, const char*, unsigned int);
  return reinterpret_cast<Function*>(::dlsym(RTLD_NEXT, "renameat2"))(from_folder, from, to_folder, to, flags);
}
extern "C" int linkat(int from_folder, const char* from, int to_folder, const char* to, int flags) noexcept {
  if (answer_to_link != 0 && std::string(to).find("/new/") != std::string::npos) {
    errno = answer_to_link;
    return -1;
  }
  using Function = int(int, const char*, int, const char*, int);
  return reinterpret_cast<Function*>(::dlsym(RTLD_NEXT, "linkat"))(from_folder, from, to_folder, to, flags);
}
extern "C" int rename(const char* from, const char* to) noexcept {
  if (answer_to_rename != 0 && std::string(from).ends_with("/new")) {
    errno = answer_to_rename;
    return -1;
  }
  return reinterpret_cast<int (*)(const char*, const char*)>(::dlsym(RTLD_NEXT, "rename"))(from, to);
}

namespace canewise {
namespace {

namespace fs = std::filesystem;
using testing::AllOf;
using testing::HasSubstr;

const OwnFolder kOwn{"result.json", "canewise-result", {"map.png", "table.png", "result.json"}};
const std::string kProof = R"({"format":"canewise-result","version":1})";

class OutputFolder : public testing::Test {
 protected:
  void SetUp() override {
    fs::remove_all(root_);
    fs::create_directories(root_);
    root_ = fs::canonical(root_);
    answer_to_exchange = answer_to_rename = answer_to_link = 0;
  }
  void TearDown() override {
    answer_to_exchange = answer_to_rename = answer_to_link = 0;
    fs::remove_all(root_);
  }
  void put(const std::string& name, const std::string& bytes) const {
    fs::create_directories((root_ / name).parent_path());
    std::ofstream(root_ / name, std::ios::binary) << bytes;
  }
  [[nodiscard]] std::string content(const std::string& name) const {
    std::ifstream file(root_ / name, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
  }
  [[nodiscard]] std::size_t entries(const std::string& name = "") const {
    return static_cast<std::size_t>(std::distance(fs::directory_iterator(root_ / name), fs::directory_iterator()));
  }
  void write(const std::string& name) const { write_output_folder(root_ / name, files_, kOwn); }
  /// An older folder of ours with files of the user's.
  void put_older() const {
    put("out/map.png", "old map");
    put("out/table.png", "a table that this run has not");
    put("out/result.json", kProof);
    put("out/mine.txt", "keep");
    put("out/sub/deep.txt", "keep too");
  }
  void expect_new_with_mine() const {
    EXPECT_EQ(content("out/map.png"), "new map");
    EXPECT_EQ(content("out/result.json"), kProof + "\n");
    EXPECT_EQ(content("out/mine.txt"), "keep");
    EXPECT_EQ(content("out/sub/deep.txt"), "keep too");
    EXPECT_FALSE(fs::exists(root_ / "out/table.png"));
    EXPECT_EQ(entries("out"), 4U);
    EXPECT_EQ(entries(), 1U) << "nothing hidden stays";
  }
  void expect_old() const {
    EXPECT_EQ(content("out/map.png"), "old map");
    EXPECT_TRUE(fs::exists(root_ / "out/table.png"));
    EXPECT_EQ(content("out/mine.txt"), "keep");
    EXPECT_EQ(entries("out"), 5U);
    EXPECT_EQ(entries(), 1U);
  }
  [[nodiscard]] std::string refusal(const std::string& name) const {
    const test::Refusal refused = test::refusal_of([&] {
      write(name);
      return 0;
    });
    EXPECT_EQ(refused.exit_code, ExitCode::cannot_write);
    return refused.words;
  }
  fs::path root_ = fs::temp_directory_path() / ("canewise-output-" + std::to_string(::getpid()));
  std::vector<OutputFile> files_{{"map.png", "new map"}, {"result.json", kProof + "\n"}};
};

TEST_F(OutputFolder, ANewFolderAppearsWithAllFilesAndNothingElse) {
  write("new/deep");
  EXPECT_EQ(content("new/deep/map.png"), "new map");
  EXPECT_EQ(entries("new/deep"), 2U);
  EXPECT_EQ(entries("new"), 1U);
}

TEST_F(OutputFolder, AnEmptyFolderIsFilledAndKeepsItsMode) {
  fs::create_directory(root_ / "out");
  fs::permissions(root_ / "out", fs::perms::owner_all);
  write("out/");
  EXPECT_EQ(entries("out"), 2U);
  EXPECT_EQ(fs::status(root_ / "out").permissions(), fs::perms::owner_all);
}

TEST_F(OutputFolder, OneOfOursIsReplacedAndFilesOfTheUsersLiveOn) {
  put_older();
  write("out");
  expect_new_with_mine();
  EXPECT_EQ(fs::hard_link_count(root_ / "out/mine.txt"), 1U);
}

TEST_F(OutputFolder, AnyOtherFolderIsRefusedAndNotTouched) {
  put("out/map.png", "my own map");
  EXPECT_THAT(refusal("out"), AllOf(HasSubstr("result.json"), HasSubstr("Nothing there was touched")));
  put("out/result.json", R"({"format":"of another program"})");
  EXPECT_THAT(refusal("out"), HasSubstr("result.json"));
  EXPECT_EQ(content("out/map.png"), "my own map");
  EXPECT_EQ(entries("out"), 2U);
}

TEST_F(OutputFolder, ALinkStaysAndLeadsToTheNewFolder) {
  put_older();
  fs::create_directory(root_ / "elsewhere");
  fs::create_directory_symlink("../out", root_ / "elsewhere/link");
  write("elsewhere/link");
  EXPECT_TRUE(fs::is_symlink(root_ / "elsewhere/link"));
  EXPECT_EQ(content("out/map.png"), "new map");
  EXPECT_EQ(content("elsewhere/link/mine.txt"), "keep");
  EXPECT_EQ(entries("elsewhere"), 1U);
  EXPECT_EQ(entries(), 2U);
}

TEST_F(OutputFolder, WhereFoldersCannotBeExchangedTheOldOneStepsAside) {
  for (const int answer : {ENOSYS, EINVAL}) {
    put_older();
    answer_to_exchange = answer;
    write("out");
    expect_new_with_mine();
  }
}

TEST_F(OutputFolder, IfTheNewOneCannotFollowTheOldOneComesBack) {
  put_older();
  answer_to_exchange = EINVAL;
  answer_to_rename = EIO;
  EXPECT_THAT(refusal("out"), HasSubstr("What was there is unchanged"));
  expect_old();
}

TEST_F(OutputFolder, AnExchangeThatFailsChangesNothing) {
  put_older();
  answer_to_exchange = EIO;
  EXPECT_THAT(refusal("out"), HasSubstr("What was there is unchanged"));
  expect_old();
}

TEST_F(OutputFolder, AFolderThatCannotMoveIsWrittenFileByFile) {
  put_older();
  const auto before = fs::directory_entry(root_ / "out/mine.txt").hard_link_count();
  answer_to_exchange = EBUSY;  // As of a mount point.
  write("out");
  expect_new_with_mine();
  EXPECT_EQ(fs::hard_link_count(root_ / "out/mine.txt"), before);
}

TEST_F(OutputFolder, AMountPointWithFilesOfTheUsersIsWrittenFileByFile) {
  put_older();
  answer_to_link = EXDEV;  // What is there lies on another file system than what is beside it.
  write("out");
  expect_new_with_mine();
}

TEST_F(OutputFolder, WhatSomebodySavesMeanwhileIsNotLost) {
  for (const int answer : {0, ENOSYS}) {  // With an exchange, and by way of aside.
    SetUp();
    put_older();
    answer_to_exchange = answer;
    meanwhile = [this] {
      // As editors save: beside it first, then in its place.
      for (const std::string name : {"out/mine.txt", "out/sub/deep.txt"}) {
        put(name + "~", "saved anew");
        fs::last_write_time(root_ / (name + "~"), fs::file_time_type::clock::now() + std::chrono::seconds(1));
        fs::rename(root_ / (name + "~"), root_ / name);
      }
      put("out/more.txt", "another");
      put("out/sub/more.txt", "another");
    };
    write("out");
    EXPECT_EQ(content("out/mine.txt"), "saved anew") << answer;
    EXPECT_EQ(content("out/sub/deep.txt"), "saved anew") << answer;
    EXPECT_EQ(content("out/more.txt"), "another") << answer;
    EXPECT_EQ(content("out/sub/more.txt"), "another") << answer;
    EXPECT_EQ(content("out/map.png"), "new map") << answer;
    EXPECT_FALSE(fs::exists(root_ / "out/table.png"));
  }
}

TEST_F(OutputFolder, WhoStandsInTheFolderStillStandsInItAfterwards) {
  put_older();
  const fs::path was = fs::current_path();
  fs::current_path(root_ / "out/sub");
  write("out");
  EXPECT_TRUE(fs::exists("deep.txt"));
  EXPECT_TRUE(fs::equivalent(fs::current_path(), root_ / "out/sub"));
  fs::current_path(was);
  expect_new_with_mine();
}

TEST_F(OutputFolder, AFolderOfTheUsersWhereAFileBelongsIsLeftAlone) {
  put_older();
  fs::remove(root_ / "out/map.png");
  put("out/map.png/inside", "mine");
  EXPECT_THAT(refusal("out"), HasSubstr("map.png"));
  EXPECT_EQ(content("out/map.png/inside"), "mine");
  EXPECT_EQ(content("out/result.json"), kProof);
  fs::remove_all(root_ / "out/map.png");
  fs::remove(root_ / "out/table.png");
  put("out/table.png/inside", "mine");  // The name of a file that this run does not write.
  write("out");
  EXPECT_EQ(content("out/table.png/inside"), "mine");
}

TEST_F(OutputFolder, LeftoversOfAKilledWriterGoAndWhatItPutAsideComesBackFirst) {
  put(".canewise-1-1/new/map.png", "half");
  put(".canewise-1-1/aside/out/result.json", kProof);
  put(".canewise-1-1/aside/out/mine.txt", "keep");
  put("out2/.canewise-1-2/new/map.png", "half");  // Alone in its folder: that counts as empty.
  write("out2");
  EXPECT_EQ(entries("out2"), 2U);
  EXPECT_EQ(content("out/mine.txt"), "keep");
  write("out");
  EXPECT_EQ(entries("out"), 3U);
  EXPECT_EQ(entries(), 2U);
}

TEST_F(OutputFolder, AFileInTheWayIsNotReplacedByAFolder) {
  put("out", "a file");
  EXPECT_THROW(write("out"), OutputError);
  EXPECT_EQ(content("out"), "a file");
}

TEST_F(OutputFolder, APlaceThatTakesNoFilesIsSaidAndFoldersAboveItGoAgain) {
  EXPECT_THROW(write_output_folder("/proc/canewise", files_, kOwn), OutputError);
  files_.push_back({"no/such/folder", ""});
  EXPECT_THAT(refusal("a/b/out"), HasSubstr("What was there is unchanged"));
  EXPECT_EQ(entries(), 0U);
}

}  // namespace
}  // namespace canewise
