#pragma once

#include <string>

namespace canewise {

/// Writes to standard output, down to the last byte. Throws OutputError.
void print_out(const std::string& words);

}  // namespace canewise
