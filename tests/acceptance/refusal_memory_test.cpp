// What strangers' files may cost: each is refused in words, with the file's name, in at most five seconds of the
// processor and in little memory: 64 MiB more than the command takes for saying its help, and three times the file.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <cstdlib>
#include <sstream>

#include "tests/acceptance/hostile_files.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;
using testing::Not;
using namespace test;

// A sanitizer takes memory of its own, for what was freed too: then only that each is refused in words is looked at.
#ifdef __SANITIZE_ADDRESS__
constexpr bool kMeasures = false;
#else
constexpr bool kMeasures = true;
#endif

struct Outcome {
  int code = -1;  ///< -1: a signal ended it.
  double seconds = 0.0;
  std::int64_t peak_bytes = 0;
  std::string words;  ///< What it wrote to stderr.
};

/// Runs the command in `folder` and measures it. A child's peak starts from its parent's, so this process must never
/// be large itself: it does not write the files, children do.
Outcome run(const fs::path& folder, const std::vector<std::string>& arguments) {
  const fs::path err = folder / "stderr.txt";
  const pid_t child = ::fork();
  if (child == 0) {
    std::vector<std::string> words{CANEWISE_COMMAND};
    words.insert(words.end(), arguments.begin(), arguments.end());
    std::vector<char*> pointers;
    for (auto& word : words) pointers.push_back(word.data());
    pointers.push_back(nullptr);
    ::setenv("LC_ALL", "C", 1);
    // One that hangs is ended, and so is one that swells beyond measuring.
    const rlimit time{60, 60}, memory{8ULL << 30U, 8ULL << 30U};
    ::setrlimit(RLIMIT_CPU, &time);
    if (kMeasures) ::setrlimit(RLIMIT_AS, &memory);
    if (::chdir(folder.c_str()) != 0 || std::freopen(err.c_str(), "w", stderr) == nullptr ||
        std::freopen("/dev/null", "w", stdout) == nullptr)
      ::_exit(126);
    ::execv(pointers[0], pointers.data());
    ::_exit(127);
  }
  int status = 0;
  rusage usage{};
  ::wait4(child, &status, 0, &usage);
  Outcome outcome;
  if (WIFEXITED(status)) outcome.code = WEXITSTATUS(status);
  const auto seconds = [](const timeval& t) {
    return static_cast<double>(t.tv_sec) + 1e-6 * static_cast<double>(t.tv_usec);
  };
  // Of the processor: a machine that does other work besides makes the clock go faster.
  outcome.seconds = seconds(usage.ru_utime) + seconds(usage.ru_stime);
  outcome.peak_bytes = std::int64_t{1024} * usage.ru_maxrss;
  std::ostringstream words;
  words << std::ifstream(err).rdbuf();
  outcome.words = words.str().substr(0, 2000);
  return outcome;
}

std::int64_t size_of(const fs::path& path) {
  if (!fs::is_directory(path)) return static_cast<std::int64_t>(fs::file_size(path));
  std::int64_t bytes = 0;
  for (const auto& entry : fs::recursive_directory_iterator(path))
    if (entry.is_regular_file()) bytes += static_cast<std::int64_t>(entry.file_size());
  return bytes;
}

/// A hostile file or folder, and how the command is made to read it.
struct Hostile {
  std::string name;
  std::function<void(const fs::path&)> write_to;
  std::vector<std::string> before{"measure"}, behind{};
};

