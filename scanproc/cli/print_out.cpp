#include "scanproc/cli/print_out.h"

#include <cstdio>

#include "scanproc/core/error.h"

namespace canewise {

void print_out(const std::string& words) {
  if (std::fwrite(words.data(), 1, words.size(), stdout) != words.size() || std::fflush(stdout) != 0)
    throw OutputError({"cli.stdout"});
}

}  // namespace canewise
