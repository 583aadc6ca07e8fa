#pragma once

#include <string>

#include "scanproc/core/progress.h"

namespace canewise {

/// Shows stages on one line of the terminal (standard error), and nothing where that is not a terminal. The line is
/// wiped at the end of its life.
class ProgressLine {
 public:
  explicit ProgressLine(std::string what = {});
  ~ProgressLine();
  ProgressLine(const ProgressLine&) = delete;
  ProgressLine& operator=(const ProgressLine&) = delete;
  [[nodiscard]] Progress callback();

 private:
  std::string what_;
  bool on_terminal_;
};

}  // namespace canewise
