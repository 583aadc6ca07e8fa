#pragma once

#include <chrono>
#include <cstddef>
#include <functional>
#include <string>
#include <vector>

#include "viewer/server/child_limits.h"

namespace canewise {

struct ChildEnd {
  enum class How { exited, cancelled, out_of_time, killed } how = How::exited;
  int exit_code = 0;
  std::string words;  ///< What it wrote to stderr, without the lines that `on_line` took; at most 4000 bytes.
};

/// Runs a program with its own memory and time, so that whatever it does the caller lives on. Its stdout is dropped.
/// `on_line` sees every line of its stderr and says true if it was meant for it; `cancelled` is asked about ten times a
/// second. A cancelled or late child is asked to stop and then made to. One that ended with exit code 0 has exited,
/// whatever was asked of it meanwhile: its work is there. When this returns or throws, the child is gone and with it
/// what it started in its process group; it dies with its parent too. Throws std::system_error if it cannot be started,
/// and whatever the functions throw.
[[nodiscard]] ChildEnd run_child(const std::vector<std::string>& command, const ChildLimits& limits,
                                 const std::function<bool(const std::string&)>& on_line,
                                 const std::function<bool()>& cancelled);

}  // namespace canewise
