#pragma once

#include <stdexcept>
#include <string>
#include <utility>

#include "scanproc/words/speech.h"

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

/// Every failure that a person can mend. Its message names the file or option, the place in it, and what to do; what()
/// is that in English.
class Error : public std::runtime_error {
 public:
  Error(ExitCode exit_code, Message message)
      : std::runtime_error(phrase(message)), exit_code_(exit_code), message_(std::move(message)) {}
  [[nodiscard]] ExitCode exit_code() const noexcept { return exit_code_; }
  [[nodiscard]] const Message& message() const noexcept { return message_; }

 private:
  ExitCode exit_code_;
  Message message_;
};

struct UsageError : Error {
  explicit UsageError(Message message) : Error(ExitCode::usage, std::move(message)) {}
};
struct InputError : Error {
  explicit InputError(Message message) : Error(ExitCode::bad_input, std::move(message)) {}
};
struct NotMeasurable : Error {
  explicit NotMeasurable(Message message) : Error(ExitCode::not_measurable, std::move(message)) {}
};
struct OutputError : Error {
  explicit OutputError(Message message) : Error(ExitCode::cannot_write, std::move(message)) {}
};

/// Thrown where a caller asked for a stop; nothing was written.
struct Cancelled : std::exception {
  [[nodiscard]] const char* what() const noexcept override { return "cancelled"; }
};

}  // namespace canewise
