// Heads on whose length two readers could disagree, and requests hidden behind others.
#include <gtest/gtest.h>

#include "tests/attack/support/crowd.h"
#include "tests/attack/support/tally.h"
#include "tests/attack/support/watches.h"

namespace canewise::attack {
namespace {

const std::string kHidden = "GET /api/results HTTP/1.1\r\nHost: x\r\n\r\n";

struct Smuggler {
  std::string what;
  std::string more;  ///< Lines of the head.
};

std::vector<Smuggler> smugglers() {
  using namespace std::string_literals;
  std::vector<Smuggler> all{
      {"CL and TE", "Content-Length: 5\r\nTransfer-Encoding: chunked\r\n"},
      {"CL and unknown TE", "Content-Length: 5\r\nTransfer-Encoding: xchunked\r\n"},
      {"CL and TE identity", "Content-Length: 5\r\nTransfer-Encoding: identity\r\n"},
      {"CL and folded TE", "Content-Length: 5\r\nTransfer-Encoding:\r\n chunked\r\n"},
      {"folded CL", "Content-Length: 5\r\n Transfer-Encoding: chunked\r\n"},
      {"CL and TE with a tab", "Content-Length: 5\r\nTransfer-Encoding:\tchunked\r\n"},
      {"CL and TE with a space before the colon", "Content-Length: 5\r\nTransfer-Encoding : chunked\r\n"},
      {"CL and TE with a vertical tab", "Content-Length: 5\r\nTransfer-Encoding: \vchunked\r\n"},
      {"TE twice", "Transfer-Encoding: chunked\r\nTransfer-Encoding: identity\r\n"},
      {"TE in a list", "Transfer-Encoding: chunked, identity\r\n"},
      {"two CL", "Content-Length: 5\r\nContent-Length: 6\r\n"},
      {"two CL alike", "Content-Length: 5\r\nContent-Length: 5\r\n"},
      {"space before the colon", "Content-Length : 5\r\n"},
      {"NUL in a name", "X-A\0B: a\r\nContent-Length: 5\r\n"s},
      {"NUL in a value", "X-A: a\0b\r\nContent-Length: 5\r\n"s},
      {"bare CR in a value", "X-A: a\rContent-Length: 6\r\nContent-Length: 5\r\n"},
      {"bare LF in a value", "X-A: a\nContent-Length: 6\r\nContent-Length: 5\r\n"},
      {"no colon", "Content-Length\r\nContent-Length: 5\r\n"},
      {"no name", ": a\r\nContent-Length: 5\r\n"},
      {"a name of two words", "X A: a\r\nContent-Length: 5\r\n"},
      {"a name with a bracket", "X(A): a\r\nContent-Length: 5\r\n"},
  };
  for (const char* length : {"+5", "-5", "5 5", "5,5", "5, 5", "5,6", "0x5", "5.0", "5e0", "", "five", "5;", "\"5\"",
                             "18446744073709551616", "18446744073709551621", "99999999999999999999999999", "- 5", "5a"})
    all.push_back({std::string("CL '") + length + "'", std::string("Content-Length: ") + length + "\r\n"});
  return all;
}

TEST(Smuggling, LengthsThatCanBeReadTwoWaysAreRefused) {
  const Served served;
  const DiskWatch disk(served.folder());
  Tally tally("lengths that can be read two ways");
  for (const Smuggler& each : smugglers()) {
    const std::string head = served.writes_head("POST", "/api/scans?name=a.ply", each.more);
    const Answer answer = ask(served.port, head + "0\r\n\r\n" + kHidden);
    tally.add(answer);
    EXPECT_TRUE(answer.closed) << each.what;
    EXPECT_TRUE(answer.status == 0 || refuses(answer.status)) << each.what << ": " << answer.status;
    EXPECT_LE(answer.answers, 1) << each.what;
    if (answer.status > 0) {
      EXPECT_EQ(answer.header("Connection"), "close") << each.what;
    }
  }
  EXPECT_TRUE(disk.names().empty()) << "reached the disk: " << testing::PrintToString(disk.names());
}

TEST(Smuggling, LinesThatEndOtherwiseAreRefused) {
  const Served served;
  Tally tally("line ends");
  for (const auto& [from, to] : {std::pair("\r\n", "\n"), std::pair("\r\n", "\r"), std::pair("\r\n", "\n\r"),
                                 std::pair("\r\n", "\r\r\n"), std::pair("\r\n", "\v\r\n")}) {
    std::string head = served.reads("/");
    for (std::size_t at = head.find(from); at != std::string::npos; at = head.find(from, at + std::string(to).size()))
      head.replace(at, 2, to);
    const Answer answer = ask_and_finish(served.port, head);
    tally.add(answer);
    EXPECT_TRUE(answer.closed) << testing::PrintToString(to);
    EXPECT_TRUE(answer.status == 0 || refuses(answer.status)) << testing::PrintToString(to) << ": " << answer.status;
  }
}

TEST(Smuggling, RequestLinesThatAreNoneAreRefused) {
  using namespace std::string_literals;
  const Served served;
  Tally tally("request lines");
  const std::string rest = "\r\nHost: " + served.host() + "\r\nCookie: " + served.cookie() + "\r\n\r\n";
  for (const std::string& line : {"GET  / HTTP/1.1"s,
                                  "GET\t/\tHTTP/1.1"s,
                                  "GET / HTTP/1.1 "s,
                                  " GET / HTTP/1.1"s,
                                  "get / HTTP/1.1"s,
                                  "GET / HTTP/1.11"s,
                                  "GET / HTTP/9.9"s,
                                  "GET / HTTP/2"s,
                                  "GET / http/1.1"s,
                                  "GET / HTTP/1.1\0"s,
                                  "GET /\0 HTTP/1.1"s,
                                  "GET * HTTP/1.1"s,
                                  "GET HTTP/1.1"s,
                                  "GET http://elsewhere.example/ HTTP/1.1"s,
                                  "CONNECT elsewhere.example:80 HTTP/1.1"s,
                                  "TRACE / HTTP/1.1"s,
                                  "OPTIONS * HTTP/1.1"s,
                                  "PUT / HTTP/1.1"s,
                                  "PROPFIND / HTTP/1.1"s,
                                  "G@T / HTTP/1.1"s,
                                  "/ GET HTTP/1.1"s,
                                  "GET /\r HTTP/1.1"s,
                                  "GET / HTTP/1.1\r\n X-A: folded"s + "\rb"}) {
    const Answer answer = ask_and_finish(served.port, line + rest);
    tally.add(answer);
    EXPECT_TRUE(answer.closed) << testing::PrintToString(line);
    EXPECT_TRUE(answer.status == 0 || refuses(answer.status)) << testing::PrintToString(line) << ": " << answer.status;
    EXPECT_LE(answer.answers, 1) << testing::PrintToString(line);
  }
}

TEST(Smuggling, WhatFollowsOnAConnectionIsNoRequest) {
  const Served served;
  Tally tally("a second request behind the first");
  const std::string second = served.reads("/api/results");
  const auto post = [&](const std::string& more) {
    return request("POST", "/api/scans?name=a.ply", served.host(), more);
  };
  const std::string length = "Content-Length: " + std::to_string(second.size()) + "\r\n";
  const std::pair<const char*, std::string> cases[]{
      {"a page", served.reads("/") + second},
      {"a page, kept alive", served.reads("/", "Connection: keep-alive\r\n") + second},
      {"a page with a body", served.reads("/", length) + second + second},
      {"a page that is not there", served.reads("/nothing") + second},
      {"a stranger's page", request("GET", "/", served.host()) + second},
      {"another host's page", request("GET", "/", "elsewhere.example") + second},
      {"a stranger's post", post(length) + second},
      {"a stranger's post of nothing", post("Content-Length: 0\r\n") + second},
      {"a stranger's chunks", post("Transfer-Encoding: chunked\r\n") + "0\r\n\r\n" + second},
      {"a stranger's lengthless post", post("") + second},
      {"a known writer's empty scan", served.writes("/api/scans?name=a.ply", 0) + second},
      {"a known writer's scan", served.writes("/api/scans?name=a.ply", 5) + "12345" + second},
      {"a delete", served.writes_head("DELETE", "/api/jobs/" + std::string(64, '0'), "") + second},
      {"a head", request("HEAD", "/", served.host(), "Cookie: " + served.cookie() + "\r\n") + second},
      {"what is no request", "\r\n\r\nnothing\r\n\r\n" + second},
  };
  for (const auto& [what, bytes] : cases) {
    const Answer answer = ask(served.port, bytes);
    tally.add(answer);
    EXPECT_TRUE(answer.closed) << what;
    EXPECT_LE(answer.answers, 1) << what;
    EXPECT_EQ((answer.head + answer.body).find("\"results\""), std::string::npos) << what;
    if (answer.status > 0) {
      EXPECT_EQ(answer.header("Connection"), "close") << what;
    }
  }
}

}  // namespace
}  // namespace canewise::attack
