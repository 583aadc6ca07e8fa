// Pages of others that a browser on this computer shows: names that lead here, and requests from other origins.
#include <gtest/gtest.h>

#include "tests/attack/support/crowd.h"
#include "tests/attack/support/tally.h"

namespace canewise::attack {
namespace {

std::vector<std::string> hosts_that_are_not_ours(int port) {
  const std::string at = ":" + std::to_string(port);
  std::vector<std::string> all;
  for (const char* name : {"elsewhere.example",
                           "127.0.0.1.elsewhere.example",
                           "localhost.elsewhere.example",
                           "7f000001.elsewhere.example",
                           "2130706433",
                           "0x7f000001",
                           "017700000001",
                           "0177.0.0.1",
                           "0x7f.0.0.1",
                           "127.1",
                           "127.0.1",
                           "0.0.0.0",
                           "0",
                           "[::]",
                           "[::ffff:127.0.0.1]",
                           "[0:0:0:0:0:ffff:7f00:1]",
                           "::1",
                           "[::1%25lo]",
                           "127.0.0.1@elsewhere.example",
                           "user@127.0.0.1",
                           "127.0.0.1:80",
                           "127.0.0.1,elsewhere.example",
                           "127.0.0.1 elsewhere.example",
                           "127.0.0.1/",
                           "http://127.0.0.1",
                           "localhost.localdomain",
                           "ip6-localhost",
                           "127.0.0.1%00",
                           "127.0.0.2",
                           "127.255.255.254",
                           "*",
                           ""})
    all.push_back(name + at);
  for (const std::string& whole :
       {std::string(), std::string("127.0.0.1"), std::string("localhost"), "127.0.0.1:" + std::to_string(port + 1),
        "127.0.0.1:0" + std::to_string(port), "127.0.0.1" + at + at, "127.0.0.1" + at + "x",
        "127.0.0.1:+" + std::to_string(port), std::string("127.0.0.1:"), std::string("127.0.0.1:80"),
        "127.0.0.1" + at + ", elsewhere.example"})
    all.push_back(whole);
  return all;
}

TEST(Hosts, ThatAreNotThisComputerGetNothing) {
  const Served served;
  Tally tally("hosts that are not ours");
  const std::string cookie = "Cookie: " + served.cookie() + "\r\n";
  for (const std::string& host : hosts_that_are_not_ours(served.port)) {
    const Answer answer = ask(served.port, request("GET", "/", host, cookie));
    tally.add(answer);
    EXPECT_TRUE(answer.status == 421 || answer.status == 400) << '\'' << host << "': " << answer.status;
    EXPECT_EQ(answer.body.find("data-token"), std::string::npos) << host;
  }
  const Answer rebound =
      ask(served.port, request("GET", "/", "elsewhere.example:" + std::to_string(served.port), cookie));
  EXPECT_EQ(rebound.status, 421);
}

TEST(Hosts, NoneAndTwoAreRefused) {
  const Served served;
  const std::string own = "Host: " + served.host() + "\r\n", other = "Host: elsewhere.example\r\n";
  const std::string rest = "Cookie: " + served.cookie() + "\r\n\r\n";
  for (const std::string& hosts :
       {std::string(), own + other, other + own, own + own, "Host : " + served.host() + "\r\n"}) {
    const Answer answer = ask(served.port, "GET / HTTP/1.1\r\n" + hosts + rest);
    EXPECT_TRUE(answer.status == 421 || answer.status == 400) << hosts << answer.status;
  }
}

TEST(Hosts, OfThisComputerAreAnswered) {
  const Served served;
  for (const char* name : {"127.0.0.1", "localhost", "[::1]"}) {
    const std::string host = name + (":" + std::to_string(served.port));
    EXPECT_EQ(ask(served.port, request("GET", "/", host, "Cookie: " + served.cookie() + "\r\n")).status, 200) << host;
    EXPECT_EQ(ask(served.port, request("GET", "/", host)).status, 403) << host;
  }
}

TEST(Origins, OfOthersWriteNothing) {
  const Served served;
  Tally tally("origins and sites of others");
  const std::string known =
      "Cookie: " + served.cookie() + "\r\nX-Canewise-Token: " + served.writing + "\r\nContent-Length: 0\r\n";
  const std::string at = ":" + std::to_string(served.port);
  const auto post = [&](const std::string& more) {
    return ask(served.port, request("POST", "/api/scans?name=a.ply", served.host(), known + more));
  };
  for (const std::string& origin :
       {std::string("null"), std::string("http://elsewhere.example"), "http://elsewhere.example" + at,
        "https://" + served.host(), std::string("http://127.0.0.1"), "http://localhost" + at,
        "http://127.0.0.1" + at + "0", "http://127.0.0.1" + at + ".elsewhere.example", "http://" + served.host() + "/",
        "http://" + served.host() + " http://elsewhere.example", "file://" + served.host(), served.host()}) {
    for (const char* site : {"", "Sec-Fetch-Site: same-origin\r\n", "Sec-Fetch-Site: none\r\n"}) {
      const Answer answer = post("Origin: " + origin + "\r\n" + site);
      tally.add(answer);
      EXPECT_EQ(answer.status, 403) << origin << ' ' << site;
    }
  }
  for (const char* site : {"cross-site", "same-site", "elsewhere"}) {
    for (const std::string& origin : {std::string(), "Origin: http://" + served.host() + "\r\n"}) {
      const Answer answer = post(origin + "Sec-Fetch-Site: " + site + "\r\n");
      tally.add(answer);
      EXPECT_EQ(answer.status, 403) << site << ' ' << origin;
    }
  }
  for (const char* site : {"", "Sec-Fetch-Site: same-origin\r\n"})
    EXPECT_EQ(post("Origin: http://" + served.host() + "\r\n" + site).status, 400) << "ours: only the scan is empty";
}

TEST(Origins, OfOthersReadNothingButMayLeadAPersonHere) {
  const Served served;
  for (const char* site : {"cross-site", "same-site"}) {
    const std::string from = std::string("Sec-Fetch-Site: ") + site + "\r\n";
    for (const char* as :
         {"Sec-Fetch-Mode: no-cors\r\nSec-Fetch-Dest: image\r\n", "Sec-Fetch-Mode: cors\r\nSec-Fetch-Dest: empty\r\n",
          "Sec-Fetch-Mode: navigate\r\nSec-Fetch-Dest: iframe\r\n",
          "Sec-Fetch-Mode: no-cors\r\nSec-Fetch-Dest: script\r\n"})
      EXPECT_EQ(served.get("/", from + as).status, 403) << from << as;
    EXPECT_EQ(served.get("/", from + "Sec-Fetch-Mode: navigate\r\nSec-Fetch-Dest: document\r\n").status, 200) << site;
  }
  for (const char* site : {"same-origin", "none"})
    EXPECT_EQ(served.get("/", std::string("Sec-Fetch-Site: ") + site + "\r\n").status, 200) << site;
  const Answer page = served.get("/", "Origin: http://elsewhere.example\r\n");
  EXPECT_EQ(page.header("Access-Control-Allow-Origin"), "");
  EXPECT_NE(page.header("Content-Security-Policy").find("frame-ancestors 'none'"), std::string::npos);
}

}  // namespace
}  // namespace canewise::attack
