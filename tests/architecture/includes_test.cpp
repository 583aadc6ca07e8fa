// Data flows one way: a module includes only itself and what stands before it. Heavy libraries stay in .cpp files.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <string>
#include <vector>

namespace {

namespace fs = std::filesystem;

const std::vector<std::string> kOrder{"core",   "drawing",  "scan",   "datum",  "thickness", "assess", "mechanics",
                                      "scrape", "pipeline", "ledger", "report", "viewer",    "cli"};

struct Include {
  fs::path file;
  std::string from, what;
};

std::vector<Include> all_includes() {
  const fs::path root = CANEWISE_SOURCE_DIR;
  const std::regex pattern(R"re(^\s*#include [<"]([^>"]+)[>"])re");
  std::vector<Include> includes;
  // The server is one module, whatever its folders.
  for (const char* top : {"scanproc", "viewer/server"}) {
    for (const auto& entry : fs::recursive_directory_iterator(root / top)) {
      const auto extension = entry.path().extension();
      if (extension != ".h" && extension != ".cpp") continue;
      const std::string from = *top == 'v' ? "viewer" : fs::relative(entry.path(), root / top).begin()->string();
      std::ifstream file(entry.path());
      std::smatch match;
      for (std::string line; std::getline(file, line);) {
        if (std::regex_search(line, match, pattern)) includes.push_back({entry.path(), from, match[1]});
      }
    }
  }
  return includes;
}

std::size_t place_of(const std::string& module) {
  return static_cast<std::size_t>(std::find(kOrder.begin(), kOrder.end(), module) - kOrder.begin());
}

TEST(Architecture, NoModuleIncludesALaterOne) {
  int seen = 0;
  for (const auto& include : all_includes()) {
    ASSERT_LT(place_of(include.from), kOrder.size())
        << include.file << " lies in a folder that the order does not know";
    // The built page is data that may be looked at from anywhere.
    const bool viewer = include.what.starts_with("viewer/server/");
    if (!include.what.starts_with("scanproc/") && !viewer) continue;
    const std::string to = viewer ? "viewer" : include.what.substr(9, include.what.find('/', 9) - 9);
    EXPECT_LE(place_of(to), place_of(include.from)) << include.file << " includes " << include.what;
    ++seen;
  }
  EXPECT_GT(seen, 100) << "the test must have read something";
}

TEST(Architecture, OnlyTheDemoIncludesFixturesAndNothingIncludesTests) {
  for (const auto& include : all_includes()) {
    EXPECT_FALSE(include.what.starts_with("tests/")) << include.file;
    if (!include.what.starts_with("fixtures/")) continue;
    EXPECT_EQ(include.file.filename(), "demo_command.cpp") << include.file;
  }
}

TEST(Architecture, HeavyLibrariesStayOutOfHeaders) {
  const std::regex heavy("^(pcl|open3d|CGAL|opencv2|httplib|SQLiteCpp|nlohmann|cairo|png|fmt|toml|openssl|boost)");
  for (const auto& include : all_includes()) {
    if (include.file.extension() != ".h") continue;
    EXPECT_FALSE(std::regex_search(include.what, heavy)) << include.file << " includes " << include.what;
  }
}

TEST(Architecture, EveryIncludePathIsFullFromTheRoot) {
  for (const auto& include : all_includes()) {
    EXPECT_FALSE(include.what.starts_with(".")) << include.file << " includes " << include.what;
  }
}

}  // namespace
