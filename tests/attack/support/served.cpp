#include "tests/attack/support/served.h"

#include <fcntl.h>
#include <signal.h>
#include <sys/prctl.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <fstream>
#include <regex>
#include <stdexcept>
#include <thread>

namespace canewise::attack {
namespace {

namespace fs = std::filesystem;

std::string first_match(const std::string& text, const char* pattern) {
  std::smatch found;
  return std::regex_search(text, found, std::regex(pattern)) ? found[1].str() : "";
}

double mb_of_status(pid_t process, std::string_view key) {
  std::ifstream status("/proc/" + std::to_string(process) + "/status");
  constexpr double kb_per_mb = 1024.0;
  for (std::string line; std::getline(status, line);)
    if (line.starts_with(key)) return std::stod(line.substr(key.size())) / kb_per_mb;
  return 0.0;
}

/// Finer than the ticks of /proc/PID/stat.
double cpu_of(pid_t process) {
  clockid_t clock{};
  timespec time{};
  if (::clock_getcpuclockid(process, &clock) != 0 || ::clock_gettime(clock, &time) != 0) return 0.0;
  constexpr double ns = 1e-9;
  return static_cast<double>(time.tv_sec) + ns * static_cast<double>(time.tv_nsec);
}

int sockets_of(pid_t process) {
  int count = 0;
  std::error_code error;
  for (fs::directory_iterator it("/proc/" + std::to_string(process) + "/fd", error), end; !error && it != end;
       it.increment(error)) {
    std::error_code gone;
    count += fs::read_symlink(it->path(), gone).string().starts_with("socket:");
  }
  return count;
}

}  // namespace

Served::Served(std::vector<std::string> options) {
  fs::create_directories(folder());
  fs::create_directories(outside());
  std::vector<std::string> words{CANEWISE_COMMAND, "serve", folder().string()};
  words.insert(words.end(), options.begin(), options.end());
  start(words);
  learn();
}

Served::~Served() {
  if (process_ > 0) (void)end_by(SIGKILL);
  if (out_ >= 0) ::close(out_);
}

void Served::start(const std::vector<std::string>& words) {
  std::array<int, 2> ends{};
  if (::pipe2(ends.data(), O_CLOEXEC) != 0) throw std::runtime_error("no pipe");
  std::vector<char*> arguments;
  for (const auto& word : words) arguments.push_back(const_cast<char*>(word.c_str()));
  arguments.push_back(nullptr);
  process_ = ::fork();
  if (process_ == 0) {
    ::prctl(PR_SET_PDEATHSIG, SIGKILL);
    ::dup2(ends[1], STDOUT_FILENO);
    ::dup2(ends[1], STDERR_FILENO);
    ::execv(arguments[0], arguments.data());
    ::_exit(127);
  }
  ::close(ends[1]);
  out_ = ends[0];
}

void Served::learn() {
  std::array<char, 1024> buffer{};
  while (said.find("Ctrl-C") == std::string::npos) {
    const auto got = ::read(out_, buffer.data(), buffer.size());
    if (got <= 0) throw std::runtime_error("the server did not start: " + said);
    said.append(buffer.data(), static_cast<std::size_t>(got));
  }
  port = std::stoi("0" + first_match(said, "http://127\\.0\\.0\\.1:(\\d+)/"));
  reading = first_match(said, "http://127\\.0\\.0\\.1:\\d+/\\?token=([0-9a-f]{64})");
  writing = first_match(get("/").body, "data-token=\"([0-9a-f]{64})\"");
}

std::vector<std::string> Served::beside() const {
  std::vector<std::string> names;
  for (const auto& entry : fs::directory_iterator(base_.path())) names.push_back(entry.path().filename().string());
  std::sort(names.begin(), names.end());
  return names;
}

void Served::put(const std::string& name, const std::string& file, const std::string& bytes) const {
  fs::create_directories(folder() / name);
  std::ofstream(folder() / name / file, std::ios::binary) << bytes;
}

std::string Served::host() const { return "127.0.0.1:" + std::to_string(port); }
std::string Served::cookie() const { return "canewise-" + std::to_string(port) + "=" + reading; }

std::string Served::reads(const std::string& target, const std::string& more) const {
  return request("GET", target, host(), "Cookie: " + cookie() + "\r\n" + more);
}

std::string Served::writes(const std::string& target, std::size_t length, const std::string& more) const {
  return writes_head("POST", target, "Content-Length: " + std::to_string(length) + "\r\n" + more);
}

std::string Served::writes_head(const std::string& method, const std::string& target, const std::string& more) const {
  return request(method, target, host(),
                 "Cookie: " + cookie() + "\r\nX-Canewise-Token: " + writing + "\r\nOrigin: http://" + host() +
                     "\r\nSec-Fetch-Site: same-origin\r\n" + more);
}

Answer Served::get(const std::string& target, const std::string& more) const { return ask(port, reads(target, more)); }

Answer Served::send_scan(const std::string& name, const std::string& bytes) const {
  return ask(port, writes("/api/scans?name=" + name, bytes.size()) + bytes);
}

Use Served::use() const {
  return {mb_of_status(process_, "VmRSS:"), mb_of_status(process_, "VmHWM:"), cpu_of(process_), sockets_of(process_)};
}

bool Served::alive() const {
  siginfo_t ended{};
  const bool asked =
      process_ > 0 && ::waitid(P_PID, static_cast<id_t>(process_), &ended, WEXITED | WNOHANG | WNOWAIT) == 0;
  return asked && ended.si_pid == 0;
}

Ended Served::end_by(int signal) {
  const auto since = Clock::now();
  const auto waited = [&] { return std::chrono::duration<double>(Clock::now() - since).count(); };
  ::kill(process_, signal);
  constexpr double longest_s = 20.0;
  int status = 0;
  bool gone = false;
  while (!gone && waited() < longest_s) {
    gone = ::waitpid(process_, &status, WNOHANG) == process_;
    if (!gone) std::this_thread::sleep_for(Milliseconds(5));
  }
  const double seconds = waited();
  if (!gone) {
    ::kill(process_, SIGKILL);
    ::waitpid(process_, &status, 0);
  }
  process_ = -1;
  return {gone && WIFEXITED(status) ? WEXITSTATUS(status) : -1, seconds};
}

std::string request(const std::string& method, const std::string& target, const std::string& host,
                    const std::string& more) {
  return method + " " + target + " HTTP/1.1\r\nHost: " + host + "\r\n" + more + "\r\n";
}

std::string job_of(const Answer& answer) { return first_match(answer.body, "\"id\":\"([0-9a-f]{64})\""); }

bool resources_count() {
#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
  return false;
#else
  return true;
#endif
}

}  // namespace canewise::attack
