#pragma once

#include <cstddef>
#include <cstdint>
#include <nlohmann/json_fwd.hpp>
#include <string_view>

namespace canewise {

/// What a result's file may hold: well above what the largest instrument gives at the finest cell, and little enough
/// that a file that strangers made is read in bounded memory and compared in bounded time.
struct ResultCaps {
  std::uint64_t file_mib = 48;  ///< The largest real one, a baritone from both sides at 0.05 mm, has about 26.
  int nesting = 32;             ///< Of lists and tables.
  double least_cell_mm = 0.04;
  std::size_t lists = 100'000, keys = 100'000;
  std::size_t values = 7'000'000;  ///< All numbers; that one has 5 million.
  std::size_t cells = 1'000'000;   ///< Of the map: a baritone's at 0.05 mm has 710,000.
  std::size_t scans = 64;
  std::size_t steps = 100;          ///< Of a plan.
  std::size_t step_corners = 1000;  ///< Of one step.
  std::size_t plan_corners = 5000;  ///< Of all steps.
  double corners_by_cells = 1e9;    ///< Those times the cells along their step: a comparison looks at each pair.
  std::size_t faults = 1000;
  std::size_t modes = 32;
  std::size_t budget_lines = 200;  ///< Of a budget; as many budgets.
  std::size_t messages = 1000;     ///< Of one kind: notes, remarks, the headline's.
  std::size_t entries = 20000;     ///< Of any other list that is no field.
};
inline constexpr ResultCaps kResultCaps;

/// Throws Impossible where the text, before it is made a document, says more than any result does.
void check_text(std::string_view text);
/// The same for the lengths of a document's lists, before any is made a value.
void check_lengths(const nlohmann::json& document);

}  // namespace canewise
