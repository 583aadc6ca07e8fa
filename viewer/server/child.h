#pragma once

#include <chrono>
#include <cstddef>
#include <functional>
#include <string>
#include <vector>

#include "viewer/server/child_limits.h"

namespace canewise {

/// Where a child tells its caller what it does, line by line: no library that it uses writes there.
inline constexpr int kTellDescriptor = 3;
/// The option that makes one of our commands do so.
inline constexpr const char* kTellHere = "--progress-to=3";

struct ChildCommand {
  std::vector<std::string> words;     ///< The program's path first.
  std::string input = {};             ///< What it reads on its standard input.
  std::size_t most_output_bytes = 0;  ///< Of its standard output that are kept; a child that writes more is ended.
};

struct ChildEnd {
  enum class How { exited, cancelled, out_of_time, killed } how = How::exited;
  int exit_code = 0;
  std::string output;
  std::string words;  ///< What it wrote to stderr; at most 4000 bytes.
};

/// Runs a program with its own memory and time, so that whatever it does the caller lives on. `on_line` sees every line
/// that it writes to kTellDescriptor; `cancelled` is asked about ten times a second. A cancelled or late child is asked
/// to stop and then made to. One that ended with exit code 0 has exited, whatever was asked of it meanwhile: its work
/// is there. When this returns or throws, the child is gone and with it what it started in its process group; it dies
/// with its parent too. Throws std::system_error if it cannot be started, and whatever the functions throw.
[[nodiscard]] ChildEnd run_child(const ChildCommand& command, const ChildLimits& limits,
                                 const std::function<void(const std::string&)>& on_line,
                                 const std::function<bool()>& cancelled);

}  // namespace canewise