void expect_cheap_refusal(const Hostile& hostile) {
  const TempFolder folder;
  const pid_t writer = ::fork();
  if (writer == 0) {
    write(folder.path() / "scan.xyz", "0 0 0\n1 0 0\n0 1 0\n");
    hostile.write_to(folder.path() / hostile.name);
    ::_exit(0);
  }
  int status = 1;
  ::waitpid(writer, &status, 0);
  ASSERT_EQ(status, 0);
  std::vector<std::string> arguments = hostile.before;
  arguments.push_back(hostile.name);
  arguments.insert(arguments.end(), hostile.behind.begin(), hostile.behind.end());
  static const std::int64_t help = run(folder.path(), {"--help"}).peak_bytes;
  const Outcome outcome = run(folder.path(), arguments);
  const std::int64_t size = size_of(folder.path() / hostile.name);
  EXPECT_EQ(outcome.code, 3) << outcome.words;
  EXPECT_THAT(outcome.words, HasSubstr(fs::path(hostile.name).filename().string()));
  EXPECT_THAT(outcome.words, Not(HasSubstr("std::")));
  EXPECT_THAT(outcome.words, Not(HasSubstr("memory"))) << "refused because memory ran out";
  if (!kMeasures) return;
  EXPECT_LT(outcome.seconds, 5.0);
  constexpr std::int64_t spare = 64 << 20;
  EXPECT_LT(outcome.peak_bytes, help + spare + 3 * size) << "took " << (outcome.peak_bytes >> 20) << " MiB, help "
                                                         << (help >> 20) << " MiB, the file " << (size >> 20) << " MiB";
  if (std::getenv("CANEWISE_SHOW_COSTS") != nullptr) {
    std::printf("%-24s file %7.2f MiB  beyond help %7.2f MiB  allowed %7.2f MiB  %5.2f s  %.100s\n",
                hostile.name.c_str(), static_cast<double>(size) / 1048576.0,
                static_cast<double>(outcome.peak_bytes - help) / 1048576.0,
                static_cast<double>(spare + 3 * size) / 1048576.0, outcome.seconds, outcome.words.c_str());
  }
}

/// One that is written from its content alone.
template <typename Content>
Hostile holding(std::string name, Content content) {
  return {std::move(name), [content](const fs::path& path) { write(path, content); }};
}

class Refusal : public testing::TestWithParam<Hostile> {};

TEST_P(Refusal, TakesLittleMemoryAndTime) { expect_cheap_refusal(GetParam()); }

std::string name_of_case(const testing::TestParamInfo<Hostile>& info) {
  std::string name;
  for (const char c : info.param.name) name += std::isalnum(static_cast<unsigned char>(c)) != 0 ? c : '_';
  return name;
}

const std::string kPlyPoint = "property float x\nproperty float y\nproperty float z\n";

INSTANTIATE_TEST_SUITE_P(OfText, Refusal,
                         testing::Values(holding("commas.xyz", Repeated{"", ",", 20 * kMega, ""}),
                                         holding("semicolons.xyz", Repeated{"", ";", 20 * kMega, ""}),
                                         holding("tabs.xyz", Repeated{"a", "\t", 20 * kMega, ""}),
                                         holding("newlines.xyz", Repeated{"", "\n", 20 * kMega, ""}),
                                         holding("spaces.xyz", Repeated{"", " ", 20 * kMega, "x"}),
                                         holding("digits.xyz", Repeated{"", "7", 20 * kMega, ""}),
                                         holding("words.xyz", Repeated{"", "a ", 10 * kMega, ""}),
                                         holding("numbers.xyz", Repeated{"x ", "1 ", 10 * kMega, ""}),
                                         holding("nan-lines.xyz", Repeated{"", "nan nan nan\n", 2 * kMega, ""}),
                                         holding("nan-in-one-line.xyz", Repeated{"", "nan ", 5 * kMega, ""}),
                                         holding("last-line.xyz", Repeated{"", "1 1 1\n", 8 * kMega, "1 1 one\n"}),
                                         holding("remarks.xyz", Repeated{"", ";1;one\n", 3 * kMega, ""})),
                         name_of_case);

