// Replays what fuzzing is fed and what it once found, and, beside it, every file cut off at every length and with every
// byte changed: no reader may do anything but read or refuse in words.
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "tests/fuzz/fuzz_targets.h"

namespace {

std::vector<std::string> corpus(std::string_view target) {
  std::vector<std::string> files;
  for (const auto& entry : std::filesystem::directory_iterator(std::string(CANEWISE_SOURCE_DIR) +
                                                               "/tests/fuzz/corpus/" + std::string(target))) {
    std::ifstream file(entry.path(), std::ios::binary);
    files.emplace_back(std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>());
  }
  return files;
}

class FuzzCorpus : public testing::TestWithParam<std::size_t> {
 protected:
  [[nodiscard]] static const FuzzTarget& target() { return fuzz_targets()[GetParam()]; }
};

TEST_P(FuzzCorpus, IsReadOrRefused) {
  const auto files = corpus(target().name);
  ASSERT_FALSE(files.empty());
  for (const auto& bytes : files) EXPECT_NO_THROW(target().feed(bytes));
}

TEST_P(FuzzCorpus, CutOffAnywhereItIsReadOrRefused) {
  for (const auto& bytes : corpus(target().name)) {
    for (std::size_t length = 0; length < std::min<std::size_t>(bytes.size(), 600); ++length)
      EXPECT_NO_THROW(target().feed(bytes.substr(0, length)));
  }
}

TEST_P(FuzzCorpus, WithAnyByteChangedItIsReadOrRefused) {
  for (const auto& bytes : corpus(target().name)) {
    for (std::size_t at = 0; at < std::min<std::size_t>(bytes.size(), 500); ++at) {
      std::string changed = bytes;
      for (const char value : {'\0', '9', '\xff', ' '}) {
        changed[at] = value;
        EXPECT_NO_THROW(target().feed(changed)) << at;
      }
    }
  }
}

INSTANTIATE_TEST_SUITE_P(All, FuzzCorpus, testing::Range<std::size_t>(0, fuzz_targets().size()),
                         [](const auto& one) { return std::string(fuzz_targets()[one.param].name); });

}  // namespace
