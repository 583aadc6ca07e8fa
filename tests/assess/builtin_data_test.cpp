// The built-in targets are in the program as their files have them.
#include "scanproc/assess/builtin_data.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <set>
#include <string>

namespace canewise {
namespace {

const std::filesystem::path kFolder = std::filesystem::path(CANEWISE_SOURCE_DIR) / "scanproc/assess/targets";

TEST(BuiltinData, HoldsEveryFileOfTheFolderByteForByte) {
  std::set<std::string> names;
  for (const BuiltinTarget& target : kBuiltinTargets) {
    std::ifstream file(kFolder / (std::string(target.name) + ".json"), std::ios::binary);
    ASSERT_TRUE(file.is_open()) << target.name;
    const std::string committed{std::istreambuf_iterator<char>(file), {}};
    EXPECT_EQ(target.text, committed) << target.name;
    EXPECT_FALSE(target.text.empty()) << target.name;
    EXPECT_TRUE(names.insert(std::string(target.name)).second) << target.name << " stands there twice";
  }
  std::set<std::string> files;
  for (const auto& entry : std::filesystem::directory_iterator(kFolder)) files.insert(entry.path().stem().string());
  EXPECT_EQ(names, files);
}

TEST(BuiltinData, IsSortedByName) {
  EXPECT_TRUE(std::is_sorted(kBuiltinTargets.begin(), kBuiltinTargets.end(),
                             [](const BuiltinTarget& a, const BuiltinTarget& b) { return a.name < b.name; }));
}

}  // namespace
}  // namespace canewise
