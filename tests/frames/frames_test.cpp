#include "scanproc/frames/frames.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <string>

#include "tests/support/refusals.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

namespace fs = std::filesystem;
using testing::ElementsAre;

/// A folder of empty files.
class Folder {
 public:
  explicit Folder(const std::vector<std::string>& names) {
    for (const std::string& name : names) (void)folder_.file(name, "");
  }
  [[nodiscard]] const fs::path& path() const { return folder_.path(); }
  [[nodiscard]] std::vector<std::string> listed(const std::vector<std::string>& names = {},
                                                std::size_t most = 100) const {
    std::vector<std::string> found;
    for (const fs::path& file : picture_files(path(), names, most, "frame")) {
      EXPECT_EQ(file.parent_path(), path());
      found.push_back(file.filename().string());
    }
    return found;
  }

 private:
  test::TempFolder folder_;
};

TEST(Frames, PicturesComeInTheOrderOfTheirNumbers) {
  EXPECT_THAT(Folder({"frame-10.png", "frame-9.png", "frame-100.png", "frame-2.png"}).listed(),
              ElementsAre("frame-2.png", "frame-9.png", "frame-10.png", "frame-100.png"));
  EXPECT_THAT(Folder({"0010.png", "0002.png", "0009.png"}).listed(), ElementsAre("0002.png", "0009.png", "0010.png"));
}

TEST(Frames, TheOrderOfNumbersDoesNotHangOnTheSuffix) {
  EXPECT_THAT(Folder({"frame-10.tif", "frame-9.tiff"}).listed(), ElementsAre("frame-9.tiff", "frame-10.tif"));
}

TEST(Frames, EveryPictureCountsAndNothingElse) {
  const Folder folder(
      {"a.PNG", "b.tif", "c.TIFF", "d.jpg", "e.Jpeg", ".a.png", "scan.toml", "f.bmp", "png", "g.png.txt"});
  EXPECT_THAT(folder.listed(), testing::UnorderedElementsAre("a.PNG", "b.tif", "c.TIFF", "d.jpg", "e.Jpeg"));
}

TEST(Frames, ChosenNamesComeInTheOrderGiven) {
  EXPECT_THAT(Folder({"1.png", "2.png", "3.png"}).listed({"3.png", "1.png"}), ElementsAre("3.png", "1.png"));
}

TEST(Frames, AFolderHoldsAtMostSoManyPictures) {
  const Folder folder({"1.png", "2.png", "3.png"});
  EXPECT_EQ(folder.listed({}, 3).size(), 3U);
  for (const std::vector<std::string>& names : {std::vector<std::string>{}, {"1.png", "2.png", "3.png"}}) {
    const test::Refusal refusal = test::refusal_of([&] { return folder.listed(names, 2); });
    EXPECT_EQ(refusal.id, "frames.too_many");
    EXPECT_EQ(refusal.number("most"), 2.0);
    EXPECT_EQ(refusal.text("folder"), folder.path().string());
    EXPECT_EQ(refusal.exit_code, ExitCode::bad_input);
  }
}

TEST(Frames, AFolderWithoutPicturesNamesWhatIsMissing) {
  const Folder folder({"scan.toml"});
  for (const auto& [what, word] : {std::pair{"frame", "frame"},
                                   {"depth frame", "depth frame"},
                                   {"line picture", "line picture"},
                                   {"photograph", "photograph"}}) {
    const test::Refusal refusal = test::refusal_of([&, w = what] { return picture_files(folder.path(), {}, 100, w); });
    EXPECT_EQ(refusal.id, "frames.none");
    EXPECT_THAT(refusal.words, testing::EndsWith(std::string("JPEG ") + word + "."));
    EXPECT_EQ(refusal.text("folder"), folder.path().string());
  }
}

TEST(Frames, AFolderThatCannotBeReadIsNamedWithTheReason) {
  const Folder folder({"a.png"});
  for (const fs::path& path : {folder.path() / "nowhere", folder.path() / "a.png"}) {
    const test::Refusal refusal = test::refusal_of([&] { return picture_files(path, {}, 100, "frame"); });
    EXPECT_EQ(refusal.id, "frames.unreadable_folder");
    EXPECT_EQ(refusal.text("folder"), path.string());
    EXPECT_FALSE(refusal.text("why").empty());
  }
}

}  // namespace
}  // namespace canewise
