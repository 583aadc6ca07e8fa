#include "scanproc/cli/parser_words.h"

#include <cmath>
#include <cstdlib>
#include <limits>
#include <optional>
#include <regex>
#include <string>
#include <utility>

#include "scanproc/words/decimals.h"

namespace canewise {
namespace {

/// How the parser says one thing, and with which names its groups go into the message.
struct Form {
  const char* pattern;
  MessageId id;
  const char* first;
  const char* second;  ///< Null: the text has no such group.
};
const Form kForms[]{
    {R"(The\sfollowing\sarguments?\sw\w+\snot\sexpected: (.*))", "cli.parse.unexpected", "what", nullptr},
    {"(.*) is required", "cli.parse.required", "option", nullptr},
    {"(.*) requires (.*)", "cli.parse.requires", "option", "other"},
    {"(.*) excludes (.*)", "cli.parse.excludes", "option", "other"},
    {R"((\S+): .*\srequired\s.*)", "cli.parse.no_value", "option", nullptr},
    {R"(Expected\s.*\sarguments\sto\s(.*),\sgot\s.*)", "cli.parse.no_value", "option", nullptr},
    {R"(Could\snot\sconvert:\s(.*)\s=\s(.*))", "cli.parse.no_number", "option", "value"},
    {R"((\S+):\s.*\snot\sin\s\{(.*)\})", "cli.parse.not_one_of", "option", "known"},
};

/// A bound that a double has anyway is none.
bool bounds(double value) {
  using Limits = std::numeric_limits<double>;
  return value != Limits::min() && std::abs(value) < Limits::max();
}

std::optional<Message> out_of_range(const std::string& said) {
  static const std::regex pattern(R"((\S+):\sValue\s(.*)\snot\sin\srange\s(\S+)\sto\s(\S+))");
  std::smatch match;
  if (!std::regex_match(said, match, pattern)) return std::nullopt;
  const double low = std::strtod(match[3].str().c_str(), nullptr), high = std::strtod(match[4].str().c_str(), nullptr);
  if (!bounds(high)) return Message{"cli.parse.not_positive", {{"option", text(match[1].str())}}};
  return Message{"cli.parse.out_of_range",
                 {{"option", text(match[1].str())},
                  {"low", number(low, decimals_of(low))},
                  {"high", number(high, decimals_of(high))}}};
}

}  // namespace

Message parser_words(const CLI::ParseError& error) {
  const std::string said = error.what();
  if (auto range = out_of_range(said)) return *std::move(range);
  for (const Form& form : kForms) {
    std::smatch match;
    if (!std::regex_match(said, match, std::regex(form.pattern))) continue;
    Arguments arguments{{form.first, text(match[1].str())}};
    if (form.second != nullptr) arguments.emplace(form.second, text(match[2].str()));
    return {form.id, std::move(arguments)};
  }
  return {"verbatim", {{"text", text(said)}}};
}

}  // namespace canewise
