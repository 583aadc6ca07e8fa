#include "scanproc/cli/parser_words.h"

#include <cmath>
#include <cstdlib>
#include <limits>
#include <optional>
#include <string>
#include <string_view>

#include "scanproc/words/decimals.h"
#include "scanproc/words/short_text.h"

namespace canewise {
namespace {

/// What stands before and after the last `between`.
struct Halves {
  std::string_view before, after;
};
std::optional<Halves> parted(std::string_view said, std::string_view between) {
  const std::size_t at = said.rfind(between);
  if (at == std::string_view::npos) return std::nullopt;
  return Halves{said.substr(0, at), said.substr(at + between.size())};
}

/// What somebody typed may hold any words, so a name counts only where it can be one.
bool is_name(std::string_view words) { return !words.empty() && words.find(' ') == std::string_view::npos; }

/// 'NAME: ...' begins so.
std::optional<std::string_view> name_before_colon(std::string_view said) {
  const std::string_view name = said.substr(0, said.find(": "));
  return name.size() < said.size() && is_name(name) ? std::optional(name) : std::nullopt;
}

Message on_bounds(std::string_view option, const Halves& bounds) {
  const double low = std::strtod(std::string(bounds.before).c_str(), nullptr),
               high = std::strtod(std::string(bounds.after).c_str(), nullptr);
  // Without an upper bound the parser names the largest number that there is.
  if (!(high < std::numeric_limits<double>::max())) return {"cli.parse.not_positive", {{"option", text(option)}}};
  return {
      "cli.parse.out_of_range",
      {{"option", text(option)}, {"low", number(low, decimals_of(low))}, {"high", number(high, decimals_of(high))}}};
}

/// 'NAME: what is wrong with its value'.
std::optional<Message> on_value(std::string_view said) {
  const auto option = name_before_colon(said);
  if (!option) return std::nullopt;
  const auto set = parted(said, " not in {");
  if (set && set->after.ends_with('}'))
    return Message{"cli.parse.not_one_of",
                   {{"option", text(*option)}, {"known", text(set->after.substr(0, set->after.size() - 1))}}};
  if (const auto range = parted(said, " not in range ")) {
    if (const auto bounds = parted(range->after, " to ")) return on_bounds(*option, *bounds);
  }
  if (said.ends_with(" missing")) return Message{"cli.parse.no_value", {{"option", text(*option)}}};
  return std::nullopt;
}

/// 'NAME requires NAME', 'NAME excludes NAME', 'NAME is required'.
std::optional<Message> on_options(std::string_view said) {
  if (said == "A subcommand is required") return Message{"cli.parse.no_verb"};
  if (const auto names = parted(said, " is required"); names && names->after.empty() && is_name(names->before))
    return Message{"cli.parse.required", {{"option", text(names->before)}}};
  if (const auto names = parted(said, " requires "); names && is_name(names->before) && is_name(names->after))
    return Message{"cli.parse.requires", {{"option", text(names->before)}, {"other", text(names->after)}}};
  if (const auto names = parted(said, " excludes "); names && is_name(names->before) && is_name(names->after))
    return Message{"cli.parse.excludes", {{"option", text(names->before)}, {"other", text(names->after)}}};
  return std::nullopt;
}

std::optional<Message> on_arguments(std::string_view said) {
  constexpr std::string_view unexpected = " not expected: ", unreadable = "Could not convert: ";
  if (said.starts_with("The following argument")) {
    // The first, for what was typed comes behind it.
    const std::size_t at = said.find(unexpected);
    if (at != std::string_view::npos)
      return Message{"cli.parse.unexpected", {{"what", short_text(said.substr(at + unexpected.size()))}}};
  }
  if (said.starts_with(unreadable)) {
    const std::string_view rest = said.substr(unreadable.size());
    const std::size_t at = rest.find(" = ");
    if (at != std::string_view::npos)
      return Message{"cli.parse.no_number",
                     {{"option", text(rest.substr(0, at))}, {"value", short_text(rest.substr(at + 3))}}};
  }
  return std::nullopt;
}

}  // namespace

Message parser_words(const CLI::ParseError& error) {
  const std::string_view said = error.what();
  for (const auto& read : {on_arguments, on_options, on_value}) {
    if (auto message = read(said)) return *message;
  }
  return {"verbatim", {{"text", short_text(said)}}};
}

}  // namespace canewise
