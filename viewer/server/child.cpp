#include "viewer/server/child.h"

#include <fcntl.h>
#include <poll.h>
#include <sys/mman.h>
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
#include <utility>

#include "scanproc/core/descriptor.h"

namespace canewise {
namespace {

using Clock = std::chrono::steady_clock;

constexpr std::size_t kMostWords = 4000, kLongestLine = 65536;  // A message with others in it may be long.
constexpr std::chrono::seconds kPatience{1};                    ///< Between asking a child to stop and making it.
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

/// What a child finds at its descriptors 0, 1, 2 and 3.
using Ends = std::array<int, 4>;

[[noreturn]] void become(char* const* arguments, const ChildLimits& limits, const Ends& ends, pid_t parent) {
  // Between fork and exec of a program with threads only calls that are safe in a signal handler are allowed.
  ::prctl(PR_SET_PDEATHSIG, SIGKILL);
  if (::getppid() != parent) ::_exit(kNotStarted);
  ::setpgid(0, 0);
  sigset_t none;
  ::sigemptyset(&none);
  ::pthread_sigmask(SIG_SETMASK, &none, nullptr);
  // Out of the way of 0 to 3 first: one of them may be another's place.
  Ends aside{};
  constexpr int beyond = kTellDescriptor + 1;
  for (std::size_t k = 0; k < ends.size(); ++k) aside[k] = ::fcntl(ends[k], F_DUPFD, beyond);
  for (std::size_t k = 0; k < ends.size(); ++k) {
    if (::dup2(aside[k], static_cast<int>(k)) < 0) ::_exit(kNotStarted);
  }
  ::close_range(beyond, ~0U, 0);
  // A child without its limits is not started.
  if (take_limits(limits)) ::execv(arguments[0], arguments);
  ::_exit(kNotStarted);
}

/// Hands whole lines on.
class Lines {
 public:
  explicit Lines(const std::function<void(const std::string&)>& on_line) : on_line_(on_line) {}
  void add(std::string_view bytes) {
    for (const char c : bytes) {
      if (c == '\n') {
        end();
      } else if (line_.size() < kLongestLine) {
        line_ += c;
      }
    }
  }
  void end() {
    const std::string line = std::move(line_);
    line_.clear();
    if (!line.empty()) on_line_(line);
  }

 private:
  const std::function<void(const std::string&)>& on_line_;
  std::string line_;
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

pid_t fork_off(const std::vector<std::string>& command, const ChildLimits& limits, const Ends& ends) {
  std::vector<char*> arguments;
  arguments.reserve(command.size() + 1);
  for (const auto& argument : command) arguments.push_back(const_cast<char*>(argument.c_str()));
  arguments.push_back(nullptr);
  const pid_t parent = ::getpid(), child = ::fork();
  if (child == 0) become(arguments.data(), limits, ends, parent);
  return child;
}

[[noreturn]] void fail() { throw std::system_error(errno, std::generic_category()); }

/// One way from the child to its caller.
struct Pipe {
  Descriptor from, to;
  static Pipe open() {
    std::array<int, 2> ends{};
    if (::pipe2(ends.data(), O_CLOEXEC) != 0) fail();
    return {Descriptor(ends[0]), Descriptor(ends[1])};
  }
};

/// A file in memory that holds the child's input, at its beginning: no pipe that both might wait for.
Descriptor input_of(const std::string& bytes) {
  Descriptor file(::memfd_create("input", MFD_CLOEXEC));
  if (file.number() < 0) fail();
  for (std::size_t done = 0; done < bytes.size();) {
    const ssize_t wrote = ::write(file.number(), bytes.data() + done, bytes.size() - done);
    if (wrote < 0 && errno == EINTR) continue;
    if (wrote < 0) fail();
    done += static_cast<std::size_t>(wrote);
  }
  if (::lseek(file.number(), 0, SEEK_SET) != 0) fail();
  return file;
}

/// What comes from a child. Each source is closed where it ended.
class Heard {
 public:
  /// Its standard output, its standard error, and what it tells.
  using Sources = std::array<Descriptor, 3>;
  Heard(Sources sources, Lines& lines, std::size_t most_output)
      : sources_(std::move(sources)), lines_(lines), most_output_(most_output) {}

