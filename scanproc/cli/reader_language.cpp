#include "scanproc/cli/reader_language.h"

#include <unistd.h>

#include <charconv>
#include <cstdlib>

#include "scanproc/core/error.h"

namespace canewise {
namespace {

constexpr std::string_view kLang = "--lang", kLangIs = "--lang=", kProgressTo = "--progress-to=";
/// Behind it every word is a file's name.
constexpr std::string_view kEndOfOptions = "--";

std::string known_codes() {
  std::string codes;
  for (const Language language : kLanguages) codes += (codes.empty() ? "" : ", ") + std::string(code_of(language));
  return codes;
}

Language language_named(std::string_view code) {
  if (const auto language = language_from(code)) return *language;
  throw UsageError({"cli.unknown_language", {{"code", text(code)}, {"known", text(known_codes())}}});
}

}  // namespace

std::optional<Language> language_asked_for(CommandWords words) {
  for (std::size_t i = 0; i < words.size() && words[i] != kEndOfOptions; ++i) {
    const std::string_view word = words[i];
    if (word.starts_with(kLangIs)) return language_named(word.substr(kLangIs.size()));
    // Without a code behind it the parser has something to say.
    if (word == kLang && i + 1 < words.size()) return language_named(words[i + 1]);
  }
  return std::nullopt;
}

Language language_of_system() {
  for (const char* name : {"LC_ALL", "LC_MESSAGES", "LANG"}) {
    const char* const value = std::getenv(name);
    if (value == nullptr || *value == '\0') continue;
    const std::string_view locale(value);
    return language_from(locale.substr(0, locale.find_first_of(".@"))).value_or(Language::english);
  }
  return Language::english;
}

std::string verb_of(CommandWords words) {
  for (std::size_t i = 0; i < words.size(); ++i) {
    const std::string_view word = words[i];
    if (word == kLang) {
      ++i;
    } else if (!word.starts_with('-')) {
      return std::string(word);
    }
  }
  return {};
}

bool is_given(CommandWords words, std::string_view flag) {
  for (const std::string_view word : words) {
    if (word == kEndOfOptions) return false;
    if (word == flag) return true;
  }
  return false;
}

std::optional<int> program_lines_asked_for(CommandWords words) {
  for (const std::string_view word : words) {
    if (word == kEndOfOptions) break;
    if (word == "--progress") return STDERR_FILENO;
    if (!word.starts_with(kProgressTo)) continue;
    const std::string_view digits = word.substr(kProgressTo.size());
    int descriptor = 0;
    const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), descriptor);
    if (error == std::errc() && end == digits.data() + digits.size() && descriptor > STDERR_FILENO) return descriptor;
  }
  return std::nullopt;
}

}  // namespace canewise
