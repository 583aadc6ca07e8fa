// Who is answered: this computer's own page, and on a network those who have the token.
#include "viewer/server/guard.h"

#include <gtest/gtest.h>

#include <set>

namespace canewise {
namespace {

const Secrets kSecrets{std::string(64, 'a'), std::string(64, 'b')};
const GuardOptions kLoopback{kSecrets, 8000, false}, kLan{kSecrets, 8000, true};
const std::string kCookie = "canewise-8000=" + kSecrets.reading;

RequestFacts reading(std::string_view host) { return {"GET", host, "", "", false, "", "", kCookie}; }
RequestFacts writing(std::string_view origin, std::string_view token) {
  return {"POST", "127.0.0.1:8000", origin, "same-origin", false, token, "", kCookie};
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

TEST(Guard, ABrowserLeavesPort80Out) {
  GuardOptions usual = kLoopback;
  usual.port = 80;
  RequestFacts request = reading("localhost");
  const std::string cookie = "canewise-80=" + kSecrets.reading;
  request.cookies = cookie;
  for (const char* host : {"localhost", "127.0.0.1", "[::1]", "localhost:80"}) {
    request.host = host;
    EXPECT_TRUE(answered(request, usual)) << host;
  }
  for (const char* host : {"evil.example", "localhost:8080", "192.168.1.7", ""}) {
    request.host = host;
    EXPECT_FALSE(answered(request, usual)) << host;
  }
}

TEST(Guard, WritesOnlyWithTheTokenAndFromItsOwnPage) {
  EXPECT_TRUE(answered(writing("http://127.0.0.1:8000", kSecrets.writing)));
  EXPECT_TRUE(answered(writing("", kSecrets.writing))) << "a program without a browser sends no origin";
  EXPECT_FALSE(answered(writing("http://127.0.0.1:8000", "")));
  EXPECT_FALSE(answered(writing("http://127.0.0.1:8000", kSecrets.writing.substr(1))));
  EXPECT_FALSE(answered(writing("http://evil.example", kSecrets.writing)));
  EXPECT_FALSE(answered(writing("http://localhost:8000", kSecrets.writing))) << "another origin, if not by much";
  EXPECT_FALSE(answered(writing("null", kSecrets.writing)));
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
  request.fetch_site = "same-site";
  EXPECT_FALSE(answered(request)) << "a neighbour is another site";
  for (const char* own : {"same-origin", "none"}) {
    request.fetch_site = own;
    EXPECT_TRUE(answered(request)) << own;
  }
}

TEST(Guard, ReadingNeedsTheReadingSecretOnThisComputerToo) {
  for (const GuardOptions& options : {kLoopback, kLan}) {
    RequestFacts request = reading("127.0.0.1:8000");
    request.cookies = "";
    EXPECT_EQ(refusal_of(request, options).value().status, 403);
    request.address_token = kSecrets.reading;
    EXPECT_TRUE(answered(request, options));
    request.address_token = kSecrets.writing;
    EXPECT_FALSE(answered(request, options)) << "each secret does what it is for";
    request.address_token = "";
    request.header_token = kSecrets.writing;
    EXPECT_TRUE(answered(request, options)) << "who may write may look";
    request.header_token = kSecrets.reading;
    EXPECT_FALSE(answered(request, options));
  }
}

TEST(Guard, WhoReadsDoesNotWriteByThat) {
  for (const GuardOptions& options : {kLoopback, kLan}) {
    EXPECT_FALSE(answered(writing("", ""), options)) << "a cookie goes along with what others send";
    EXPECT_FALSE(answered(writing("", kSecrets.reading), options));
    RequestFacts by_address = writing("", "");
    by_address.address_token = kSecrets.writing;
    EXPECT_FALSE(answered(by_address, options));
  }
}

TEST(Guard, OnANetworkAnyAddressIsItsOwnButNoName) {
  EXPECT_TRUE(answered(reading("192.168.1.7:8000"), kLan));
  EXPECT_FALSE(answered(reading("192.168.1.7:8000"), kLoopback));
  EXPECT_FALSE(answered(reading("reeds.example:8000"), kLan)) << "a name may be anybody's";
}

TEST(Guard, ACookieIsKnownByItsWholeNameAndItsWholeSecret) {
  const std::string secret(64, 'a');
  const auto holds = [&](const std::string& cookies) { return cookie_holds(cookies, "canewise-8000", secret); };
  EXPECT_TRUE(holds("canewise-8000=" + secret));
  EXPECT_TRUE(holds("other=1;  canewise-8000=" + secret + "; more=2"));
  // Another program of this computer may have set one of that name for some path of its own.
  EXPECT_TRUE(holds("canewise-8000=old; canewise-8000=" + secret));
  for (const std::string& no :
       {std::string(), std::string("canewise-8000"), std::string("canewise-8000="), "canewise-8001=" + secret,
        "canewise-80000=" + secret, "xcanewise-8000=" + secret, "canewise-8000=" + secret.substr(1),
        "canewise-8000=" + secret + "a", "canewise-8000 =" + secret, "CANEWISE-8000=" + secret, secret})
    EXPECT_FALSE(holds(no)) << no;
  EXPECT_FALSE(cookie_holds("canewise-8000=", "canewise-8000", "")) << "no secret lets nobody in";
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
