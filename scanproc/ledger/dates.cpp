#include "scanproc/ledger/dates.h"

#include <array>
#include <charconv>
#include <chrono>
#include <cstdio>
#include <stdexcept>

namespace canewise {
namespace {

constexpr std::size_t kDayLetters = 10, kMomentLetters = 20;

/// Digits alone, all of them.
std::optional<int> digits_at(const std::string& text, std::size_t at, std::size_t count) {
  int value = 0;
  for (std::size_t k = at; k < at + count; ++k) {
    if (k >= text.size() || text[k] < '0' || text[k] > '9') return std::nullopt;
    value = 10 * value + (text[k] - '0');
  }
  return value;
}

std::optional<std::chrono::year_month_day> date_of(const std::string& text) {
  const auto year = digits_at(text, 0, 4), month = digits_at(text, 5, 2), day = digits_at(text, 8, 2);
  if (!year || !month || !day || text[4] != '-' || text[7] != '-') return std::nullopt;
  const std::chrono::year_month_day date{std::chrono::year(*year), std::chrono::month(static_cast<unsigned>(*month)),
                                         std::chrono::day(static_cast<unsigned>(*day))};
  return date.ok() && *year >= 1900 ? std::optional(date) : std::nullopt;
}

std::chrono::sys_days days_of(const std::string& day) {
  const auto date = date_of(day);
  if (!date) throw std::invalid_argument("no day");
  return std::chrono::sys_days(*date);
}

}  // namespace

bool is_day(const std::string& text) { return text.size() == kDayLetters && date_of(text).has_value(); }

bool is_moment(const std::string& text) {
  if (text.size() != kMomentLetters || !date_of(text) || text[10] != 'T' || text[13] != ':' || text[16] != ':' ||
      text[19] != 'Z')
    return false;
  const auto hour = digits_at(text, 11, 2), minute = digits_at(text, 14, 2), second = digits_at(text, 17, 2);
  return hour && minute && second && *hour < 24 && *minute < 60 && *second <= 60;
}

std::string day_of(const std::string& moment) { return moment.substr(0, kDayLetters); }

long days_passed(const std::string& from, const std::string& to) { return (days_of(to) - days_of(from)).count(); }

std::string day_after(const std::string& day, long days) {
  const std::chrono::year_month_day date(days_of(day) + std::chrono::days(days));
  std::array<char, 32> text{};
  std::snprintf(text.data(), text.size(), "%04d-%02u-%02u", static_cast<int>(date.year()),
                static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()));
  return text.data();
}

}  // namespace canewise
