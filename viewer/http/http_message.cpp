#include "viewer/http/http_message.h"

#include <algorithm>

namespace canewise {
namespace {

using Pairs = std::vector<std::pair<std::string, std::string>>;

std::string_view only_value(const Pairs& pairs, std::string_view name) {
  const auto is_named = [&](const auto& pair) { return pair.first == name; };
  const auto first = std::find_if(pairs.begin(), pairs.end(), is_named);
  if (first == pairs.end() || std::find_if(first + 1, pairs.end(), is_named) != pairs.end()) return {};
  return first->second;
}

bool has(const Pairs& pairs, std::string_view name) {
  return std::any_of(pairs.begin(), pairs.end(), [&](const auto& pair) { return pair.first == name; });
}

}  // namespace

std::string_view HttpRequest::header(std::string_view lower_case_name) const {
  return only_value(headers, lower_case_name);
}
std::string_view HttpRequest::parameter(std::string_view name) const { return only_value(query, name); }
bool HttpRequest::has_header(std::string_view lower_case_name) const { return has(headers, lower_case_name); }
bool HttpRequest::has_parameter(std::string_view name) const { return has(query, name); }

}  // namespace canewise
