#pragma once

#include <string>

#include "scanproc/pipeline/result.h"
#include "scanproc/words/speech.h"

namespace canewise {

/// What `measure` prints: at most 40 lines of at most 100 columns; what the reed is, what is off, what to do, how sure.
[[nodiscard]] std::string screen_text(const Result& result, const std::string& out_folder, const Speech& speech);

/// Breaks words into lines of at most `width` columns, the second and later ones indented.
[[nodiscard]] std::string wrapped(const std::string& words, std::size_t width, std::size_t indent);

}  // namespace canewise