  /// Waits a tenth of a second for anything; false if there was nothing.
  bool listen() {
    std::array<pollfd, 3> waits{};
    for (std::size_t k = 0; k < sources_.size(); ++k) waits[k] = {sources_[k].number(), POLLIN, 0};
    constexpr int tenth_ms = 100;
    if (::poll(waits.data(), waits.size(), tenth_ms) <= 0) return false;
    for (std::size_t k = 0; k < sources_.size(); ++k) {
      if (waits[k].revents != 0) take(k);
    }
    return true;
  }
  [[nodiscard]] bool is_over() const {
    return std::all_of(sources_.begin(), sources_.end(), [](const Descriptor& one) { return one.number() < 0; });
  }
  [[nodiscard]] bool is_too_much() const { return output.size() > most_output_; }
  std::string output, words;

 private:
  void take(std::size_t which) {
    std::array<char, 16384> buffer{};
    const auto got = ::read(sources_[which].number(), buffer.data(), buffer.size());
    if (got < 0 && errno == EINTR) return;
    if (got <= 0) return sources_[which].close();
    const std::string_view bytes(buffer.data(), static_cast<std::size_t>(got));
    if (which == 0 && most_output_ > 0 && !is_too_much()) output += bytes;
    if (which == 1) words += bytes.substr(0, kMostWords - std::min(words.size(), kMostWords));
    if (which == 2) lines_.add(bytes);
  }
  Sources sources_;
  Lines& lines_;
  std::size_t most_output_;
};

/// Listens to the child until it ends or closes all that it could speak by, which others that it started may hold open;
/// says why it was asked to stop, if it was.
ChildEnd::How listen_to(const Child& child, std::chrono::seconds time, Heard& heard,
                        const std::function<bool()>& cancelled) {
  using How = ChildEnd::How;
  How how = How::exited;
  const auto deadline = Clock::now() + time;
  Clock::time_point asked{};
  while (true) {
    const bool news = heard.listen();
    if (heard.is_over() || (!news && child.has_ended())) return how;
    if (how == How::exited) {
      if (cancelled()) how = How::cancelled;
      if (heard.is_too_much()) how = How::killed;
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

/// Its status once it is gone. A child that closed all that it could speak by ended, or it is up to something: it gets
/// a second.
int status_of(Child& child) {
  constexpr int longest = 100;
  for (int waits = 0; !child.has_ended() && waits < longest; ++waits) ::poll(nullptr, 0, 10);
  return child.status_now();
}

ChildEnd::How how_it_ended(int status, ChildEnd::How asked) {
  using How = ChildEnd::How;
  if (WIFEXITED(status) && WEXITSTATUS(status) == 0) return asked == How::killed ? How::killed : How::exited;
  if (!WIFSIGNALED(status) || asked != How::exited) return asked;
  return WTERMSIG(status) == SIGXCPU ? How::out_of_time : How::killed;
}

std::string without_last_newline(std::string words) {
  while (!words.empty() && words.back() == '\n') words.pop_back();
  return words;
}

}  // namespace

ChildEnd run_child(const ChildCommand& command, const ChildLimits& limits,
                   const std::function<void(const std::string&)>& on_line, const std::function<bool()>& cancelled) {
  Descriptor input = input_of(command.input);
  Pipe output = Pipe::open(), words = Pipe::open(), told = Pipe::open();
  Child child(
      fork_off(command.words, limits, {input.number(), output.to.number(), words.to.number(), told.to.number()}));
  input.close();
  for (Pipe* pipe : {&output, &words, &told}) pipe->to.close();
  Lines lines(on_line);
  Heard heard({std::move(output.from), std::move(words.from), std::move(told.from)}, lines, command.most_output_bytes);
  const ChildEnd::How asked = listen_to(child, limits.time, heard, cancelled);
  const int status = status_of(child);
  lines.end();
  ChildEnd end;
  end.how = how_it_ended(status, asked);
  if (WIFEXITED(status)) end.exit_code = WEXITSTATUS(status);
  end.output = std::move(heard.output);
  end.words = without_last_newline(std::move(heard.words));
  return end;
}

}  // namespace canewise
