#include "scanproc/words/speech.h"

#include <fmt/format.h>
#include <unicode/msgfmt.h>
#include <unicode/uchar.h>
#include <unicode/unistr.h>

#include <cmath>
#include <limits>

#include "scanproc/words/catalogue.h"

namespace canewise {
namespace {

constexpr double kUmPerThou = 25.4;

icu::Locale locale_of(Language language) { return icu::Locale(std::string(code_of(language)).c_str()); }

std::string_view unit_of(const Length& length, const Speech& speech) {
  if (length.unit == Length::Unit::mm) return "mm";
  return speech.small_unit == SmallUnit::thou ? "thou" : "µm";
}

/// An argument as ICU takes it: words and texts as strings, counts as numbers, all else as told by us.
void add_argument(const Arguments::value_type& argument, const Speech& speech, std::vector<icu::UnicodeString>& names,
                  std::vector<icu::Formattable>& values) {
  const auto add = [&](const std::string& name, const std::string& value) {
    names.push_back(icu::UnicodeString::fromUTF8(name));
    values.emplace_back(icu::UnicodeString::fromUTF8(value));
  };
  const auto& [name, value] = argument;
  if (const auto* text = std::get_if<std::string>(&value)) {
    add(name, *text);
  } else if (const auto* word = std::get_if<Word>(&value)) {
    add(name, word->key);
  } else if (const auto* count = std::get_if<std::int64_t>(&value)) {
    names.push_back(icu::UnicodeString::fromUTF8(name));
    values.emplace_back(*count);
  } else if (const auto* number = std::get_if<Number>(&value)) {
    add(name, number_text(number->value, number->decimals, number->with_sign, speech));
  } else if (const auto* length = std::get_if<Length>(&value)) {
    add(name, length_text(*length, true, speech));
    add(name + "_bare", length_text(*length, false, speech));
    add(name + "_unit", std::string(unit_of(*length, speech)));
  } else if (const auto* messages = std::get_if<Messages>(&value)) {
    add(name, messages->size() == 1 ? phrase(messages->front(), speech) : sentences(*messages, speech));
  }
}

}  // namespace

std::string_view code_of(Language language) {
  constexpr std::array<std::string_view, kLanguages.size()> codes{"en", "de", "fr"};
  return codes.at(static_cast<std::size_t>(language));
}

std::optional<Language> language_from(std::string_view code) {
  for (const Language language : kLanguages) {
    if (code.substr(0, 2) == code_of(language) && (code.size() == 2 || code[2] == '_' || code[2] == '-'))
      return language;
  }
  return std::nullopt;
}

std::string number_text(double value, int decimals, bool with_sign, const Speech& speech) {
  // Of two that are as near the larger, as the page's numbers have it.
  const double upwards = std::nextafter(std::abs(value), std::numeric_limits<double>::infinity());
  std::string text = fmt::format("{:.{}f}", upwards, decimals);
  const bool is_zero = text.find_first_of("123456789") == std::string::npos;
  if (const auto point = text.find('.'); point != std::string::npos && speech.language != Language::english)
    text[point] = ',';
  if (is_zero || std::isnan(value)) return text;
  return (value < 0.0 ? "-" : with_sign ? "+" : "") + text;
}

std::string length_text(const Length& length, bool with_unit, const Speech& speech) {
  const bool is_thou = length.unit == Length::Unit::um && speech.small_unit == SmallUnit::thou;
  // A hundredth of a thousandth of an inch is about as fine as a tenth of a micrometre.
  constexpr int finer_in_thou = 2;
  const double value = is_thou ? length.value / kUmPerThou : length.value;
  const std::string text =
      number_text(value, is_thou ? length.decimals + finer_in_thou : length.decimals, length.with_sign, speech);
  return with_unit ? fmt::format("{} {}", text, unit_of(length, speech)) : text;
}

std::string phrase(const Message& message, const Speech& speech) {
  const Catalogue& catalogue = catalogue_of(speech.language);
  const auto pattern = catalogue.find(message.id);
  if (pattern == catalogue.end()) return "[" + message.id + "]";
  UErrorCode status = U_ZERO_ERROR;
  const icu::MessageFormat format(icu::UnicodeString::fromUTF8(pattern->second), locale_of(speech.language), status);
  std::vector<icu::UnicodeString> names;
  std::vector<icu::Formattable> values;
  for (const auto& argument : message.arguments) add_argument(argument, speech, names, values);
  icu::UnicodeString out;
  if (U_SUCCESS(status)) {
    format.format(names.data(), values.data(), static_cast<std::int32_t>(names.size()), out, status);
  }
  if (U_FAILURE(status)) return "[" + message.id + "]";
  std::string text;
  out.toUTF8String(text);
  return text;
}

std::string sentence(const Message& message, const Speech& speech) {
  const auto words = icu::UnicodeString::fromUTF8(phrase(message, speech));
  if (words.isEmpty()) return {};
  icu::UnicodeString begun(u_toupper(words.char32At(0)));
  begun.append(words, words.moveIndex32(0, 1), words.length());
  std::string text;
  begun.toUTF8String(text);
  return text;
}

std::string sentences(const Messages& messages, const Speech& speech) {
  std::string all;
  for (const Message& message : messages) {
    if (message.empty()) continue;
    if (!all.empty()) all += ' ';
    all += sentence(message, speech);
  }
  return all;
}

}  // namespace canewise
