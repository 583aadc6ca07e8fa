// 'canewise serve' as it is started and ended by a person, and as it lasts through a long evening.
#include <fcntl.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <httplib.h>
#include <sys/wait.h>
#include <unistd.h>
// A macro of <resolv.h>, which httplib includes; Eigen has variables of that name.
#undef _res

#include <array>
#include <chrono>
#include <csignal>
#include <nlohmann/json.hpp>
#include <regex>
#include <thread>

#include "fixtures/scanner.h"
#include "fixtures/write_cloud.h"
#include "tests/support/scans.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

using nlohmann::json;
using testing::HasSubstr;
namespace fs = std::filesystem;

std::string scan() {
  return fixtures::ply_binary(
      fixtures::scan_reed(fixtures::Reed({}, test::rough_cane(1)), fixtures::profilometer(), {}, 1).cloud);
}

/// The command with its own process, as from a terminal.
class Served {
 public:
  explicit Served(const fs::path& folder, std::vector<std::string> options = {}) {
    std::array<int, 2> ends{};
    EXPECT_EQ(::pipe2(ends.data(), O_CLOEXEC), 0);
    std::vector<std::string> words{CANEWISE_COMMAND, "serve", folder.string()};
    words.insert(words.end(), options.begin(), options.end());
    std::vector<char*> arguments;
    for (auto& word : words) arguments.push_back(word.data());
    arguments.push_back(nullptr);
    child_ = ::fork();
    if (child_ == 0) {
      ::dup2(ends[1], STDOUT_FILENO);
      ::dup2(ends[1], STDERR_FILENO);
      ::execv(arguments[0], arguments.data());
      ::_exit(127);
    }
    ::close(ends[1]);
    out_ = ends[0];
    // It says where it is before anyone can ask it anything.
    std::array<char, 1024> buffer{};
    while (said.find("Ctrl-C") == std::string::npos) {
      const auto got = ::read(out_, buffer.data(), buffer.size());
      if (got <= 0) break;
      said.append(buffer.data(), static_cast<std::size_t>(got));
    }
    std::smatch found;
    if (std::regex_search(said, found, std::regex("http://127\\.0\\.0\\.1:(\\d+)/\\?token=([0-9a-f]{64})"))) {
      port = std::stoi(found[1]);
      reading = found[2];
    }
  }
  ~Served() {
    if (child_ > 0) (void)end_by(SIGKILL);
    ::close(out_);
  }
  Served(const Served&) = delete;
  Served& operator=(const Served&) = delete;
  /// Its exit code; -1 if it had to be killed.
  int end_by(int signal) {
    ::kill(child_, signal);
    int status = 0;
    ::waitpid(child_, &status, 0);
    child_ = -1;
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  }
  [[nodiscard]] httplib::Client client() const {
    httplib::Client http("127.0.0.1", port);
    http.set_read_timeout(60);
    http.set_default_headers({{"Cookie", "canewise-" + std::to_string(port) + "=" + reading}});
    return http;
  }
  /// As the page finds it.
  [[nodiscard]] std::string token() const {
    const auto home = client().Get("/");
    std::smatch found;
    const std::string body = home ? home->body : "";
    return std::regex_search(body, found, std::regex("data-token=\"([0-9a-f]+)\"")) ? found[1].str() : "";
  }
  [[nodiscard]] long resident_kb() const {
    std::ifstream status("/proc/" + std::to_string(child_) + "/status");
    for (std::string line; std::getline(status, line);)
      if (line.starts_with("VmRSS:")) return std::stol(line.substr(6));
    return 0;
  }
  std::string said, reading;
  int port = 0;

 private:
  pid_t child_ = -1;
  int out_ = -1;
};

std::string send(const Served& served, const std::string& name) {
  const auto answer = served.client().Post("/api/scans?name=" + name, {{"X-Canewise-Token", served.token()}}, scan(),
                                           "application/octet-stream");
  if (!answer || answer->status != 202) return "";
  return json::parse(answer->body).at("id");
}

std::string events_of(const Served& served, const std::string& id) {
  const auto told = served.client().Get("/api/jobs/" + id + "/events");
  return told ? told->body : "";
}

TEST(Serve, CtrlCEndsItAndLeavesNothingHalfWritten) {
  const test::TempFolder folder;
  Served served(folder.path());
  ASSERT_GT(served.port, 0) << served.said;
  for (const char* name : {"a.ply", "b.ply", "c.ply"}) ASSERT_NE(send(served, name), "");
  std::this_thread::sleep_for(std::chrono::milliseconds(150));  // In the middle of measuring.
  EXPECT_EQ(served.end_by(SIGINT), 0) << "ctrl-C is how one ends it; that is no failure";
  for (const auto& entry : fs::directory_iterator(folder.path())) {
    EXPECT_FALSE(entry.path().filename().string().starts_with(".")) << entry.path();
    EXPECT_TRUE(fs::exists(entry.path() / "report.html")) << entry.path() << " is half-written";
  }
}

TEST(Serve, WhatAKilledOneLeftIsTakenAwayByTheNext) {
  const test::TempFolder folder;
  {
    Served served(folder.path());
    ASSERT_NE(send(served, "a.ply"), "");
    ASSERT_NE(send(served, "b.ply"), "");
    ASSERT_NE(send(served, "c.ply"), "");
    (void)served.end_by(SIGKILL);
  }
  const Served next(folder.path());
  ASSERT_GT(next.port, 0);
  for (const auto& entry : fs::directory_iterator(folder.path()))
    EXPECT_FALSE(entry.path().filename().string().starts_with(".")) << entry.path();
}

TEST(Serve, TenThousandRequestsNeedNoMoreMemory) {
  const test::TempFolder folder;
  const Served served(folder.path());
  const std::string id = send(served, "reed.ply");
  ASSERT_THAT(events_of(served, id), HasSubstr("\"done\""));
  auto http = served.client();
  http.set_keep_alive(true);
  http.set_tcp_nodelay(true);
  const auto ask = [&](int count) {
    for (int k = 0; k < count; ++k) {
      const char* path = k % 100 == 0 ? "/reed/reed/"
                         : k % 4 == 0 ? "/api/results"
                         : k % 4 == 1 ? "/"
                         : k % 4 == 2 ? "/nothing"
                                      : "/reed/reed/balance.png";
      const auto answer = http.Get(path);
      ASSERT_TRUE(answer) << k;
      ASSERT_EQ(answer->status, std::string(path) == "/nothing" ? 404 : 200) << path;
    }
  };
  // What each of the many threads and the allocator need once comes at its own time and ends; a leak does not end.
  constexpr int rounds = 5;
  constexpr long slack_kb = 512;  // 52 bytes a request.
  ask(2000);
  long grown = slack_kb;
  for (int round = 0; round < rounds && grown >= slack_kb; ++round) {
    const long before = served.resident_kb();
    ASSERT_GT(before, 0);
    ask(10000);
    grown = served.resident_kb() - before;
  }
  EXPECT_LT(grown, slack_kb) << "kB more after each of " << rounds << " times ten thousand requests";
}

TEST(Serve, SaysWhatIsWrongBeforeItStarts) {
  const test::TempFolder folder;
  Served nowhere(folder.path() / "nowhere");
  EXPECT_THAT(nowhere.said, HasSubstr("is not a folder"));
  EXPECT_EQ(nowhere.end_by(0), 3);
  Served no_rig(folder.path(), {"--rig", "no-such-rig.toml"});
  EXPECT_THAT(no_rig.said, HasSubstr("no-such-rig.toml"));
}

}  // namespace
}  // namespace canewise
