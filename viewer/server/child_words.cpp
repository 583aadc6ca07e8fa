#include "viewer/server/child_words.h"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <string_view>

#include "scanproc/words/message_json.h"

namespace canewise {
namespace {

using nlohmann::json;

Message message_or_none(const json& value) {
  try {
    return value.get<Message>();
  } catch (const std::exception&) {
    return {};
  }
}

void erase_all(std::string& words, const std::string& what) {
  if (what.empty()) return;
  for (std::size_t at = words.find(what); at != std::string::npos; at = words.find(what, at))
    words.erase(at, what.size());
}

void erase_in_texts(Message& message, const std::string& what) {
  for (auto& [name, argument] : message.arguments) {
    if (auto* words = std::get_if<std::string>(&argument)) erase_all(*words, what);
    if (auto* inner = std::get_if<Messages>(&argument)) {
      for (Message& each : *inner) erase_in_texts(each, what);
    }
  }
}

/// Empty for a file that is named without its folder.
std::string place_of(const std::filesystem::path& file) {
  const auto folder = file.parent_path();
  return folder.empty() ? std::string() : folder.string() + "/";
}

}  // namespace

std::optional<ChildTold> told_on(const std::string& line) {
  if (!line.starts_with('{')) return std::nullopt;
  const json told = json::parse(line, nullptr, false);
  if (!told.is_object()) return std::nullopt;
  const auto stage = told.find("stage"), fraction = told.find("fraction"), refused = told.find("refused");
  ChildTold child;
  if (refused != told.end()) {
    child.refused = message_or_none(*refused);
  } else if (stage == told.end()) {
    return std::nullopt;
  } else if (fraction != told.end() && fraction->is_number()) {
    child.stage = message_or_none(*stage);
    child.fraction = std::clamp(fraction->get<double>(), 0.0, 1.0);
  }
  return child;
}

Message for_sender(Message message, const std::filesystem::path& file) {
  erase_in_texts(message, printable(place_of(file)));
  const Argument name = text(file.filename().string());
  while (message.id == "in_file") {
    const auto of = message.arguments.find("file"), what = message.arguments.find("what");
    if (of == message.arguments.end() || of->second != name || what == message.arguments.end()) break;
    const auto* inner = std::get_if<Messages>(&what->second);
    if (inner == nullptr || inner->size() != 1) break;
    Message alone = inner->front();
    message = std::move(alone);
  }
  return message;
}

Message without_places(Message message, const std::vector<std::filesystem::path>& places) {
  for (const auto& place : places) {
    if (place.empty() || place == place.root_path()) continue;
    erase_in_texts(message, printable(place.string() + "/"));
    erase_in_texts(message, printable(place.string()));
  }
  return message;
}

Message for_sender(std::string words, const std::filesystem::path& file) {
  erase_all(words, place_of(file));
  // 'canewise: ' names the speaker on a terminal; on the page it is clear who speaks.
  constexpr std::string_view speaker = "canewise: ";
  if (words.starts_with(speaker)) words.erase(0, speaker.size());
  std::replace(words.begin(), words.end(), '\n', ' ');
  return {"verbatim", {{"text", text(words)}}};
}

}  // namespace canewise
