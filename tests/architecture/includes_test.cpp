// Data flows one way: a module includes only itself and what stands before it. Heavy libraries stay in .cpp files.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <filesystem>
#include <fstream>
#include <regex>
#include <string>
#include <string_view>
#include <vector>

namespace {

namespace fs = std::filesystem;

/// Every folder that holds a module, in the order in which data passes through them.
constexpr std::array kOrder{"scanproc/words",
                            "scanproc/core",
                            "scanproc/drawing",
                            "scanproc/bytes",
                            "scanproc/clouds",
                            "scanproc/images",
                            "scanproc/heights",
                            "scanproc/rig",
                            "scanproc/frames",
                            "scanproc/scan",
                            "scanproc/datum",
                            "scanproc/thickness",
                            "scanproc/assess",
                            "scanproc/mechanics",
                            "scanproc/scrape",
                            "scanproc/pipeline",
                            "scanproc/compare",
                            "scanproc/bendtest",
                            "scanproc/ledger",
                            "scanproc/advise",
                            "calib",
                            "fixtures",
                            "viewer/embedded",
                            "scanproc/report",
                            "viewer/http",
                            "viewer/server",
                            "scanproc/cli",
                            "tests"};
constexpr std::array kTops{"scanproc", "calib", "fixtures", "viewer", "tests"};

struct Include {
  std::string file;  ///< From the root.
  std::string what;  ///< As written.
  bool quoted;
};

bool lies_in(std::string_view path, std::string_view folder) {
  return path.starts_with(folder) && path.size() > folder.size() && path[folder.size()] == '/';
}

/// Place in the order; its size for a path that lies in no module.
std::size_t place_of(std::string_view path) {
  return static_cast<std::size_t>(
      std::find_if(kOrder.begin(), kOrder.end(), [&](std::string_view folder) { return lies_in(path, folder); }) -
      kOrder.begin());
}

bool is_ours(const Include& include) {
  return include.quoted ||
         std::any_of(kTops.begin(), kTops.end(), [&](std::string_view top) { return lies_in(include.what, top); });
}

/// What is wrong with an include, or nothing.
std::string breach_of(const Include& include) {
  const std::size_t from = place_of(include.file), to = place_of(include.what);
  if (from == kOrder.size()) return include.file + " lies in a folder that the order does not know";
  if (!is_ours(include)) return {};
  if (to == kOrder.size()) return include.file + " includes " + include.what + ", which is in no module";
  if (to > from) return include.file + " includes " + include.what + ", which comes later";
  const bool demo = include.file == "scanproc/cli/demo_command.cpp";
  if (lies_in(include.file, "scanproc") && lies_in(include.what, "fixtures") && !demo)
    return include.file + " includes " + include.what + ": only the demo draws reeds";
  return {};
}

std::vector<Include> includes_of(const fs::path& root, const fs::path& path) {
  static const std::regex pattern(R"re(^\s*#\s*include\s*([<"])([^>"]+)[>"])re");
  std::vector<Include> includes;
  std::ifstream file(path);
  std::smatch match;
  for (std::string line; std::getline(file, line);) {
    if (std::regex_search(line, match, pattern))
      includes.push_back({fs::relative(path, root).generic_string(), match[2], match[1] == "\""});
  }
  return includes;
}

std::vector<Include> all_includes() {
  const fs::path root = CANEWISE_SOURCE_DIR;
  std::vector<Include> includes;
  for (const char* top : kTops) {
    for (auto entry = fs::recursive_directory_iterator(root / top); entry != fs::recursive_directory_iterator();
         ++entry) {
      if (entry->path().filename() == "node_modules") entry.disable_recursion_pending();
      const auto extension = entry->path().extension();
      if (extension != ".h" && extension != ".cpp" && extension != ".in") continue;
      const auto own = includes_of(root, entry->path());
      includes.insert(includes.end(), own.begin(), own.end());
    }
  }
  return includes;
}

TEST(Architecture, NoModuleIncludesALaterOne) {
  const auto includes = all_includes();
  for (const auto& include : includes) EXPECT_EQ(breach_of(include), "");
  // Every folder of the order was read, so that none passes because nobody looked.
  for (const std::string_view folder : kOrder) {
    EXPECT_TRUE(fs::is_directory(fs::path(CANEWISE_SOURCE_DIR) / folder)) << folder << " does not exist";
    EXPECT_TRUE(std::any_of(includes.begin(), includes.end(), [&](const Include& i) {
      return lies_in(i.file, folder);
    })) << folder;
  }
}

