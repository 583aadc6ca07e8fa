// What a person waits for and what the computer must hold: the command itself, as a child process.
#include <fcntl.h>
#include <fmt/format.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <exception>
#include <filesystem>
#include <fstream>
#include <stdexcept>
#include <string>
#include <thread>
#include <vector>

namespace {

constexpr double kMegabyte = 1e6;
constexpr double kHelpBudgetS = 0.2;
constexpr double kMemoryBaseMb = 100.0, kMemoryBytesAPoint = 40.0;

struct Run {
  double seconds = 0.0;
  double peak_mb = 0.0;
};

/// Runs a command to its end; its standard output goes nowhere, its progress and errors to the terminal. A forked
/// child's peak memory starts from its parent's, so this process stays small: even the scans are made by a child.
Run run_command(std::vector<std::string> words) {
  std::vector<char*> arguments;
  for (auto& word : words) arguments.push_back(word.data());
  arguments.push_back(nullptr);
  const auto start = std::chrono::steady_clock::now();
  const pid_t child = ::fork();
  if (child < 0) throw std::runtime_error("no process can be started");
  if (child == 0) {
    const int nowhere = ::open("/dev/null", O_WRONLY | O_CLOEXEC);
    if (nowhere >= 0) ::dup2(nowhere, STDOUT_FILENO);
    ::execv(arguments.front(), arguments.data());
    ::_exit(127);
  }
  int status = 0;
  rusage usage{};
  if (::wait4(child, &status, 0, &usage) != child) throw std::runtime_error(words.front() + " was lost");
  const std::chrono::duration<double> taken = std::chrono::steady_clock::now() - start;
  if (!WIFEXITED(status) || WEXITSTATUS(status) != 0) throw std::runtime_error(words.front() + " failed");
  return {taken.count(), static_cast<double>(usage.ru_maxrss) * 1024.0 / kMegabyte};
}

struct Runs {
  double median_s = 0.0, slowest_s = 0.0, peak_mb = 0.0;
};

Runs repeat(const std::vector<std::string>& words, int times, const std::string& what) {
  std::vector<double> seconds;
  Runs runs;
  const bool on_terminal = ::isatty(STDERR_FILENO) == 1;
  for (int i = 0; i < times; ++i) {
    if (on_terminal) std::fputs(fmt::format("\r\x1b[K{}, {} of {} ...", what, i + 1, times).c_str(), stderr);
    const Run run = run_command(words);
    seconds.push_back(run.seconds);
    runs.peak_mb = std::max(runs.peak_mb, run.peak_mb);
  }
  if (on_terminal) std::fputs("\r\x1b[K", stderr);
  std::sort(seconds.begin(), seconds.end());
  runs.median_s = seconds[seconds.size() / 2];
  runs.slowest_s = seconds.back();
  return runs;
}

double points_in(const std::filesystem::path& ply) {
  std::ifstream file(ply, std::ios::binary);
  const std::string key = "element vertex ";
  for (std::string line; std::getline(file, line) && line != "end_header";) {
    if (line.rfind(key, 0) == 0) return std::stod(line.substr(key.size()));
  }
  throw std::runtime_error("no vertices in " + ply.string());
}

class Folder {
 public:
  Folder() : path_(std::filesystem::temp_directory_path() / fmt::format("canewise-whole-command-{}", ::getpid())) {
    std::filesystem::create_directory(path_);
  }
  ~Folder() {
    std::error_code ignored;  // A folder that cannot be removed must not hide what failed before.
    std::filesystem::remove_all(path_, ignored);
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  [[nodiscard]] const std::filesystem::path& path() const { return path_; }

 private:
  std::filesystem::path path_;
};

void measure_size(const std::filesystem::path& folder, double points, int times) {
  const auto scan = folder / fmt::format("{:.0f}.ply", points);
  const std::string size = fmt::format("{:g} million points", points / 1e6);
  repeat({CANEWISE_FIXTURES, "scan", scan.string(), "--scanner", "profilometer", "--points",
          fmt::format("{:.0f}", points)},
         1, "inventing a scan of " + size);
  const Runs runs = repeat({CANEWISE_COMMAND, "measure", scan.string(), "--out", (folder / "out").string()}, times,
                           "measuring " + size);
  const double count = points_in(scan), file_mb = static_cast<double>(std::filesystem::file_size(scan)) / kMegabyte;
  const double limit_mb = kMemoryBaseMb + kMemoryBytesAPoint * count / kMegabyte;
  fmt::print("{:>10.0f} {:>10.1f} {:>6} {:>10.3f} {:>11.3f} {:>10.1f} {:>12.1f} {:>9.1f}  {}\n", count, file_mb, times,
             runs.median_s, runs.slowest_s, runs.peak_mb, runs.peak_mb / file_mb, limit_mb,
             runs.peak_mb <= limit_mb ? "within" : "OVER");
  std::filesystem::remove(scan);
}

}  // namespace

int main() {
  try {
    const Folder folder;
    fmt::print("canewise measure FILE --out DIR (binary PLY; MB are millions of bytes)\n");
    fmt::print("{:>10} {:>10} {:>6} {:>10} {:>11} {:>10} {:>12} {:>9}\n", "points", "file MB", "runs", "median s",
               "slowest s", "peak MB", "peak / file", "limit MB");
    measure_size(folder.path(), 1e6, 5);
    measure_size(folder.path(), 16e6, 1);
    const Runs help = repeat({CANEWISE_COMMAND, "--help"}, 5, "asking for help");
    fmt::print("\ncanewise --help: median {:.3f} s, slowest {:.3f} s; budget {:.1f} s: {}\n", help.median_s,
               help.slowest_s, kHelpBudgetS, help.median_s <= kHelpBudgetS ? "within" : "OVER");
    fmt::print("{} cores\n", std::thread::hardware_concurrency());
    return 0;
  } catch (const std::exception& error) {
    std::fprintf(stderr, "canewise_whole_command: %s\n", error.what());
    return 1;
  }
}
