// Bodies that are too long, endless, packed, in pieces, or other than their head says.
#include <gtest/gtest.h>

#include <fstream>
#include <nlohmann/json.hpp>

#include "scanproc/core/sha256.h"
#include "tests/attack/support/crowd.h"
#include "tests/attack/support/scans_sent.h"
#include "tests/attack/support/tally.h"
#include "tests/attack/support/watches.h"

namespace canewise::attack {
namespace {

constexpr std::size_t kMb = 1U << 20U;
constexpr const char* kScans = "/api/scans?name=a.ply";
const std::string kPiece = "1000\r\n" + std::string(4096, 'a') + "\r\n";

std::string strangers_post(const Served& served, const std::string& more) {
  return request("POST", kScans, served.host(), more);
}

TEST(StrangersBodies, AreRefusedWhateverTheyAre) {
  const Served served;
  const DiskWatch disk(served.folder());
  const std::string boundary(8192, 'b');
  const std::string form = "Content-Type: multipart/form-data; boundary=";
  const std::string short_length = strangers_post(served, "Content-Length: 4\r\nTransfer-Encoding: chunked\r\n");
  const Script scripts[]{
      {.name = "8 kB boundary",
       .first = strangers_post(served, form + boundary + "\r\nContent-Length: 1000000\r\n") + "--" + boundary},
      {.name = "8 kB boundary line again and again",
       .first = strangers_post(served, form + "b\r\nContent-Length: 100000000\r\n"),
       .again = "--b" + boundary + "\r\n"},
      {.name = "endless body",
       .first = strangers_post(served, "Content-Length: 1000000000\r\n"),
       .again = std::string(65536, 'a')},
      {.name = "chunked without end",
       .first = strangers_post(served, "Transfer-Encoding: chunked\r\n"),
       .again = kPiece},
      {.name = "endless chunk size",
       .first = strangers_post(served, "Transfer-Encoding: chunked\r\n"),
       .again = std::string(4096, '0')},
      {.name = "gzip without end",
       .first = strangers_post(served, "Content-Encoding: gzip\r\nContent-Length: 1000000000\r\n") + "\x1f\x8b\x08",
       .again = std::string(4096, '\0')},
      {.name = "short Content-Length, chunks behind", .first = short_length, .again = kPiece},
      {.name = "a body to a page",
       .first = request("GET", "/", served.host(), "Content-Length: 1000000000\r\n"),
       .again = std::string(65536, 'a')},
  };
  for (const Script& script : scripts) expect_harmless(served, script, refuses);
  EXPECT_TRUE(disk.names().empty()) << testing::PrintToString(disk.names());
}

TEST(KnownBodies, HaveAContentLengthAndNothingElse) {
  const Served served({"--largest-mb", "1"});
  const DiskWatch disk(served.folder());
  struct Case {
    const char *what, *more;
    int status;
  };
  const Case cases[]{
      {"no length", "", 411},
      {"chunked", "Transfer-Encoding: chunked\r\n", 411},
      {"chunked and a length", "Content-Length: 5\r\nTransfer-Encoding: chunked\r\n", 400},
      {"a length and chunked", "Transfer-Encoding: chunked\r\nContent-Length: 5\r\n", 400},
      {"gzip", "Content-Length: 5\r\nContent-Encoding: gzip\r\n", 415},
      {"deflate", "Content-Length: 5\r\nContent-Encoding: deflate\r\n", 415},
      {"br", "Content-Length: 5\r\nContent-Encoding: br\r\n", 415},
      {"a form", "Content-Length: 5\r\nContent-Type: multipart/form-data; boundary=b\r\n", 415},
      {"a form in capitals", "Content-Length: 5\r\nContent-Type: MULTIPART/FORM-DATA; boundary=b\r\n", 415},
      {"a form without boundary", "Content-Length: 5\r\nContent-Type: multipart/form-data\r\n", 415},
      {"one byte too many", "Content-Length: 1048577\r\n", 413},
      {"a terabyte", "Content-Length: 1099511627776\r\n", 413},
      {"the largest number", "Content-Length: 9223372036854775807\r\n", 413},
      {"a terabyte, asked first", "Content-Length: 1099511627776\r\nExpect: 100-continue\r\n", 413},
  };
  Tally tally("bodies of a known writer");
  for (const Case& each : cases) {
    // The head alone: nothing that was sent too much can take the answer along.
    const Answer answer = ask(served.port, served.writes_head("POST", kScans, each.more));
    tally.add(answer);
    EXPECT_EQ(answer.status, each.status) << each.what;
    EXPECT_EQ(answer.interim, 0) << each.what << ": was asked to send it";
    EXPECT_EQ(answer.header("Connection"), "close") << each.what;
  }
  EXPECT_TRUE(disk.names().empty()) << testing::PrintToString(disk.names());
}

TEST(KnownBodies, ThatAreTooLargeNeverReachTheDisk) {
  const Served served({"--largest-mb", "1"});
  const DiskWatch disk(served.folder());
  Tally tally("bodies over the limit");
  const std::string body(4 * kMb, 'a');
  const std::string heads[]{
      served.writes(kScans, 4 * kMb),
      served.writes(kScans, kMb + 1),
      served.writes_head("POST", kScans, "Transfer-Encoding: chunked\r\n") + "400000\r\n",
      served.writes_head("POST", kScans, "Content-Length: 5\r\nContent-Length: 4194304\r\n"),
  };
  for (const std::string& head : heads) {
    const Answer answer = ask(served.port, head + body);
    tally.add(answer);
    EXPECT_TRUE(answer.closed);
    EXPECT_TRUE(answer.status == 0 || refuses(answer.status)) << answer.status;
  }
  EXPECT_EQ(disk.most_bytes(), 0U);
}

TEST(KnownBodies, MoreThanTheirLengthIsNotStored) {
  const Served served;
  Tally tally("more bytes than the length says");
  const std::string& scan = good_scan();
  const Answer answer = ask(served.port, served.writes(kScans, scan.size()) + scan + std::string(3 * kMb, 'a'));
  tally.add(answer);
  EXPECT_EQ(answer.status, 202);
  EXPECT_EQ(answer.answers, 1);
  EXPECT_EQ(last_state(events_of(served, job_of(answer))), "done");
  Sha256 digest;
  digest.add(scan);
  std::ifstream result(served.folder() / "a" / "result.json");
  const auto measured = nlohmann::json::parse(result).at("scans").at(0);
  EXPECT_EQ(measured.at("sha256"), digest.hex()) << "what was stored is the scan and nothing more";
  EXPECT_TRUE(DiskWatch::is_quiet(served));
}

TEST(KnownBodies, ThatBreakOffLeaveNothingBehind) {
  const Served served;
  Tally tally("broken off");
  for (std::size_t sent : {std::size_t{0}, std::size_t{1}, kMb}) {
    const Answer answer =
        ask_and_finish(served.port, served.writes(kScans, 2 * kMb) + std::string(sent, 'a'), Milliseconds(15000));
    tally.add(answer);
    EXPECT_TRUE(answer.closed) << sent;
    EXPECT_NE(answer.status, 202) << sent;
  }
  EXPECT_TRUE(DiskWatch::is_quiet(served));
}

TEST(KnownBodies, ARangeIsIgnored) {
  const Served served;
  served.put("reed", "result.json", "{\"format\":\"none\"}");
  served.put("reed", "balance.png", std::string(1000, 'p'));
  std::string many = "0-0";
  for (int k = 0; k < 1000; ++k) many += ",0-";
  for (const std::string& range : {std::string("0-9"), std::string("-5"), std::string("990-"), many}) {
    const Answer answer = served.get("/reed/reed/balance.png", "Range: bytes=" + range + "\r\n");
    EXPECT_EQ(answer.status, 200) << range.substr(0, 20);
    EXPECT_EQ(answer.body.size(), 1000U) << range.substr(0, 20);
  }
}

void expect_cut(const CrowdEnd& end, Tally& tally) {
  std::size_t open = 0, taken = 0;
  for (const Answer& answer : end.answers) {
    tally.add(answer);
    open += !answer.closed;
    taken += answer.status == 202;
  }
  EXPECT_EQ(open, 0U) << "still being read from after " << end.seconds << " s";
  EXPECT_EQ(taken, 0U);
}

TEST(KnownBodiesAtLength, ASilentSenderIsCut) {
  const Served served;
  constexpr Milliseconds due{16000};  // Fifteen seconds and a little.
  for (const char* what : {"", "ply\n"}) {
    CrowdOptions options{.connections = 20, .patience = due};
    const CrowdEnd end = attack_with(served, {"", served.writes(kScans, kMb) + what}, options);
    Tally tally("silent after the head and " + std::to_string(std::string(what).size()) + " bytes");
    expect_cut(end, tally);
    EXPECT_EQ(end.pages_refused, 0);
    EXPECT_LT(end.slowest_page_s, 0.5);
  }
  EXPECT_TRUE(DiskWatch::is_quiet(served));
}

TEST(KnownBodiesAtLength, TooSlowASenderIsCutAndASlowOneIsNot) {
  const Served served;
  constexpr Milliseconds due{60000};  // For what sends two bytes a second.
  const CrowdEnd end = attack_with(served, {"", served.writes(kScans, kMb), "aa", Milliseconds(1000)},
                                   {.connections = 20, .patience = due});
  Tally tally("two bytes a second");
  expect_cut(end, tally);
  // A scan over a poor radio link: longer than a head may take.
  constexpr std::size_t length = 4 * kMb;
  const CrowdEnd slow = attack_with(served,
                                    {.name = "",
                                     .first = served.writes(kScans, length),
                                     .again = std::string(65536, 'a'),
                                     .every = Milliseconds(250),
                                     .most_bytes = length + served.writes(kScans, length).size()},
                                    {.connections = 1, .patience = Milliseconds(40000)});
  EXPECT_EQ(slow.answers.at(0).status, 202) << "256 kB a second for 16 s";
  EXPECT_TRUE(DiskWatch::is_quiet(served));
}

}  // namespace
}  // namespace canewise::attack
