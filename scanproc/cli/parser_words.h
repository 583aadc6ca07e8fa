#pragma once

#include <CLI/CLI.hpp>

#include "scanproc/words/message.h"

namespace canewise {

/// Why the parser refuses the words of the shell, without a full stop. The parser says that in English alone and keeps
/// options and bounds in the text only, so they are read from there; what has another form stays as the parser said it.
[[nodiscard]] Message parser_words(const CLI::ParseError& error);

}  // namespace canewise