INSTANTIATE_TEST_SUITE_P(
    OfMeshesAndPoints, Refusal,
    testing::Values(
        holding("last-vertex.obj", Repeated{"v 0 0 0\n", "v 1 1 1\n", 6 * kMega, "v 1 1 one\n"}),
        holding("nan.obj", Repeated{"v nan nan nan\n", "v nan nan nan\n", 3 * kMega, ""}),
        holding("long-face.obj", Repeated{"v 0 0 0\nf", " 1", 20 * kMega, " 9\n"}),
        holding("many-faces.obj", Repeated{"v 0 0 0\n", "f 1 1 1\n", 5 * kMega, "f 1 1 9\n"}),
        holding("last-point.ply",
                Repeated{"ply\nformat ascii 1.0\nelement vertex 8000001\n" + kPlyPoint + "end_header\n", "1 1 1\n",
                         8 * kMega, "1 1 one\n"}),
        holding("last-face.ply", Repeated{"ply\nformat ascii 1.0\nelement vertex 8000000\n" + kPlyPoint +
                                              "element face 1\nproperty list uchar int vertex_indices\nend_header\n",
                                          "1 1 1\n", 8 * kMega, "3 0 0 -1\n"}),
        holding("long-face.ply", Repeated{"ply\nformat ascii 1.0\nelement vertex 1\n" + kPlyPoint +
                                              "element face 1\nproperty list uint int vertex_indices\nend_header\n1 1 "
                                              "1\n20000000",
                                          " 0", 20 * kMega - 1, "\n"}),
        holding("bytes.ply",
                Repeated{"ply\nformat binary_little_endian 1.0\nelement vertex 16000000\nproperty uchar x\nproperty "
                         "uchar y\nproperty uchar z\nelement face 1\nproperty list uchar uchar vertex_indices\n"
                         "end_header\n",
                         std::string("\1\2\3", 3), 16 * kMega, std::string("\3\0\1", 3)}),
        holding("huge-list.ply", "ply\nformat binary_little_endian 1.0\nelement vertex 1\n" + kPlyPoint +
                                     "element face 1\nproperty list uint uint vertex_indices\nend_header\n" +
                                     std::string(12, '\0') + raw(std::uint32_t{1U << 31U}) + std::string(400, '\0')),
        holding("huge-list-ascii.ply", "ply\nformat ascii 1.0\nelement vertex 1\n" + kPlyPoint +
                                           "element face 1\nproperty list uint uint vertex_indices\nend_header\n1 2 "
                                           "3\n2147483648 0 0 0\n"),
        holding("huge.ply",
                "ply\nformat binary_little_endian 1.0\nelement vertex 1000000000000\n" + kPlyPoint + "end_header\nabc"),
        holding("huge.pcd", pcd_head("F", "900000000", "binary") + "abc"),
        holding("last-point.pcd", Repeated{pcd_head("F", "8000001", "ascii"), "1 1 1\n", 8 * kMega, "1 1 one\n"}),
        holding("bomb.pcd", lzf_bomb()),
        holding("huge.stl", std::string(80, ' ') + "\xff\xff\xff\xff" + std::string(50, '\0')),
        holding("nan.stl",
                Repeated{std::string(80, ' ') + raw(std::uint32_t{600'000}), std::string(50, '\xff'), 600'000, ""}),
        holding("last-line.stl", Repeated{"solid a\n", "facet\nvertex 1 1 1\nvertex 1 1 1\nvertex 1 1 1\nendfacet\n",
                                          kMega, "endsolid\nwhat\n"})),
    name_of_case);

INSTANTIATE_TEST_SUITE_P(
    OfHeights, Refusal,
    testing::Values(
        Hostile{"doubles.x3p", [](const fs::path& path) { write(path, x3p_of_nothing(8192, 4096, "D", false)); }},
        Hostile{"shorts.x3p", [](const fs::path& path) { write(path, x3p_of_nothing(5000, 4900, "I", false)); }},
        Hostile{"not-measured.x3p", [](const fs::path& path) { write(path, x3p_of_nothing(2500, 2400, "I", true)); }},
        holding("entities.x3p",
                zip_bytes({{"main.xml", "<!DOCTYPE a [<!ENTITY b 'bbbbbbbb'><!ENTITY c '&b;&b;&b;'>]><a>&c;</a>"}})),
        Hostile{"spaces.x3p",
                [](const fs::path& path) {
                  write(path, zip_bytes({{"main.xml", "<a>" + std::string(16'000'000, ' ') + "</a>"}}));
                }},
        Hostile{"nodes.x3p",
                [](const fs::path& path) {
                  std::string nodes = "<a>";
                  for (std::size_t k = 0; k < 4 * kMega; ++k) nodes += "<b/>";
                  write(path, zip_bytes({{"main.xml", nodes + "</a>"}}));
                }},
        Hostile{"members.x3p",
                [](const fs::path& path) {
                  std::vector<std::pair<std::string, std::string>> members;
                  for (int k = 0; k < 20000; ++k) members.emplace_back("m" + std::to_string(k), "");
                  write(path, zip_bytes(members));
                }},
        holding("huge.sdf",
                std::string("aISO-1.0\r\nNumPoints = 60000\r\nNumProfiles = 60000\r\nXscale = 1e-6\r\nYscale = 1e-6\r\n"
                            "Zscale = 1e-6\r\nCompression = 0\r\nDataType = 7\r\nCheckType = 0\r\n*\r\n1 2 3\r\n")),
        holding("not-measured.sdf", sdf_of_nothing(8000, 5000)),
        holding("last-height.sdf",
                Repeated{"aISO-1.0\nNumPoints = 20000\nNumProfiles = 1000\nXscale = 1e-6\nYscale = 1e-6\nZscale = "
                         "1e-6\nCompression = 0\nDataType = 7\nCheckType = 0\n*\n",
                         "1 ", 20 * kMega - 1, "one"}),
        holding("strips.tif", tiff_of_many_strips(10, 400'000'000, 1)),
        holding("one-strip.tif", tiff_of_many_strips(2200, 2200, 2200)),
        holding("wide.tif", tiff_of_many_strips(2'000'000'000, 2, 2))),
    name_of_case);

Hostile depth_folder(std::string name, std::size_t columns, std::size_t rows, std::function<std::string()> frame,
                     std::size_t frames = 1) {
  return {std::move(name), [=](const fs::path& path) { write_depth_folder(path, columns, rows, frame, frames); }};
}

INSTANTIATE_TEST_SUITE_P(
    OfFrames, Refusal,
    testing::Values(depth_folder("black", 5000, 4900, [] { return black_png(5000, 4900, 16); }),
                    depth_folder("black-small", 2000, 1500, [] { return black_png(2000, 1500, 16); }),
                    depth_folder(
                        "many-black", 800, 600, [] { return black_png(800, 600, 16); }, 300),
                    depth_folder("largest", 20000, 20000, [] { return png_header(65535, 65535, 16); }),
                    depth_folder("remarks", 16, 12, [] { return png_of_remarks(500).substr(0, 5 * kMega); }),
                    depth_folder("other-size", 640, 480, [] { return png_header(65535, 65535, 16); })),
    name_of_case);

Hostile photograph(std::string name, const std::string& file, std::function<std::string()> bytes) {
  Hostile hostile{std::move(name), [=](const fs::path& path) {
                    fs::create_directories(path);
                    write(path / file, bytes());
                  }};
  hostile.before = {"calibrate", "camera", "--boards"};
  return hostile;
}

INSTANTIATE_TEST_SUITE_P(
    OfPhotographs, Refusal,
    testing::Values(photograph("black-png", "a.png", [] { return black_png(10000, 9000, 8); }),
                    photograph("black-png-16-bit", "a.png", [] { return black_png(6000, 6000, 16); }),
                    photograph("largest-png", "a.png", [] { return png_header(65535, 65535, 16); }),
                    photograph("black-jpeg", "a.jpg", [] { return black_jpeg(16000, 6000, false); }),
                    photograph("black-jpeg-in-scans", "a.jpg", [] { return black_jpeg(4000, 3500, true); }),
                    photograph("strips-tiff", "a.tif", [] { return tiff_of_many_strips(10, 400'000'000, 1); })),
    name_of_case);

Hostile camera_file(std::string name, Repeated content) {
  Hostile hostile = holding(std::move(name), std::move(content));
  hostile.before = {"calibrate", "import"};
  return hostile;
}

INSTANTIATE_TEST_SUITE_P(OfCameraFiles, Refusal,
                         testing::Values(camera_file("deep-camera.json", {"{\"a\":", "[", 4 * kMega, ""}),
                                         camera_file("deep-camera.xml",
                                                     {"<?xml version=\"1.0\"?>\n<opencv_storage>\n", "<a>", kMega, ""}),
                                         camera_file("deep-camera.yml", {"%YAML:1.0\na: ", "[", 4 * kMega, "\n"}),
                                         camera_file("dashes.yml", {"%YAML:1.0\na:\n  ", "- ", 2 * kMega, "1\n"}),
                                         camera_file("keys.yml", {"%YAML:1.0\n", "a: ", kMega, "1\n"}),
                                         camera_file("empty-lists-camera.json", {"{\"a\":[", "[],", kMega, "1]}"}),
                                         camera_file("numbers.yml", {"%YAML:1.0\na: [", "1,", 2 * kMega, "1]\n"})),
                         name_of_case);

Hostile settings(std::string name, const std::string& option, Repeated content) {
  Hostile hostile = holding(std::move(name), std::move(content));
  hostile.before = {"measure", "scan.xyz", option};
  return hostile;
}

INSTANTIATE_TEST_SUITE_P(
    OfSettings, Refusal,
    testing::Values(settings("deep.json", "--rig", {"{\"a\":", "[", 100'000, ""}),
                    settings("deep-player.json", "--player", {"{\"a\":", "{\"a\":", 100'000, ""}),
                    settings("empty-lists.json", "--rig", {"{\"a\":[", "[],", 340'000, "[]]}"}),
                    settings("numbers.json", "--rig", {"{\"a\":[", "1,", 500'000, "1]}"}),
                    settings("keys.json", "--player", {"{\"a\":0", ",\"b\":0", 150'000, "}"}),
                    settings("deep.toml", "--rig", {"a = ", "[", 100'000, ""}),
                    settings("empty-lists.toml", "--rig", {"a = [", "[],", 340'000, "]"}),
                    settings("numbers.toml", "--player", {"a = [", "1,", 500'000, "]"}),
                    settings("dots.toml", "--rig", {"a", ".a", 500'000, " = 1\n"}),
                    settings("tables.toml", "--player", {"", "[[a]]\n", 170'000, ""}),
                    settings("large.toml", "--rig", {"", "# nothing\n", 2 * kMega, ""}),
                    settings("deep.target.json", "--target", {"{\"a\":", "[", 100'000, ""}),
                    settings("empty-lists.target.json", "--target", {"{\"a\":[", "[],", 340'000, "[]]}"}),
                    settings("large.target.json", "--target", {"{\"a\":[", "[],", 5 * kMega, "[]]}"})),
    name_of_case);

Hostile result(std::string name, Repeated content) {
  Hostile hostile = holding(std::move(name), std::move(content));
  hostile.before = {"target", "make", "mine"};
  return hostile;
}

const std::string kResult = "{\"format\":\"canewise-result\",\"version\":2,\"a\":";

INSTANTIATE_TEST_SUITE_P(OfResults, Refusal,
                         testing::Values(result("deep-result.json", {kResult, "[", 100'000, ""}),
                                         result("empty-lists-result.json", {kResult + "[", "[],", 5 * kMega, "[]]}"}),
                                         result("numbers-result.json", {kResult + "[", "1,", 7 * kMega, "1]}"}),
                                         result("keys-result.json",
                                                {kResult + "{\"b\":0", ",\"b\":0", 2 * kMega, "}}"}),
                                         result("words-result.json", {kResult + "\"", "word", 4 * kMega, "\"}"}),
                                         result("large-result.json", {kResult + "[", "1,", 125 * kMega, "1]}"})),
                         name_of_case);

}  // namespace
}  // namespace canewise
