// Replays what fuzzing is fed and what it once found, and, beside it, every file cut off at every length and with every
// byte changed: no reader may do anything but read or refuse in words.
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "tests/fuzz/read_scan_target.h"

namespace {

std::vector<std::string> corpus() {
  std::vector<std::string> files;
  for (const auto& entry :
       std::filesystem::directory_iterator(std::string(CANEWISE_SOURCE_DIR) + "/tests/fuzz/corpus")) {
    std::ifstream file(entry.path(), std::ios::binary);
    files.emplace_back(std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>());
  }
  return files;
}

void feed(const std::string& bytes) {
  read_as_everything(reinterpret_cast<const std::uint8_t*>(bytes.data()), bytes.size());
}

TEST(FuzzCorpus, IsReadOrRefused) {
  const auto files = corpus();
  ASSERT_GE(files.size(), 8U);
  for (const auto& bytes : files) EXPECT_NO_THROW(feed(bytes));
}

TEST(FuzzCorpus, CutOffAnywhereItIsReadOrRefused) {
  for (const auto& bytes : corpus()) {
    for (std::size_t length = 0; length < std::min<std::size_t>(bytes.size(), 600); ++length)
      EXPECT_NO_THROW(feed(bytes.substr(0, length)));
  }
}

TEST(FuzzCorpus, WithAnyByteChangedItIsReadOrRefused) {
  for (const auto& bytes : corpus()) {
    for (std::size_t at = 0; at < std::min<std::size_t>(bytes.size(), 500); ++at) {
      std::string changed = bytes;
      for (const char value : {'\0', '9', '\xff', ' '}) {
        changed[at] = value;
        EXPECT_NO_THROW(feed(changed)) << at;
      }
    }
  }
}

}  // namespace
