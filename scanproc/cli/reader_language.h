#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "scanproc/words/speech.h"

namespace canewise {

/// The command's words after its own name. What is asked of them here must be known before they are parsed, so that
/// help and refusals come in the reader's language.
using CommandWords = std::span<const char* const>;

/// What `--lang CODE` or `--lang=CODE` asks for; nothing if neither is there. Throws UsageError for a code that has no
/// catalogue.
[[nodiscard]] std::optional<Language> language_asked_for(CommandWords words);
/// The language of this computer's user: the first of LC_ALL, LC_MESSAGES and LANG that is set; English if it has no
/// catalogue.
[[nodiscard]] Language language_of_system();

/// The verb: the first word that is no option, nor the language.
[[nodiscard]] std::string verb_of(CommandWords words);
[[nodiscard]] bool is_given(CommandWords words, std::string_view flag);
/// Where lines for programs go: standard error with `--progress`, descriptor N with `--progress-to=N`.
[[nodiscard]] std::optional<int> program_lines_asked_for(CommandWords words);

}  // namespace canewise