TEST(Architecture, EveryNeighbouringPairOfModulesMayBeIncludedOneWayOnly) {
  for (std::size_t k = 0; k + 1 < kOrder.size(); ++k) {
    const std::string before = std::string(kOrder.at(k)) + "/a.h", after = std::string(kOrder.at(k + 1)) + "/b.h";
    EXPECT_NE(breach_of({before, after, true}), "") << before << " must not include " << after;
    // What is drawn for tests comes before the report, which has no business with it.
    const bool is_drawn = lies_in(before, "fixtures");
    EXPECT_EQ(breach_of({after, before, true}).empty(), !is_drawn || !lies_in(after, "scanproc")) << after;
  }
}

TEST(Architecture, PlantedIncludesAreFound) {
  const auto is_breach = [](const char* file, const char* what, bool quoted) {
    return !breach_of({file, what, quoted}).empty();
  };
  EXPECT_TRUE(is_breach("scanproc/core/a.h", "scanproc/report/b.h", true)) << "a later one";
  EXPECT_TRUE(is_breach("scanproc/core/a.h", "scanproc/report/b.h", false)) << "a later one in angle brackets";
  EXPECT_TRUE(is_breach("scanproc/scan/a.h", "calib/b.h", true)) << "another top folder";
  EXPECT_TRUE(is_breach("calib/a.h", "viewer/server/b.h", true));
  EXPECT_TRUE(is_breach("viewer/server/a.h", "scanproc/cli/b.h", true));
  EXPECT_TRUE(is_breach("scanproc/cli/a.h", "tests/b.h", true));
  EXPECT_TRUE(is_breach("scanproc/report/a.h", "fixtures/b.h", true)) << "invented reeds in the product";
  EXPECT_TRUE(is_breach("scanproc/datum/a.h", "b.h", true)) << "a path that is not full from the root";
  EXPECT_TRUE(is_breach("scanproc/datum/a.h", "../scan/b.h", true));
  EXPECT_TRUE(is_breach("scanproc/datum/a.h", "scanner/b.h", true)) << "an unknown prefix";
  EXPECT_TRUE(is_breach("scanproc/attic/a.h", "vector", false)) << "a folder that nobody ordered";
  EXPECT_FALSE(is_breach("scanproc/report/a.h", "scanproc/core/b.h", true));
  EXPECT_FALSE(is_breach("scanproc/core/a.h", "Eigen/Core", false));
}

TEST(Architecture, HeavyLibrariesStayOutOfHeaders) {
  const std::regex heavy(
      "^(pcl|open3d|CGAL|opencv2|httplib|SQLiteCpp|nlohmann/json.hpp|cairo|png|fmt|toml|openssl|boost)");
  // One room's own header, for its sources alone.
  const std::string own = "viewer/http/connection.h";
  for (const auto& include : all_includes()) {
    if (include.what == own) {
      EXPECT_TRUE(include.file.starts_with("viewer/http/") && include.file.ends_with(".cpp")) << include.file;
    }
    if (!include.file.ends_with(".h") || include.file == own || lies_in(include.file, "tests")) continue;
    EXPECT_FALSE(std::regex_search(include.what, heavy)) << include.file << " includes " << include.what;
  }
}

// By a test file of its name, or by one that includes it.
TEST(Architecture, EveryPublicHeaderOfScanprocHasATest) {
  const fs::path root = CANEWISE_SOURCE_DIR;
  // What these add to the command, acceptance/command runs as a whole.
  const std::string by_the_command = "scanproc/cli/commands.h";
  const auto includes = all_includes();
  std::size_t headers = 0;
  for (const auto& entry : fs::recursive_directory_iterator(root / "scanproc")) {
    if (entry.path().extension() != ".h") continue;
    ++headers;
    const std::string header = fs::relative(entry.path(), root).generic_string();
    const fs::path room = entry.path().parent_path().filename();
    const fs::path own = root / "tests" / room / (entry.path().stem().string() + "_test.cpp");
    const bool is_included = std::any_of(includes.begin(), includes.end(), [&](const Include& i) {
      return lies_in(i.file, "tests") && i.what == header;
    });
    EXPECT_TRUE(is_included || fs::exists(own) || header == by_the_command) << header << " has no test";
  }
  EXPECT_GT(headers, 150U);
}

}  // namespace
