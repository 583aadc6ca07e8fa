#include "scanproc/core/output_folder.h"

#include <gtest/gtest.h>
#include <unistd.h>

#include <fstream>
#include <iterator>

#include "scanproc/core/error.h"

namespace canewise {
namespace {

namespace fs = std::filesystem;

class OutputFolder : public testing::Test {
 protected:
  void SetUp() override {
    fs::remove_all(root_);
    fs::create_directories(root_);
  }
  void TearDown() override { fs::remove_all(root_); }
  static std::string content(const fs::path& path) {
    std::ifstream file(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
  }
  static std::size_t entries(const fs::path& path) {
    return static_cast<std::size_t>(std::distance(fs::directory_iterator(path), fs::directory_iterator()));
  }
  fs::path root_ = fs::temp_directory_path() / ("canewise-output-" + std::to_string(::getpid()));
};

TEST_F(OutputFolder, ANewFolderAppearsWithAllFilesAndNothingElse) {
  write_output_folder(root_ / "new" / "deep", {{"a.txt", "one"}, {"b.txt", "two"}});
  EXPECT_EQ(content(root_ / "new/deep/a.txt"), "one");
  EXPECT_EQ(content(root_ / "new/deep/b.txt"), "two");
  EXPECT_EQ(entries(root_ / "new/deep"), 2U);
  EXPECT_EQ(entries(root_ / "new"), 1U);
}

TEST_F(OutputFolder, AnExistingFolderKeepsItsOtherFiles) {
  fs::create_directories(root_ / "out");
  std::ofstream(root_ / "out/mine.txt") << "keep";
  std::ofstream(root_ / "out/a.txt") << "old";
  write_output_folder(root_ / "out", {{"a.txt", "new"}});
  EXPECT_EQ(content(root_ / "out/mine.txt"), "keep");
  EXPECT_EQ(content(root_ / "out/a.txt"), "new");
  EXPECT_EQ(entries(root_ / "out"), 2U);
}

TEST_F(OutputFolder, AFileInTheWayIsNotReplacedByAFolder) {
  std::ofstream(root_ / "out") << "a file";
  EXPECT_THROW(write_output_folder(root_ / "out", {{"a.txt", "x"}}), OutputError);
  EXPECT_EQ(content(root_ / "out"), "a file");
}

TEST_F(OutputFolder, IfOneFileCannotTakeItsPlaceNoneDoes) {
  fs::create_directories(root_ / "out" / "b.txt");  // A folder where a file should go.
  std::ofstream(root_ / "out/a.txt") << "old";
  EXPECT_THROW(write_output_folder(root_ / "out", {{"a.txt", "new"}, {"b.txt", "new"}}), OutputError);
  EXPECT_EQ(content(root_ / "out/a.txt"), "old");
  EXPECT_EQ(entries(root_ / "out"), 2U);
}

TEST_F(OutputFolder, APlaceThatTakesNoFilesIsSaid) {
  EXPECT_THROW(write_output_folder("/proc/canewise", {{"a.txt", "x"}}), OutputError);
}

}  // namespace
}  // namespace canewise
