#pragma once

#include <optional>
#include <string>

namespace canewise {

// Days and moments of the ledger as ISO 8601 writes them; moments in UTC, to the second.

[[nodiscard]] bool is_day(const std::string& text);
[[nodiscard]] bool is_moment(const std::string& text);
/// The day of a moment.
[[nodiscard]] std::string day_of(const std::string& moment);
/// From one day to another; negative if that was earlier. Both must be days.
[[nodiscard]] long days_passed(const std::string& from, const std::string& to);
[[nodiscard]] std::string day_after(const std::string& day, long days);

}  // namespace canewise
