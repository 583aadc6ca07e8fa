#include "scanproc/core/utc.h"

#include <gtest/gtest.h>

#include <cstdlib>
#include <ctime>
#include <optional>
#include <string>

namespace canewise {
namespace {

/// Another time zone for a while: where the machine's own is UTC, local time would pass for it.
class InZone {
 public:
  explicit InZone(const char* zone) {
    if (const char* was = std::getenv("TZ")) was_ = was;
    ::setenv("TZ", zone, 1);
    ::tzset();
  }
  ~InZone() {
    if (was_) {
      ::setenv("TZ", was_->c_str(), 1);
    } else {
      ::unsetenv("TZ");
    }
    ::tzset();
  }
  InZone(const InZone&) = delete;
  InZone& operator=(const InZone&) = delete;

 private:
  std::optional<std::string> was_;
};

TEST(Utc, TheMomentIsWrittenInUniversalTimeWhereverOneIs) {
  const InZone far_away("XYZ+11:30");
  const std::time_t before = std::time(nullptr);
  const std::string now = now_utc();
  const std::time_t after = std::time(nullptr);
  std::tm read{};
  const char* end = ::strptime(now.c_str(), "%Y-%m-%dT%H:%M:%SZ", &read);
  ASSERT_NE(end, nullptr) << now;
  EXPECT_EQ(*end, '\0') << now;
  EXPECT_EQ(now.size(), 20U) << "2026-11-25T10:00:00Z";
  // time() may stand a tick behind the finer clock.
  EXPECT_GE(::timegm(&read), before - 1) << now;
  EXPECT_LE(::timegm(&read), after + 1) << now;
}

}  // namespace
}  // namespace canewise
