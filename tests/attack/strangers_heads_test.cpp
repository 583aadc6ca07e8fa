// Heads that never end, or are none: what a stranger may send before the server knows what is wanted.
#include <gtest/gtest.h>

#include "tests/attack/support/crowd.h"

namespace canewise::attack {
namespace {

constexpr CrowdOptions kUntilTheHeadIsDue{.patience = Milliseconds(12000)};  ///< Ten seconds and a little.

TEST(StrangersHeads, EndlessHeaderLines) {
  const Served served;
  expect_harmless(served,
                  {"endless header lines", "GET / HTTP/1.1\r\nHost: " + served.host() + "\r\n",
                   "X-Padding: 0123456789abcdef0123456789abcdef\r\n"},
                  refuses, kUntilTheHeadIsDue);
}

TEST(StrangersHeads, OneEndlessHeaderLine) {
  const Served served;
  expect_harmless(served, {"one endless header line", "GET / HTTP/1.1\r\nX-Padding: ", std::string(4096, 'a')}, refuses,
                  kUntilTheHeadIsDue);
}

TEST(StrangersHeads, AnEndlessTarget) {
  const Served served;
  expect_harmless(served, {"endless target", "GET /", std::string(4096, 'a')}, refuses, kUntilTheHeadIsDue);
}

TEST(StrangersHeads, WholeOnesOfManySmallParts) {
  // Kept apart, each part takes many times its bytes.
  const Served served;
  std::string parameters = "GET /?a", headers = "GET / HTTP/1.1\r\nHost: " + served.host() + "\r\n";
  while (parameters.size() < 16000) parameters += "&a";
  while (headers.size() < 16000) headers += "a:\r\n";
  parameters += " HTTP/1.1\r\nHost: " + served.host() + "\r\n\r\n";
  expect_harmless(served, {"heads of many parameters", parameters}, refuses);
  expect_harmless(served, {"heads of many headers", headers + "\r\n"}, refuses);
  // The most that is kept.
  std::string most = "GET / HTTP/1.1\r\nHost: " + served.host() + "\r\n";
  for (int k = 0; k < 60; ++k) most += "X-" + std::to_string(k) + ": " + std::string(250, 'a') + "\r\n";
  expect_harmless(served, {"heads as large as they may be", most + "\r\n"}, refuses);
}

TEST(StrangersHeads, ASixteenKilobyteHeadIsTheLongest) {
  const Served served;
  const auto with_head_of = [&](std::size_t bytes) {
    const std::string bare = served.reads("/", "X-Padding: \r\n");
    return ask(served.port, served.reads("/", "X-Padding: " + std::string(bytes - bare.size(), 'a') + "\r\n"));
  };
  constexpr std::size_t most = 16384;
  EXPECT_EQ(with_head_of(most - 512).status, 200) << "of a known reader";
  const Answer too_long = with_head_of(most + 512);
  EXPECT_TRUE(too_long.status == 431 || too_long.status == 400) << too_long.status;
}

TEST(StrangersHeads, OtherProtocols) {
  const Served served;
  const std::string hello("\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03", 11);
  CrowdOptions options = kUntilTheHeadIsDue;
  options.at_least = Milliseconds(1000);
  const std::string own = "Host: " + served.host() + "\r\n";
  const Script scripts[]{
      {.name = "HTTP/0.9", .first = "GET /\r\n", .finish = true},
      {.name = "HTTP/1.0", .first = "GET / HTTP/1.0\r\n" + own + "\r\n"},
      {.name = "HTTP/1.0 kept alive", .first = "GET / HTTP/1.0\r\n" + own + "Connection: keep-alive\r\n\r\n"},
      {.name = "HTTP/2", .first = "PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n" + std::string(24, '\0')},
      {.name = "upgrade to h2c", .first = "GET / HTTP/1.1\r\n" + own + "Connection: Upgrade\r\nUpgrade: h2c\r\n\r\n"},
      {.name = "TLS", .first = hello + std::string(512, '\x5a'), .finish = true},
      {.name = "endless TLS", .first = hello, .again = std::string(4096, '\x5a')},
      {.name = "endless NUL", .first = std::string(1, '\0'), .again = std::string(4096, '\0')},
  };
  for (const Script& script : scripts) expect_harmless(served, script, refuses, options);
}

TEST(StrangersHeadsAtLength, Silent) {
  const Served served;
  expect_harmless(served, {.name = "silent", .first = ""}, refuses, kUntilTheHeadIsDue);
}

TEST(StrangersHeadsAtLength, OneByteEveryHalfSecond) {
  const Served served;
  const std::string line = "GET / HTTP/1.1\r\nX-Padding: ";
  expect_harmless(served, {"a byte every 0.5 s", "G", "E", Milliseconds(500)}, refuses, kUntilTheHeadIsDue);
  expect_harmless(served, {"a byte every 0.5 s of a header", line, "a", Milliseconds(500)}, refuses,
                  kUntilTheHeadIsDue);
  expect_harmless(served, {"a header line every 0.5 s", line + "a\r\n", "X-More: a\r\n", Milliseconds(500)}, refuses,
                  kUntilTheHeadIsDue);
}

TEST(StrangersHeadsAtLength, AHeadThatLacksItsLastByte) {
  const Served served;
  std::string head = request("GET", "/", served.host());
  head.pop_back();
  expect_harmless(served, {.name = "head without its last byte", .first = head}, refuses, kUntilTheHeadIsDue);
}

TEST(StrangersHeadsAtLength, ManyHundredsOneAfterTheOther) {
  const Served served;
  CrowdOptions options = kUntilTheHeadIsDue;
  options.connections = 400;  // More than the server holds at once.
  expect_harmless(served, {.name = "silent, more than it holds", .first = ""}, refuses, options);
}

}  // namespace
}  // namespace canewise::attack
