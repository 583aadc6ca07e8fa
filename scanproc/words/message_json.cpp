#include "scanproc/words/message_json.h"

#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>
#include <stdexcept>

namespace canewise {
namespace {

using nlohmann::json;
constexpr int kMostDecimals = 6;
constexpr int kDeepest = 8;  // Of sentences within sentences.

/// Ids and words are keys: they may be shown where a catalogue lacks them, so that nothing else may hide in them.
std::string key_of(const json& value) {
  auto key = value.get<std::string>();
  for (const char c : key) {
    const bool is_part =
        (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' || c == '.';
    if (!is_part) throw std::invalid_argument("a message's key is impossible");
  }
  return key;
}

json json_of(const Argument& argument) {
  if (const auto* text = std::get_if<std::string>(&argument)) return {{"text", *text}};
  if (const auto* word = std::get_if<Word>(&argument)) return {{"word", word->key}};
  if (const auto* count = std::get_if<std::int64_t>(&argument)) return *count;
  if (const auto* number = std::get_if<Number>(&argument)) {
    json object{{"number", number->value}, {"decimals", number->decimals}};
    if (number->with_sign) object["signed"] = true;
    return object;
  }
  if (const auto* length = std::get_if<Length>(&argument)) {
    json object{{length->unit == Length::Unit::um ? "um" : "mm", length->value}, {"decimals", length->decimals}};
    if (length->with_sign) object["signed"] = true;
    return object;
  }
  json list = json::array();
  for (const Message& message : std::get<Messages>(argument)) list.push_back(message);
  return list;
}

Message message_of(const json& object, int depth);

double value_of(const json& value) { return value.is_null() ? std::nan("") : value.get<double>(); }

Argument argument_of(const json& value, int depth) {
  if (value.is_number_integer()) {
    constexpr std::uint64_t largest = std::numeric_limits<std::int64_t>::max();
    if (value.is_number_unsigned() && value.get<std::uint64_t>() > largest)
      throw std::invalid_argument("a message's count is impossible");
    return value.get<std::int64_t>();
  }
  if (value.is_array()) {
    Messages messages;
    for (const json& each : value) messages.push_back(message_of(each, depth + 1));
    return messages;
  }
  if (value.contains("text")) return printable(value.at("text").get<std::string>());
  if (value.contains("word")) return Word{key_of(value.at("word"))};
  const int decimals = value.at("decimals").get<int>();
  if (decimals < 0 || decimals > kMostDecimals) throw std::invalid_argument("a message's decimals are impossible");
  const bool with_sign = value.value("signed", false);
  if (value.contains("number")) return Number{value_of(value.at("number")), decimals, with_sign};
  if (value.contains("um")) return Length{value_of(value.at("um")), Length::Unit::um, decimals, with_sign};
  return Length{value_of(value.at("mm")), Length::Unit::mm, decimals, with_sign};
}

Message message_of(const json& object, int depth) {
  if (depth > kDeepest) throw std::invalid_argument("messages lie too deep in each other");
  Message message;
  message.id = key_of(object.at("id"));
  for (const auto& [name, value] : object.items()) {
    if (name != "id") message.arguments.emplace(name, argument_of(value, depth));
  }
  return message;
}

}  // namespace

void to_json(json& object, const Message& message) {
  object = {{"id", message.id}};
  for (const auto& [name, argument] : message.arguments) object[name] = json_of(argument);
}

void from_json(const json& object, Message& message) { message = message_of(object, 0); }

}  // namespace canewise
