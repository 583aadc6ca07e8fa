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

struct Child {
  pid_t pid;
  int words;  ///< Where its stderr is read.
};

Child start_child(const std::vector<std::string>& command, const ChildLimits& limits) {
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
  return {child, ends[0]};
}

/// Waits a tenth of a second for words; false once there will be no more.
bool take_words(int from, Lines& lines) {
  pollfd wait{from, POLLIN, 0};
  constexpr int tenth_ms = 100;
  if (::poll(&wait, 1, tenth_ms) <= 0) return true;
  std::array<char, 4096> buffer{};
  const auto got = ::read(from, buffer.data(), buffer.size());
  if (got > 0) lines.add({buffer.data(), static_cast<std::size_t>(got)});
  return got > 0 || (got < 0 && errno == EINTR);
}

/// Listens to the child until it closes its stderr; says why it was asked to stop, if it was.
ChildEnd::How listen_to(const Child& child, std::chrono::seconds time, Lines& lines,
                        const std::function<bool()>& cancelled) {
  using How = ChildEnd::How;
  How how = How::exited;
  const auto deadline = Clock::now() + time;
  Clock::time_point asked{};
  for (bool open = true; open;) {
    open = take_words(child.words, lines);
    if (how == How::exited) {
      if (cancelled()) how = How::cancelled;
      if (Clock::now() > deadline) how = How::out_of_time;
      if (how != How::exited) {
        ::kill(child.pid, SIGTERM);
        asked = Clock::now();
      }
    } else if (Clock::now() > asked + kPatience) {
      ::kill(child.pid, SIGKILL);
    }
  }
  return how;
}

/// Its status once it is gone. It closed its stderr: it ended, or it is up to something; either way it has no more to
/// say.
int status_of(const Child& child) {
  int status = 0;
  for (int waits = 0; ::waitpid(child.pid, &status, WNOHANG) == 0; ++waits) {
    constexpr int longest = 100;
    if (waits > longest) ::kill(child.pid, SIGKILL);
    ::poll(nullptr, 0, 10);
  }
  return status;
}

}  // namespace

ChildEnd run_child(const std::vector<std::string>& command, const ChildLimits& limits,
                   const std::function<bool(const std::string&)>& on_line, const std::function<bool()>& cancelled) {
  const Child child = start_child(command, limits);
  Lines lines(on_line);
  ChildEnd end;
  end.how = listen_to(child, limits.time, lines, cancelled);
  ::close(child.words);
  const int status = status_of(child);
  end.words = lines.words();
  if (WIFEXITED(status)) end.exit_code = WEXITSTATUS(status);
  if (WIFSIGNALED(status) && end.how == ChildEnd::How::exited) end.how = ChildEnd::How::killed;
  return end;
}

}  // namespace canewise
