#pragma once

#include <sys/types.h>

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include "tests/attack/support/wire.h"
#include "tests/support/temp_file.h"

namespace canewise::attack {

/// What a process takes of the computer.
struct Use {
  double resident_mb = 0.0;
  double peak_mb = 0.0;  ///< The most that was ever resident.
  double cpu_s = 0.0;    ///< Of all its threads since it started.
  int sockets = 0;       ///< Open ones.
};

struct Ended {
  int exit_code = -1;  ///< -1: by a signal, or not at all until it was killed.
  double seconds = 0.0;
};

/// The real 'canewise serve' as a process of its own, on loopback, on a port that the system gives, serving a temporary
/// folder. It goes with the object, and with this process if that is killed.
class Served {
 public:
  /// `options` stand behind the folder on the command line. Throws if it does not start.
  explicit Served(std::vector<std::string> options = {});
  ~Served();
  Served(const Served&) = delete;
  Served& operator=(const Served&) = delete;

  int port = 0;
  std::string said;              ///< Until and with the line of Ctrl-C.
  std::string reading, writing;  ///< The two secrets; empty if the server gave none.

  [[nodiscard]] std::filesystem::path folder() const { return base_.path() / "served"; }
  [[nodiscard]] std::filesystem::path outside() const { return base_.path() / "outside"; }
  /// What lies beside the served folder: 'outside', 'served', nothing else.
  [[nodiscard]] std::vector<std::string> beside() const;
  /// Makes FOLDER/name/file.
  void put(const std::string& name, const std::string& file, const std::string& bytes) const;

  [[nodiscard]] std::string host() const;    ///< '127.0.0.1:PORT'.
  [[nodiscard]] std::string cookie() const;  ///< 'canewise-PORT=READ'.
  /// A request as the page's own browser sends it; `more` are whole lines of the head.
  [[nodiscard]] std::string reads(const std::string& target, const std::string& more = "") const;
  /// A head as the page itself sends it before a body of `length` bytes.
  [[nodiscard]] std::string writes(const std::string& target, std::size_t length, const std::string& more = "") const;
  /// The same with the method and without a Content-Length: for bodies of other kinds.
  [[nodiscard]] std::string writes_head(const std::string& method, const std::string& target,
                                        const std::string& more) const;
  [[nodiscard]] Answer get(const std::string& target, const std::string& more = "") const;
  [[nodiscard]] Answer send_scan(const std::string& name, const std::string& bytes) const;

  [[nodiscard]] Use use() const;
  [[nodiscard]] bool alive() const;
  /// Waits twenty seconds for it to end, then kills it.
  Ended end_by(int signal);

 private:
  void start(const std::vector<std::string>& words);
  void learn();
  test::TempFolder base_;
  pid_t process_ = -1;
  int out_ = -1;
};

/// A request head of these parts: 'METHOD TARGET HTTP/1.1', Host, `more` (whole lines), the empty line.
[[nodiscard]] std::string request(const std::string& method, const std::string& target, const std::string& host,
                                  const std::string& more = "");

/// Id of the job that an upload's answer tells, or empty.
[[nodiscard]] std::string job_of(const Answer& answer);

/// True if memory and processor can be judged: a sanitizer takes a multiple of both.
[[nodiscard]] bool resources_count();

}  // namespace canewise::attack
