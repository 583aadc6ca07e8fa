#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>

#include "scanproc/words/message.h"

namespace canewise {

/// Languages that have a catalogue, and the two letters that name them (ISO 639-1). One row and one file each.
enum class Language { english, german, french };
inline constexpr std::array kLanguages{Language::english, Language::german, Language::french};
[[nodiscard]] std::string_view code_of(Language language);
[[nodiscard]] std::optional<Language> language_from(std::string_view code);

/// How small lengths are told.
enum class SmallUnit { um, thou };

/// Whom the words are for.
struct Speech {
  Language language = Language::english;
  SmallUnit small_unit = SmallUnit::um;
};

/// The words of a message. A part within a sentence begins as the catalogue has it.
[[nodiscard]] std::string phrase(const Message& message, const Speech& speech = {});
/// The same as sentences: each begins with a capital letter, one space between two.
[[nodiscard]] std::string sentence(const Message& message, const Speech& speech = {});
[[nodiscard]] std::string sentences(const Messages& messages, const Speech& speech = {});

[[nodiscard]] std::string number_text(double value, int decimals, bool with_sign, const Speech& speech);
/// With its unit, or its number alone.
[[nodiscard]] std::string length_text(const Length& length, bool with_unit, const Speech& speech);

}  // namespace canewise
