#include "scanproc/core/own_folder.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/stat.h>

#include "scanproc/core/error.h"
#include "tests/support/refusals.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

namespace fs = std::filesystem;
using testing::AllOf;
using testing::HasSubstr;

const OwnFolder kOwn{"result.json", "canewise-result", {"map.png", "result.json"}};

TEST(OwnFolder, IsKnownByTheFormatThatItsOwnFileSays) {
  const test::TempFolder folder;
  const auto says = [&](const std::string& text) {
    return says_format(folder.file("a.json", text), "canewise-result");
  };
  EXPECT_TRUE(says(R"({"format":"canewise-result","version":1})"));
  EXPECT_TRUE(says(R"({"version":99,"budgets":[{"format":"x"},[1,2.5,null,true]],"format":"canewise-result"})"));
  EXPECT_TRUE(says(R"({"format":"canewise-result","map":[[1,)")) << "what stands behind is not looked at";
  for (const char* other :
       {"", "{}", "[]", "\"canewise-result\"", R"({"format":"canewise-target"})", R"({"format":["canewise-result"]})",
        R"({"format":{"format":"canewise-result"}})", R"({"a":{"format":"canewise-result"}})",
        R"([{"format":"canewise-result"}])", R"({"format":1,"format":"canewise-result"})",
        R"({"name":"canewise-result"})", R"({"broken" "format":"canewise-result"})", "canewise-result"}) {
    EXPECT_FALSE(says(other)) << other;
  }
}

TEST(OwnFolder, ALargeFileIsReadNoFurtherThanItsHead) {
  const test::TempFolder folder;
  const std::string filling(16U << 20U, ' ');
  EXPECT_TRUE(says_format(folder.file("a.json", R"({"format":"canewise-result",)" + filling + "}"), "canewise-result"));
  EXPECT_FALSE(says_format(folder.file("a.json", "{" + filling + R"("format":"canewise-result"})"), "canewise-result"));
}

TEST(OwnFolder, WhatIsNoFileSaysNothing) {
  const test::TempFolder folder;
  ASSERT_EQ(::mkfifo((folder.path() / "pipe").c_str(), 0600), 0);
  EXPECT_FALSE(says_format(folder.path() / "pipe", "canewise-result"));
  EXPECT_FALSE(says_format(folder.path(), "canewise-result"));
  EXPECT_FALSE(says_format(folder.path() / "nothing", ""));
}

TEST(OwnFolder, NothingAnEmptyFolderAndOneOfOursMayBeWritten) {
  const test::TempFolder folder;
  EXPECT_NO_THROW(refuse_foreign(folder.path() / "new", kOwn));
  EXPECT_NO_THROW(refuse_foreign(folder.path(), kOwn));
  (void)folder.file("holiday.jpg", "sea");
  (void)folder.file("result.json", R"({"format":"canewise-result"})");
  EXPECT_NO_THROW(refuse_foreign(folder.path(), kOwn));
}

TEST(OwnFolder, AnyOtherIsRefusedAndTheReaderIsToldWhatToDo) {
  const test::TempFolder folder;
  (void)folder.file("holiday.jpg", "sea");
  const auto refused = [&] {
    const test::Refusal refusal = test::refusal_of([&] {
      refuse_foreign(folder.path(), kOwn);
      return 0;
    });
    EXPECT_EQ(refusal.exit_code, ExitCode::cannot_write);
    return refusal.words;
  };
  EXPECT_THAT(refused(), AllOf(HasSubstr(folder.path().string()), HasSubstr("result.json"),
                               HasSubstr("Nothing there was touched"), HasSubstr("--out")));
  // A file of that name that another program wrote proves nothing.
  (void)folder.file("result.json", R"({"format":"speed-test"})");
  EXPECT_THAT(refused(), HasSubstr("result.json"));
  (void)folder.file("a file", "");
  EXPECT_THROW(refuse_foreign(folder.path() / "a file", kOwn), OutputError);
}

}  // namespace
}  // namespace canewise
