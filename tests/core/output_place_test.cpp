#include "scanproc/core/output_place.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "scanproc/words/speech.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;
using testing::Not;

TEST(OutputPlace, LinksLeadToItAndSlashesAtItsEndDoNotCount) {
  const test::TempFolder folder;
  const fs::path real = fs::canonical(folder.path());
  fs::create_directory(real / "results");
  fs::create_directory_symlink("results", real / "link");
  EXPECT_EQ(real_place(real / "link"), real / "results");
  EXPECT_EQ(real_place(real / "link/"), real / "results");
  EXPECT_EQ(real_place(real / "link/new/"), real / "results/new");
  EXPECT_EQ(real_place(real / "link/../new"), real / "new");
}

TEST(OutputPlace, NamesThatCannotBeAskedForAreRefused) {
  const test::TempFolder folder;
  EXPECT_THROW((void)is_there(folder.path() / std::string(300, 'a')), OutputError);
  fs::create_symlink("loop", folder.path() / "loop");
  EXPECT_THROW((void)real_place(folder.path() / "loop"), OutputError);
}

TEST(OutputPlace, AFailedWriterSaysWhatIsLeft) {
  const auto said = [](Left left) { return phrase(cannot_write("out", ENOSPC, left).message()); };
  EXPECT_THAT(said(Left::unchanged), HasSubstr("What was there is unchanged"));
  EXPECT_THAT(said(Left::unchanged), HasSubstr("Make room"));
  EXPECT_THAT(phrase(cannot_write("out", EIO, Left::unchanged).message()), Not(HasSubstr("Make room")));
  for (const Left other : {Left::written, Left::mixed, Left::aside}) {
    EXPECT_THAT(said(other), Not(HasSubstr("unchanged")));
    EXPECT_NE(said(other), said(Left::unchanged));
  }
  EXPECT_THAT(said(Left::mixed), HasSubstr("Some files there are new"));
  EXPECT_THAT(said(Left::aside), HasSubstr("comes back"));
  EXPECT_THAT(said(Left::written), HasSubstr("in place"));
}

TEST(OutputPlace, FoldersAboveGoWithAWriterThatFails) {
  const test::TempFolder folder;
  { const MadeFolders above(folder.path() / "a/b"); }
  EXPECT_FALSE(fs::exists(folder.path() / "a"));
  {
    MadeFolders above(folder.path() / "a/b");
    above.keep();
  }
  EXPECT_TRUE(fs::exists(folder.path() / "a/b"));
  { const MadeFolders above(folder.path() / "a/b/c"); }
  EXPECT_TRUE(fs::exists(folder.path() / "a/b")) << "that was there before";
  (void)folder.file("file", "");
  EXPECT_THROW(MadeFolders(folder.path() / "file/a"), std::system_error);
}

}  // namespace
}  // namespace canewise
