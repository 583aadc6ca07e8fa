// Preloaded into the command by faults_test.cpp: counts the calls that change files below one folder, lets one of them
// fail or kills the process there. What it does stands in environment variables:
//
//   CANEWISE_FAULT_BELOW   the folder, as realpath() writes it
//   CANEWISE_FAULT_AT      the number of the call that is struck, from 1; 0 strikes none
//   CANEWISE_FAULT_KIND    ENOSPC, EIO, EDQUOT, kill-before, kill-after
//   CANEWISE_FAULT_TOLD    a file elsewhere that gets the name of the call that was struck
//   CANEWISE_FAULT_LACKS   what the file system lacks: exchange, links
//   CANEWISE_FAULT_CLOCK   the time, in seconds since 1970, so that two runs write the same dates
#include <dlfcn.h>
#include <fcntl.h>
#include <limits.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <sys/types.h>
#include <sys/uio.h>
#include <unistd.h>

#include <atomic>
#include <cerrno>
#include <csignal>
#include <cstdarg>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <ctime>
#include <string>
#include <string_view>

namespace {

std::string_view setting(const char* name) {
  const char* const value = std::getenv(name);
  return value == nullptr ? std::string_view() : value;
}

template <typename Function>
Function* next(const char* name) {
  return reinterpret_cast<Function*>(::dlsym(RTLD_NEXT, name));
}

std::string target_of(const std::string& link) {
  char path[PATH_MAX];
  const ssize_t length = ::readlink(link.c_str(), path, sizeof path);
  return length < 0 ? std::string() : std::string(path, static_cast<std::size_t>(length));
}

bool is_below(const std::string& path) {
  const std::string_view below = setting("CANEWISE_FAULT_BELOW");
  return !below.empty() && path.starts_with(below) && (path.size() == below.size() || path[below.size()] == '/');
}

bool is_watched(int descriptor) { return is_below(target_of("/proc/self/fd/" + std::to_string(descriptor))); }

/// Paths are taken as they are written: the command names what it writes by its real place.
bool is_watched(int folder, const char* path) {
  if (path == nullptr) return false;
  if (path[0] == '/') return is_below(path);
  const std::string from = folder == AT_FDCWD ? "/proc/self/cwd" : "/proc/self/fd/" + std::to_string(folder);
  return is_below(target_of(from) + "/" + path);
}
bool is_watched(const char* path) { return is_watched(AT_FDCWD, path); }

bool changes(int flags) { return (flags & (O_CREAT | O_TRUNC)) != 0; }
bool changes(const char* mode) { return std::strpbrk(mode, "wa+") != nullptr; }

enum class Action { none, fail, kill_before, kill_after };

/// Whether this call is the one.
Action action_for(const char* call, bool watched) {
  static std::atomic<long> count{0};
  if (!watched || ++count != std::atol(std::string(setting("CANEWISE_FAULT_AT")).c_str())) return Action::none;
  const std::string told(setting("CANEWISE_FAULT_TOLD"));
  const auto file = static_cast<int>(::syscall(SYS_openat, AT_FDCWD, told.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0644));
  ::syscall(SYS_write, file, call, std::strlen(call));
  ::syscall(SYS_close, file);
  const std::string_view kind = setting("CANEWISE_FAULT_KIND");
  if (kind == "kill-before") return Action::kill_before;
  if (kind == "kill-after") return Action::kill_after;
  return Action::fail;
}

int error_number() {
  const std::string_view kind = setting("CANEWISE_FAULT_KIND");
  if (kind == "ENOSPC") return ENOSPC;
  return kind == "EDQUOT" ? EDQUOT : EIO;
}

/// The call, or what strikes it. `failed` is what it gives back then.
template <typename Result, typename Call>
Result guarded(const char* name, bool watched, Result failed, const Call& call) {
  const Action action = action_for(name, watched);
  if (action == Action::kill_before) ::kill(::getpid(), SIGKILL);
  if (action == Action::fail) {
    errno = error_number();
    return failed;
  }
  const Result result = call();
  if (action == Action::kill_after) ::kill(::getpid(), SIGKILL);
  return result;
}

mode_t mode_behind(int flags, va_list arguments) {
  return (flags & O_CREAT) != 0 ? static_cast<mode_t>(va_arg(arguments, int)) : 0;
}

bool lacks(std::string_view what) { return setting("CANEWISE_FAULT_LACKS").find(what) != std::string_view::npos; }

}  // namespace

