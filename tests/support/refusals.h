#pragma once

#include <gtest/gtest.h>

#include <string>
#include <variant>

#include "scanproc/core/error.h"

namespace canewise::test {

/// What a refusal says: the message inside the frame that names the file, and all of it in English.
struct Refusal {
  ExitCode exit_code = ExitCode::measured;
  std::string id;       ///< Of the message inside the frame.
  Arguments arguments;  ///< The same.
  std::string file;     ///< As the frame names it; empty where there is no frame.
  std::string words;

  /// A count or a place that the message names; -1 where it names none.
  [[nodiscard]] double number(const std::string& name) const {
    const auto found = arguments.find(name);
    const auto* value = found == arguments.end() ? nullptr : std::get_if<Number>(&found->second);
    return value == nullptr ? -1.0 : value->value;
  }
  [[nodiscard]] std::string text(const std::string& name) const {
    const auto found = arguments.find(name);
    const auto* value = found == arguments.end() ? nullptr : std::get_if<std::string>(&found->second);
    return value == nullptr ? std::string() : *value;
  }
};

/// The refusal that `work` ends with. It is a failure if the work ends well.
template <typename Work>
Refusal refusal_of(const Work& work) {
  try {
    (void)work();
  } catch (const Error& error) {
    Refusal refusal{error.exit_code(), error.message().id, error.message().arguments, {}, error.what()};
    const auto what = refusal.arguments.find("what");
    const auto* inside = what == refusal.arguments.end() ? nullptr : std::get_if<Messages>(&what->second);
    if (inside == nullptr || inside->size() != 1) return refusal;
    refusal.file = refusal.text("file");
    const Message message = inside->front();  // A copy: it lies in what is written next.
    refusal.id = message.id;
    refusal.arguments = message.arguments;
    return refusal;
  }
  ADD_FAILURE() << "nothing was refused";
  return {};
}

}  // namespace canewise::test
