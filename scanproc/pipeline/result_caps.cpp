#include "scanproc/pipeline/result_caps.h"

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>
#include <string>

#include "scanproc/bytes/number_text.h"
#include "scanproc/bytes/text_bounds.h"
#include "scanproc/pipeline/check_result.h"

namespace canewise {
namespace {

using nlohmann::json;

struct Cap {
  const char* key;
  std::size_t most;
};
constexpr std::array kCaps{Cap{"scans", kResultCaps.scans},
                           Cap{"steps", kResultCaps.steps},
                           Cap{"polygon", kResultCaps.step_corners},
                           Cap{"faults", kResultCaps.faults},
                           Cap{"modes", kResultCaps.modes},
                           Cap{"budgets", kResultCaps.budget_lines},
                           Cap{"lines", kResultCaps.budget_lines},
                           Cap{"headline", kResultCaps.messages},
                           Cap{"certainty", kResultCaps.messages},
                           Cap{"notes", kResultCaps.messages},
                           Cap{"sentence", kResultCaps.messages},
                           Cap{"remarks", kResultCaps.messages},
                           Cap{"alternatives", kResultCaps.messages},
                           Cap{"cautions", kResultCaps.messages},
                           Cap{"options", kResultCaps.messages},
                           Cap{"known_reeds", kResultCaps.messages},
                           Cap{"hand_learned_from", kResultCaps.messages},
                           Cap{"cell_indices", kResultCaps.cells}};

void refuse(const std::string& key, std::size_t most) {
  throw Impossible{{"result.too_many", {{"key", excerpt(key)}, {"most", digits(most)}}}};
}

std::size_t most_of(const std::string& key) {
  const auto cap = std::find_if(kCaps.begin(), kCaps.end(), [&](const Cap& c) { return key == c.key; });
  return cap == kCaps.end() ? kResultCaps.entries : cap->most;
}

/// Of a list of lists, a field: rows and cells.
void check_field(const std::string& key, const json& rows) {
  std::size_t cells = 0;
  for (const json& row : rows) cells += row.is_array() ? row.size() : 0;
  if (cells > kResultCaps.cells) refuse(key, kResultCaps.cells);
}

void check_lists(const std::string& key, const json& value) {
  if (value.is_array()) {
    if (value.size() > most_of(key)) refuse(key, most_of(key));
    check_field(key, value);
    for (const json& entry : value) {
      if (entry.is_array() && entry.size() > kResultCaps.entries) refuse(key, kResultCaps.entries);
      // A field holds numbers, which need no look.
      if (entry.is_object()) check_lists(key, entry);
    }
  } else if (value.is_object()) {
    if (value.size() > kResultCaps.messages) refuse(key, kResultCaps.messages);
    for (const auto& [name, inner] : value.items()) check_lists(name, inner);
  }
}

}  // namespace

void check_text(std::string_view text) {
  const TextParts parts = parts_of(text);
  const auto at_most = [](std::uint64_t count, std::uint64_t most, std::string_view what) {
    if (count > most) throw Impossible{{"result.too_many_parts", {{"what", word(what)}, {"most", digits(most)}}}};
  };
  at_most(parts.containers, kResultCaps.lists, "lists");
  at_most(parts.keys, kResultCaps.keys, "keys");
  at_most(parts.values, kResultCaps.values, "values");
  // A small file gets less: to refuse it later must take little memory, too.
  constexpr std::uint64_t spare = 48U << 20U, sizes = 3, value_bytes = 24;
  const std::uint64_t room = spare + sizes * text.size();
  if (parts.document_bytes() > room)
    throw Impossible{{"result.too_many_parts", {{"what", word("values")}, {"most", digits(room / value_bytes)}}}};
}

void check_lengths(const json& document) { check_lists("", document); }

}  // namespace canewise
