#include "viewer/server/child.h"

#include <fcntl.h>
#include <poll.h>
#include <sys/prctl.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <csignal>
#include <cstdint>
#include <string_view>
#include <system_error>

namespace canewise {
namespace {

using Clock = std::chrono::steady_clock;

constexpr std::size_t kMostWords = 4000, kLongestLine = 65536;  // A message with others in it may be long.
constexpr std::chrono::seconds kPatience{3};                    ///< Between asking a child to stop and making it.
constexpr int kNotStarted = 127;                                // As shells say it.

/// Never more than the caller may have itself. False if the kernel refuses.
bool limit(decltype(RLIMIT_AS) what, std::uint64_t soft, std::uint64_t hard) {
  rlimit own{};
  if (::getrlimit(what, &own) != 0) return false;
  const rlim_t most = std::min<rlim_t>(hard, own.rlim_max);
  const rlimit bounds{std::min<rlim_t>(soft, most), most};
  return ::setrlimit(what, &bounds) == 0;
}

bool take_limits(const ChildLimits& limits) {
  const auto seconds = static_cast<std::uint64_t>(limits.processor_time.count());
  // Beyond the first bound of time the kernel sends SIGXCPU, beyond the second SIGKILL.
  return limit(RLIMIT_AS, limits.memory_bytes, limits.memory_bytes) && limit(RLIMIT_CPU, seconds, seconds + 2) &&
         limit(RLIMIT_FSIZE, limits.file_bytes, limits.file_bytes) &&
         limit(RLIMIT_NOFILE, limits.open_files, limits.open_files) && limit(RLIMIT_CORE, 0, 0) &&
         ::prctl(PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0) == 0;  // No program that it starts has more rights than it.
}

[[noreturn]] void become(char* const* arguments, const ChildLimits& limits, int err, pid_t parent) {
  // Between fork and exec of a program with threads only calls that are safe in a signal handler are allowed.
  ::prctl(PR_SET_PDEATHSIG, SIGKILL);
  if (::getppid() != parent) ::_exit(kNotStarted);
  ::setpgid(0, 0);
  sigset_t none;
  ::sigemptyset(&none);
  ::pthread_sigmask(SIG_SETMASK, &none, nullptr);
  const int nothing = ::open("/dev/null", O_RDWR);
  ::dup2(nothing, STDIN_FILENO);
  ::dup2(nothing, STDOUT_FILENO);
  ::dup2(err, STDERR_FILENO);
  ::close_range(3, ~0U, 0);
  // A child without its limits is not started.
  if (take_limits(limits)) ::execv(arguments[0], arguments);
  ::_exit(kNotStarted);
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

class Descriptor {
 public:
  explicit Descriptor(int number) : number_(number) {}
  ~Descriptor() { close(); }
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  [[nodiscard]] int number() const { return number_; }
  void close() {
    if (number_ >= 0) ::close(number_);
    number_ = -1;
  }

 private:
  int number_;
};

/// A running child, alone in its process group. However it is left, it is reaped and nothing of its group runs on.
class Child {
 public:
  explicit Child(pid_t id) : id_(id) {
    if (id < 0) throw std::system_error(errno, std::generic_category());
    ::setpgid(id, id);  // Here too, since who comes first is open.
  }
  ~Child() {
    if (!reaped_) (void)status_now();
  }
  Child(const Child&) = delete;
  Child& operator=(const Child&) = delete;

  /// To its group, and to itself should it have left that.
  void send(int signal) const {
    ::kill(-id_, signal);
    ::kill(id_, signal);
  }
  /// It ended, and can still be asked for its status.
  [[nodiscard]] bool has_ended() const {
    siginfo_t info{};
    return ::waitid(P_PID, static_cast<id_t>(id_), &info, WEXITED | WNOHANG | WNOWAIT) == 0 && info.si_pid == id_;
  }
  /// Ends what still runs of it.
  int status_now() {
    send(SIGKILL);
    int status = 0;
    while (::waitpid(id_, &status, 0) < 0 && errno == EINTR) continue;
    reaped_ = true;
    return status;
  }

 private:
  pid_t id_;
  bool reaped_ = false;
};

pid_t fork_off(const std::vector<std::string>& command, const ChildLimits& limits, int err) {
  std::vector<char*> arguments;
  arguments.reserve(command.size() + 1);
  for (const auto& argument : command) arguments.push_back(const_cast<char*>(argument.c_str()));
  arguments.push_back(nullptr);
  const pid_t parent = ::getpid(), child = ::fork();
  if (child == 0) become(arguments.data(), limits, err, parent);
  return child;
}

enum class Words { heard, none_yet, no_more };

/// Waits a tenth of a second for words.
Words take_words(int from, Lines& lines) {
  pollfd wait{from, POLLIN, 0};
  constexpr int tenth_ms = 100;
  if (::poll(&wait, 1, tenth_ms) <= 0) return Words::none_yet;
  std::array<char, 4096> buffer{};
  const auto got = ::read(from, buffer.data(), buffer.size());
  if (got > 0) lines.add({buffer.data(), static_cast<std::size_t>(got)});
  return got > 0 || (got < 0 && errno == EINTR) ? Words::heard : Words::no_more;
}

/// Listens to the child until it ends or closes its stderr, which others that it started may hold open; says why it was
/// asked to stop, if it was.
ChildEnd::How listen_to(const Child& child, int words, std::chrono::seconds time, Lines& lines,
                        const std::function<bool()>& cancelled) {
  using How = ChildEnd::How;
  How how = How::exited;
  const auto deadline = Clock::now() + time;
  Clock::time_point asked{};
  while (true) {
    const Words heard = take_words(words, lines);
    if (heard == Words::no_more || (heard == Words::none_yet && child.has_ended())) return how;
    if (how == How::exited) {
      if (cancelled()) how = How::cancelled;
      if (Clock::now() > deadline) how = How::out_of_time;
      if (how != How::exited) {
        child.send(SIGTERM);
        asked = Clock::now();
      }
    } else if (Clock::now() > asked + kPatience) {
      child.send(SIGKILL);
    }
  }
}

/// Its status once it is gone. A child that closed its stderr ended, or it is up to something: it gets a second.
int status_of(Child& child) {
  constexpr int longest = 100;
  for (int waits = 0; !child.has_ended() && waits < longest; ++waits) ::poll(nullptr, 0, 10);
  return child.status_now();
}

ChildEnd::How how_it_ended(int status, ChildEnd::How asked) {
  using How = ChildEnd::How;
  if (WIFEXITED(status) && WEXITSTATUS(status) == 0) return How::exited;
  if (!WIFSIGNALED(status) || asked != How::exited) return asked;
  return WTERMSIG(status) == SIGXCPU ? How::out_of_time : How::killed;
}

}  // namespace

ChildEnd run_child(const std::vector<std::string>& command, const ChildLimits& limits,
                   const std::function<bool(const std::string&)>& on_line, const std::function<bool()>& cancelled) {
  std::array<int, 2> ends{};
  if (::pipe2(ends.data(), O_CLOEXEC) != 0) throw std::system_error(errno, std::generic_category());
  const Descriptor words(ends[0]);
  Descriptor err(ends[1]);
  Child child(fork_off(command, limits, err.number()));
  err.close();
  Lines lines(on_line);
  const ChildEnd::How asked = listen_to(child, words.number(), limits.time, lines, cancelled);
  const int status = status_of(child);
  ChildEnd end;
  end.how = how_it_ended(status, asked);
  if (WIFEXITED(status)) end.exit_code = WEXITSTATUS(status);
  end.words = lines.words();
  return end;
}

}  // namespace canewise