extern "C" {

int open(const char* path, int flags, ...) {
  va_list arguments;
  va_start(arguments, flags);
  const mode_t mode = mode_behind(flags, arguments);
  va_end(arguments);
  return guarded("open", changes(flags) && is_watched(path), -1,
                 [&] { return next<int(const char*, int, ...)>("open")(path, flags, mode); });
}

int open64(const char* path, int flags, ...) {
  va_list arguments;
  va_start(arguments, flags);
  const mode_t mode = mode_behind(flags, arguments);
  va_end(arguments);
  return guarded("open", changes(flags) && is_watched(path), -1,
                 [&] { return next<int(const char*, int, ...)>("open64")(path, flags, mode); });
}

int openat(int folder, const char* path, int flags, ...) {
  va_list arguments;
  va_start(arguments, flags);
  const mode_t mode = mode_behind(flags, arguments);
  va_end(arguments);
  return guarded("openat", changes(flags) && is_watched(folder, path), -1,
                 [&] { return next<int(int, const char*, int, ...)>("openat")(folder, path, flags, mode); });
}

int creat(const char* path, mode_t mode) {
  return guarded("creat", is_watched(path), -1, [&] { return next<int(const char*, mode_t)>("creat")(path, mode); });
}

FILE* fopen(const char* path, const char* mode) {
  return guarded("fopen", changes(mode) && is_watched(path), static_cast<FILE*>(nullptr),
                 [&] { return next<FILE*(const char*, const char*)>("fopen")(path, mode); });
}

FILE* fopen64(const char* path, const char* mode) {
  return guarded("fopen", changes(mode) && is_watched(path), static_cast<FILE*>(nullptr),
                 [&] { return next<FILE*(const char*, const char*)>("fopen64")(path, mode); });
}

ssize_t write(int file, const void* bytes, size_t count) {
  return guarded("write", is_watched(file), ssize_t{-1},
                 [&] { return next<ssize_t(int, const void*, size_t)>("write")(file, bytes, count); });
}

ssize_t pwrite(int file, const void* bytes, size_t count, off_t offset) {
  return guarded("pwrite", is_watched(file), ssize_t{-1},
                 [&] { return next<ssize_t(int, const void*, size_t, off_t)>("pwrite")(file, bytes, count, offset); });
}

ssize_t writev(int file, const iovec* pieces, int count) {
  return guarded("writev", is_watched(file), ssize_t{-1},
                 [&] { return next<ssize_t(int, const iovec*, int)>("writev")(file, pieces, count); });
}

int fsync(int file) {
  return guarded("fsync", is_watched(file), -1, [&] { return next<int(int)>("fsync")(file); });
}

int fdatasync(int file) {
  return guarded("fdatasync", is_watched(file), -1, [&] { return next<int(int)>("fdatasync")(file); });
}

int ftruncate(int file, off_t length) noexcept {
  return guarded("ftruncate", is_watched(file), -1, [&] { return next<int(int, off_t)>("ftruncate")(file, length); });
}

int mkdir(const char* path, mode_t mode) noexcept {
  return guarded("mkdir", is_watched(path), -1, [&] { return next<int(const char*, mode_t)>("mkdir")(path, mode); });
}

int mkdirat(int folder, const char* path, mode_t mode) noexcept {
  return guarded("mkdirat", is_watched(folder, path), -1,
                 [&] { return next<int(int, const char*, mode_t)>("mkdirat")(folder, path, mode); });
}

int chmod(const char* path, mode_t mode) noexcept {
  return guarded("chmod", is_watched(path), -1, [&] { return next<int(const char*, mode_t)>("chmod")(path, mode); });
}

int rename(const char* from, const char* to) noexcept {
  return guarded("rename", is_watched(from) || is_watched(to), -1,
                 [&] { return next<int(const char*, const char*)>("rename")(from, to); });
}

int renameat(int from_folder, const char* from, int to_folder, const char* to) noexcept {
  return guarded("renameat", is_watched(from_folder, from) || is_watched(to_folder, to), -1, [&] {
    return next<int(int, const char*, int, const char*)>("renameat")(from_folder, from, to_folder, to);
  });
}

int renameat2(int from_folder, const char* from, int to_folder, const char* to, unsigned int flags) noexcept {
  if (flags != 0 && lacks("exchange")) {
    errno = EINVAL;
    return -1;
  }
  return guarded("renameat2", is_watched(from_folder, from) || is_watched(to_folder, to), -1, [&] {
    return next<int(int, const char*, int, const char*, unsigned int)>("renameat2")(from_folder, from, to_folder, to,
                                                                                    flags);
  });
}

int link(const char* from, const char* to) noexcept {
  if (lacks("links")) {
    errno = EPERM;
    return -1;
  }
  return guarded("link", is_watched(from) || is_watched(to), -1,
                 [&] { return next<int(const char*, const char*)>("link")(from, to); });
}

int linkat(int from_folder, const char* from, int to_folder, const char* to, int flags) noexcept {
  if (lacks("links")) {
    errno = EPERM;
    return -1;
  }
  return guarded("linkat", is_watched(from_folder, from) || is_watched(to_folder, to), -1, [&] {
    return next<int(int, const char*, int, const char*, int)>("linkat")(from_folder, from, to_folder, to, flags);
  });
}

int unlink(const char* path) noexcept {
  return guarded("unlink", is_watched(path), -1, [&] { return next<int(const char*)>("unlink")(path); });
}

int unlinkat(int folder, const char* path, int flags) noexcept {
  return guarded("unlinkat", is_watched(folder, path), -1,
                 [&] { return next<int(int, const char*, int)>("unlinkat")(folder, path, flags); });
}

int rmdir(const char* path) noexcept {
  return guarded("rmdir", is_watched(path), -1, [&] { return next<int(const char*)>("rmdir")(path); });
}

int remove(const char* path) noexcept {
  return guarded("remove", is_watched(path), -1, [&] { return next<int(const char*)>("remove")(path); });
}

int clock_gettime(clockid_t clock, timespec* now) noexcept {
  const std::string seconds(setting("CANEWISE_FAULT_CLOCK"));
  if (clock != CLOCK_REALTIME || seconds.empty()) return next<int(clockid_t, timespec*)>("clock_gettime")(clock, now);
  *now = {std::atol(seconds.c_str()), 0};
  return 0;
}

time_t time(time_t* now) noexcept {
  timespec exact{};
  ::clock_gettime(CLOCK_REALTIME, &exact);
  if (now != nullptr) *now = exact.tv_sec;
  return exact.tv_sec;
}

}  // extern "C"
