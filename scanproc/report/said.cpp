#include "scanproc/report/said.h"

#include <nlohmann/json.hpp>

#include "scanproc/report/page_frame.h"
#include "scanproc/words/message_json.h"

namespace canewise {
namespace {

using nlohmann::json;

std::string attribute_of(const json& messages) {
  return escaped(messages.dump(-1, ' ', false, json::error_handler_t::replace));
}

std::string element(const json& messages, const std::string& words) {
  return "<span data-say=\"" + attribute_of(messages) + "\">" + escaped(words) + "</span>";
}

}  // namespace

std::string said(const Messages& messages, const Speech& speech) {
  const std::string words = sentences(messages, speech);
  return words.empty() ? std::string() : element(json(messages), words);
}

std::string said(const Message& message, const Speech& speech) { return said(Messages{message}, speech); }

std::string said_phrase(const Message& message, const Speech& speech) {
  return message.empty() ? std::string() : element(json(message), phrase(message, speech));
}

std::string said_as(std::string_view attribute, const Message& message, const Speech& speech) {
  const std::string name(attribute);
  return " " + name + "=\"" + escaped(sentence(message, speech)) + "\" data-say-" + name + "=\"" +
         attribute_of(json(Messages{message})) + "\"";
}

std::string say_attribute(const Message& message) {
  return " data-say=\"" + attribute_of(json(Messages{message})) + "\"";
}

}  // namespace canewise
