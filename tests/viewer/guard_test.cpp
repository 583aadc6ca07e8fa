// Who is answered: this computer's own page, and on a network those who have the token.
#include "viewer/server/guard.h"

#include <gtest/gtest.h>

#include <set>

namespace canewise {
namespace {

const std::string kToken(64, 'a');
const GuardOptions kLoopback{kToken, 8000, false}, kLan{kToken, 8000, true};

RequestFacts reading(std::string_view host) { return {"GET", host, "", "", false, "", ""}; }
RequestFacts writing(std::string_view origin, std::string_view token) {
  return {"POST", "127.0.0.1:8000", origin, "same-origin", false, token, ""};
}
bool answered(const RequestFacts& request, const GuardOptions& options = kLoopback) {
  return !refusal_of(request, options).has_value();
}

TEST(Guard, AnswersToItsOwnAddressOnly) {
  for (const char* host : {"127.0.0.1:8000", "localhost:8000", "[::1]:8000"})
    EXPECT_TRUE(answered(reading(host))) << host;
  for (const char* host : {"", "127.0.0.1", "127.0.0.1:8001", "evil.example:8000", "127.0.0.1.evil.example:8000",
                           "localhost.evil.example:8000", "192.168.1.7:8000", "localhost:8000:8000", ":8000"})
    EXPECT_EQ(refusal_of(reading(host), kLoopback).value().status, 421) << host;
}

TEST(Guard, WritesOnlyWithTheTokenAndFromItsOwnPage) {
  EXPECT_TRUE(answered(writing("http://127.0.0.1:8000", kToken)));
  EXPECT_TRUE(answered(writing("", kToken))) << "a program without a browser sends no origin";
  EXPECT_FALSE(answered(writing("http://127.0.0.1:8000", "")));
  EXPECT_FALSE(answered(writing("http://127.0.0.1:8000", kToken.substr(1))));
  EXPECT_FALSE(answered(writing("http://evil.example", kToken)));
  EXPECT_FALSE(answered(writing("http://localhost:8000", kToken))) << "another origin, if not by much";
  EXPECT_FALSE(answered(writing("null", kToken)));
  for (const char* method : {"PUT", "DELETE", "PATCH", "OPTIONS"}) {
    RequestFacts request = writing("", "");
    request.method = method;
    EXPECT_FALSE(answered(request)) << method;
  }
}

TEST(Guard, RefusesWhatTheBrowserSaysComesFromAnotherSite) {
  RequestFacts request = reading("127.0.0.1:8000");
  request.fetch_site = "cross-site";
  EXPECT_FALSE(answered(request));
  request.follows_a_link = true;
  EXPECT_TRUE(answered(request)) << "a person who follows a link only looks";
  request.method = "POST";
  EXPECT_FALSE(answered(request)) << "a form of another site is sent like a link";
  request = reading("127.0.0.1:8000");
  for (const char* own : {"same-origin", "none"}) {
    request.fetch_site = own;
    EXPECT_TRUE(answered(request)) << own;
  }
}

TEST(Guard, OnANetworkReadingNeedsTheTokenToo) {
  RequestFacts request = reading("192.168.1.7:8000");
  EXPECT_EQ(refusal_of(request, kLan).value().status, 403);
  request.cookie_token = kToken;
  EXPECT_TRUE(answered(request, kLan));
  request.cookie_token = {};
  request.token = kToken;
  EXPECT_TRUE(answered(request, kLan));
  request.host = "reeds.example:8000";
  EXPECT_FALSE(answered(request, kLan)) << "a name may be anybody's";
  RequestFacts write{"POST", "192.168.1.7:8000", "", "", false, "", kToken};
  EXPECT_FALSE(answered(write, kLan)) << "a cookie goes along with what others send; writing asks for the header";
}

TEST(Guard, TokensAreLongAndNewEachTime) {
  std::set<std::string> tokens;
  for (int k = 0; k < 100; ++k) tokens.insert(new_token());
  EXPECT_EQ(tokens.size(), 100U);
  for (const auto& token : tokens) EXPECT_EQ(token.size(), 64U);
  EXPECT_FALSE(same_secret("", ""));
}

}  // namespace
}  // namespace canewise
