#pragma once

#include <charconv>
#include <cstdint>
#include <cstdlib>
#include <optional>
#include <string>
#include <string_view>
#include <system_error>
#include <type_traits>

#include "scanproc/words/message.h"

namespace canewise {

/// Cuts `text` at its first line end and returns the line without it (LF, CR LF or CR).
[[nodiscard]] inline std::string_view next_line(std::string_view& text) {
  const std::size_t end = text.find_first_of("\r\n");
  const std::string_view line = text.substr(0, end);
  if (end == std::string_view::npos) {
    text = {};
  } else {
    const bool two = text[end] == '\r' && end + 1 < text.size() && text[end + 1] == '\n';
    text.remove_prefix(end + (two ? 2 : 1));
  }
  return line;
}

[[nodiscard]] inline bool is_blank(char c) { return c == ' ' || c == '\t'; }

/// Cuts the next word off `line`; empty when none is left.
[[nodiscard]] inline std::string_view next_word(std::string_view& line) {
  std::size_t begin = 0;
  while (begin < line.size() && is_blank(line[begin])) ++begin;
  std::size_t end = begin;
  while (end < line.size() && !is_blank(line[end])) ++end;
  const std::string_view word = line.substr(begin, end - begin);
  line.remove_prefix(end);
  return word;
}

/// The whole of `word` as a number (a leading '+' allowed); empty if it is not one. 'nan' and 'inf' are numbers.
template <typename T>
[[nodiscard]] std::optional<T> number_from(std::string_view word) {
  if (word.starts_with("+-")) return std::nullopt;
  if (!word.empty() && word.front() == '+') word.remove_prefix(1);
  T value{};
  const auto [end, error] = std::from_chars(word.data(), word.data() + word.size(), value);
  if constexpr (std::is_floating_point_v<T>) {
    // 1e999 is meant as infinite and 1e-999 as nought; from_chars does not say which it met.
    if (error == std::errc::result_out_of_range && end == word.data() + word.size()) {
      return static_cast<T>(std::strtod(std::string(word).c_str(), nullptr));
    }
  }
  if (error != std::errc() || end != word.data() + word.size()) return std::nullopt;
  return value;
}

/// A word of a file as it may be shown to a person: cut to 24 characters, all but printable ASCII replaced.
[[nodiscard]] inline std::string cut_short(std::string_view word_of_file) {
  std::string cut;
  for (const char c : word_of_file.substr(0, 24)) cut += (c >= ' ' && c < 127) ? c : '?';
  if (word_of_file.size() > 24) cut += "...";
  return cut;
}
/// The same between quotation marks.
[[nodiscard]] inline std::string shown(std::string_view word_of_file) { return "'" + cut_short(word_of_file) + "'"; }
/// The same for a message, whose pattern puts the quotation marks.
[[nodiscard]] inline Argument excerpt(std::string_view word_of_file) { return cut_short(word_of_file); }

/// A place or a count in a file for a message: bare digits, as editors show line numbers, and room for any size that a
/// damaged header may claim.
[[nodiscard]] inline Argument digits(std::uint64_t n) { return number(static_cast<double>(n)); }

}  // namespace canewise
