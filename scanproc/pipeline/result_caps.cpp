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
  constexpr std::uint64_t spare = 48ULL << 20U, sizes = 3, most_containers = 500'000, most_keys = 500'000;
  const TextParts parts = parts_of(text);
  if (parts.containers > most_containers)
    throw Impossible{{"result.too_many_parts", {{"what", word("lists")}, {"most", digits(most_containers)}}}};
  if (parts.keys > most_keys)
    throw Impossible{{"result.too_many_parts", {{"what", word("keys")}, {"most", digits(most_keys)}}}};
  const std::uint64_t most_values = (spare + sizes * text.size()) / 24;
  if (parts.values > most_values)
    throw Impossible{{"result.too_many_parts", {{"what", word("values")}, {"most", digits(most_values)}}}};
}

void check_lengths(const json& document) { check_lists("", document); }

}  // namespace canewise
