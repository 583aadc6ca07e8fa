#include "viewer/server/child.h"

#include <fcntl.h>
#include <poll.h>
#include <sys/prctl.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <csignal>
#include <string_view>
#include <system_error>

namespace canewise {
namespace {

using Clock = std::chrono::steady_clock;

constexpr std::size_t kMostWords = 4000, kLongestLine = 65536;  // A message with others in it may be long.
constexpr std::chrono::seconds kPatience{3};                    ///< Between asking a child to stop and making it.

[[noreturn]] void become(char* const* arguments, const ChildLimits& limits, int err, pid_t parent) {
  // Between fork and exec of a program with threads only calls that are safe in a signal handler are allowed.
  ::prctl(PR_SET_PDEATHSIG, SIGKILL);
  if (::getppid() != parent) ::_exit(127);
  const rlimit memory{limits.memory_bytes, limits.memory_bytes}, no_core{0, 0};
  ::setrlimit(RLIMIT_AS, &memory);
  ::setrlimit(RLIMIT_CORE, &no_core);
  const int nothing = ::open("/dev/null", O_RDWR);
  ::dup2(nothing, STDIN_FILENO);
  ::dup2(nothing, STDOUT_FILENO);
  ::dup2(err, STDERR_FILENO);
  ::close_range(3, ~0U, 0);
  ::execv(arguments[0], arguments);
  ::_exit(127);
}

/// Hands whole lines on; keeps the rest.
class Lines {
 public:
  explicit Lines(const std::function<bool(const std::string&)>& on_line) : on_line_(on_line) {}
  void add(std::string_view bytes) {
    for (const char c : bytes) {
      if (c != '\n') {
        if (line_.size() < kLongestLine) line_ += c;
        continue;
      }
      end_line();
    }
  }
  std::string words() {
    if (!line_.empty()) end_line();
    return words_;
  }

 private:
  void end_line() {
    if (!on_line_(line_) && words_.size() + 1 < kMostWords)
      words_ += (words_.empty() ? "" : "\n") + line_.substr(0, kMostWords - words_.size() - 1);
    line_.clear();
  }
  const std::function<bool(const std::string&)>& on_line_;
  std::string line_, words_;
};

}  // namespace

ChildEnd run_child(const std::vector<std::string>& command, const ChildLimits& limits,
                   const std::function<bool(const std::string&)>& on_line, const std::function<bool()>& cancelled) {
  std::vector<char*> arguments;
  arguments.reserve(command.size() + 1);
  for (const auto& argument : command) arguments.push_back(const_cast<char*>(argument.c_str()));
  arguments.push_back(nullptr);
  std::array<int, 2> ends{};
  if (::pipe2(ends.data(), O_CLOEXEC) != 0) throw std::system_error(errno, std::generic_category());
  const pid_t parent = ::getpid();
  const pid_t child = ::fork();
  if (child == 0) become(arguments.data(), limits, ends[1], parent);
  ::close(ends[1]);
  if (child < 0) {
    const int why = errno;
    ::close(ends[0]);
    throw std::system_error(why, std::generic_category());
  }

  ChildEnd end;
  Lines lines(on_line);
  const auto deadline = Clock::now() + limits.time;
  Clock::time_point asked{};
  bool open = true;
  while (open) {
    pollfd wait{ends[0], POLLIN, 0};
    constexpr int tenth_ms = 100;
    if (::poll(&wait, 1, tenth_ms) > 0) {
      std::array<char, 4096> buffer{};
      const auto got = ::read(ends[0], buffer.data(), buffer.size());
      if (got > 0) lines.add({buffer.data(), static_cast<std::size_t>(got)});
      open = got > 0 || (got < 0 && errno == EINTR);
    }
    if (end.how == ChildEnd::How::exited) {
      if (cancelled()) end.how = ChildEnd::How::cancelled;
      if (Clock::now() > deadline) end.how = ChildEnd::How::out_of_time;
      if (end.how != ChildEnd::How::exited) {
        ::kill(child, SIGTERM);
        asked = Clock::now();
      }
    } else if (Clock::now() > asked + kPatience) {
      ::kill(child, SIGKILL);
    }
  }
  ::close(ends[0]);
  // It closed its stderr: it ended, or it is up to something; either way it has no more to say.
  int status = 0;
  for (int waits = 0; ::waitpid(child, &status, WNOHANG) == 0; ++waits) {
    constexpr int longest = 100;
    if (waits > longest) ::kill(child, SIGKILL);
    ::poll(nullptr, 0, 10);
  }
  end.words = lines.words();
  if (WIFEXITED(status)) end.exit_code = WEXITSTATUS(status);
  if (WIFSIGNALED(status) && end.how == ChildEnd::How::exited) end.how = ChildEnd::How::killed;
  return end;
}

}  // namespace canewise
