#pragma once

#include <stdexcept>
#include <string>

namespace canewise {

/// What the command returns to the shell. The list is part of the contract with scripts: never renumber.
enum class ExitCode : int {
  measured = 0,
  usage = 2,
  bad_input = 3,
  not_measurable = 4,  ///< Not a reed, or a reed that this scan cannot measure.
  internal = 5,
  cannot_write = 6,
};

/// Every failure that a person can mend. what() names the file or option, the place in it, and what to do.
class Error : public std::runtime_error {
 public:
  Error(ExitCode exit_code, const std::string& message) : std::runtime_error(message), exit_code_(exit_code) {}
  [[nodiscard]] ExitCode exit_code() const noexcept { return exit_code_; }

 private:
  ExitCode exit_code_;
};

struct UsageError : Error {
  explicit UsageError(const std::string& message) : Error(ExitCode::usage, message) {}
};
struct InputError : Error {
  explicit InputError(const std::string& message) : Error(ExitCode::bad_input, message) {}
};
struct NotMeasurable : Error {
  explicit NotMeasurable(const std::string& message) : Error(ExitCode::not_measurable, message) {}
};
struct OutputError : Error {
  explicit OutputError(const std::string& message) : Error(ExitCode::cannot_write, message) {}
};

/// Thrown where a caller asked for a stop; nothing was written.
struct Cancelled : std::exception {
  [[nodiscard]] const char* what() const noexcept override { return "stopped on request; nothing was written"; }
};

}  // namespace canewise
