#pragma once

#include <cstddef>
#include <cstdint>
#include <map>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

namespace canewise {

struct Message;
/// Sentences that follow one another.
using Messages = std::vector<Message>;

/// Chooses among a pattern's words: a side, a zone, a verdict. Never shown as it is.
struct Word {
  std::string key;
  friend bool operator==(const Word&, const Word&) = default;
};

/// A number without a unit of length, shown with so many decimals.
struct Number {
  double value = 0.0;
  int decimals = 0;
  bool with_sign = false;
  friend bool operator==(const Number&, const Number&) = default;
};

/// A length. Micrometres are told in thousandths of an inch to who likes those; places and sizes in millimetres always.
/// In a pattern {name} is the length with its unit, {name_bare} its number and {name_unit} its unit alone.
struct Length {
  enum class Unit { mm, um };
  double value = 0.0;
  Unit unit = Unit::mm;
  int decimals = 0;
  bool with_sign = false;
  friend bool operator==(const Length&, const Length&) = default;
};

/// Text (from outside: file names, what a library says), word, count, number, length, or sentences within a sentence.
using Argument = std::variant<std::string, Word, std::int64_t, Number, Length, Messages>;
using Arguments = std::map<std::string, Argument, std::less<>>;

/// Id of a message as source code writes it: prose in its place does not compile.
struct MessageId {
  // NOLINTNEXTLINE(google-explicit-constructor)
  consteval MessageId(const char* name) : text(name) {
    for (const char c : text) {
      const bool is_part = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_' || c == '.';
      if (!is_part) throw "no id";  // Small letters, digits, dots and underscores.
    }
  }
  std::string_view text;
};

/// What is said, apart from the words of any language: an id of the catalogues and what its pattern takes.
struct Message {
  std::string id;
  Arguments arguments;

  Message() = default;
  // NOLINTNEXTLINE(google-explicit-constructor): an id alone is a whole message.
  Message(MessageId name, Arguments with = {}) : id(name.text), arguments(std::move(with)) {}
  [[nodiscard]] bool empty() const { return id.empty(); }
  friend bool operator==(const Message&, const Message&) = default;
};

/// Spaces and hyphens of the key become underscores: 'cannot tell' is cannot_tell in a pattern.
[[nodiscard]] Argument word(std::string_view key);
[[nodiscard]] Argument count(std::size_t n);
[[nodiscard]] Argument number(double value, int decimals = 0);
/// A small length; `decimals` of micrometres.
[[nodiscard]] Argument um(double micrometres, int decimals = 0);
[[nodiscard]] Argument signed_um(double micrometres, int decimals = 0);
[[nodiscard]] Argument mm(double millimetres, int decimals = 0);
/// Text from outside. Control characters and broken UTF-8 are shown as escapes, so that no file speaks to a terminal.
[[nodiscard]] Argument text(std::string_view from_outside);
/// A message as a part of another: a place, a kind of reed.
[[nodiscard]] Argument part(Message message);

[[nodiscard]] std::string printable(std::string_view from_outside);

}  // namespace canewise
