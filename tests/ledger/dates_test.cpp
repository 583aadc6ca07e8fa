#include "scanproc/ledger/dates.h"

#include <gtest/gtest.h>

namespace canewise {
namespace {

TEST(Dates, DaysAreThoseOfTheCalendar) {
  EXPECT_TRUE(is_day("2026-12-01"));
  EXPECT_TRUE(is_day("2024-02-29"));
  for (const char* no :
       {"2026-02-29", "2026-13-01", "2026-12-1", "2026-12-01 ", "01.12.2026", "", "2026/12/01", "1899-12-31"})
    EXPECT_FALSE(is_day(no)) << no;
}

TEST(Dates, MomentsAreInUtcToTheSecond) {
  EXPECT_TRUE(is_moment("2026-12-01T18:30:05Z"));
  for (const char* no : {"2026-12-01T18:30:05", "2026-12-01T24:00:00Z", "2026-12-01T18:60:00Z", "2026-12-01 18:30:05Z",
                         "2026-12-01T18:30:05+01:00", "2026-12-01"})
    EXPECT_FALSE(is_moment(no)) << no;
  EXPECT_EQ(day_of("2026-12-01T18:30:05Z"), "2026-12-01");
}

TEST(Dates, DaysPassAcrossMonthsAndLeapYears) {
  EXPECT_EQ(days_passed("2024-02-28", "2024-03-01"), 2);
  EXPECT_EQ(days_passed("2026-12-31", "2027-01-01"), 1);
  EXPECT_EQ(days_passed("2026-12-10", "2026-12-01"), -9);
  EXPECT_EQ(day_after("2026-12-31", 1), "2027-01-01");
  EXPECT_EQ(day_after("2024-03-01", -1), "2024-02-29");
}

}  // namespace
}  // namespace canewise
