// Heads changed at random, from seeds: never a page for a stranger, never two answers, never an end of the server.
#include <gtest/gtest.h>

#include <random>

#include "tests/attack/support/crowd.h"
#include "tests/attack/support/tally.h"

namespace canewise::attack {
namespace {

/// A seed's changes to a head: bytes, lines, runs.
class Mutator {
 public:
  explicit Mutator(std::uint64_t seed) : random_(seed) {}
  std::string operator()(std::string head) {
    for (std::size_t k = below(4) + 1; k > 0; --k) change(head);
    return head;
  }

 private:
  std::size_t below(std::size_t count) { return count == 0 ? 0 : static_cast<std::size_t>(random_() % count); }
  void change(std::string& head) {
    constexpr std::string_view odd("\0\r\n\t :;,%/\\\"\x7f\x80\xff+-", 17);
    const std::size_t at = below(head.size() + 1), count = std::min(below(12), head.size() - at);
    const std::string piece = head.substr(at, count);
    switch (below(9)) {
      case 0:
        if (at < head.size()) head[at] = static_cast<char>(random_() & 0xffU);
        break;
      case 1:
        head.insert(at, 1, odd[below(odd.size())]);
        break;
      case 2:
        head.erase(at, count);
        break;
      case 3:
        head.insert(at, piece);
        break;
      case 4:
        head.insert(at, std::string(below(40000), static_cast<char>(random_() & 0xffU)));
        break;
      case 5:
        head.insert(at, "\r\n" + std::string(1 + below(3), ' '));
        break;
      case 6:
        head.insert(at, "%" + std::string(1, odd[below(odd.size())]) + "%00%2e%2f");
        break;
      case 7:
        head.insert(at, std::to_string(random_()));
        break;
      default:
        double_a_line(head, at);
    }
  }
  static void double_a_line(std::string& head, std::size_t at) {
    const auto from = head.find('\n', at);
    const auto to = from == std::string::npos ? from : head.find('\n', from + 1);
    if (to != std::string::npos) head.insert(to + 1, head.substr(from + 1, to - from));
  }
  std::mt19937_64 random_;
};

std::vector<std::string> strangers_heads(const Served& served) {
  const std::string own = served.host(), token(64, '0');
  return {request("GET", "/", own),
          request("GET", "/?token=" + token, own, "Accept: text/html\r\nSec-Fetch-Site: none\r\n"),
          request("GET", "/reed/reed/result.json", own,
                  "Cookie: canewise-" + std::to_string(served.port) + "=" + token + "\r\n"),
          request("POST", "/api/scans?name=a.ply&state=dry", own,
                  "X-Canewise-Token: " + token + "\r\nContent-Length: 5\r\n") +
              "12345",
          request("POST", "/api/scans?name=a.ply", own, "Transfer-Encoding: chunked\r\nExpect: 100-continue\r\n") +
              "5\r\n12345\r\n0\r\n\r\n",
          request("DELETE", "/api/jobs/" + token, own, "Origin: http://" + own + "\r\nRange: bytes=0-1\r\n")};
}

std::vector<std::string> readers_heads(const Served& served) {
  return {served.reads("/"),
          served.reads("/reed/reed/result.json"),
          served.reads("/compare?before=reed&after=reed&strokes_done=1,0"),
          served.reads("/api/results", "Range: bytes=0-1\r\nIf-None-Match: *\r\n"),
          served.writes("/api/hand?before=reed&after=reed", 0),
          served.reads("/season"),
          served.reads("/box/B3/"),
          served.writes("/api/trial?reed=B3-7&response=3&evenness=3&tone=3&words=fine", 0),
          served.writes("/api/scans?name=a.ply&state=dry", 5) + "12345"};
}

/// Sends so many, each a seed of its own, some at once.
void send_mutated(const Served& served, const std::vector<std::string>& heads, std::size_t count, bool known) {
  Tally tally(known ? "mutated heads of a reader" : "mutated heads of strangers");
  constexpr std::size_t at_once = 50;
  for (std::size_t seed = 0; seed < count; seed += at_once) {
    std::vector<Wire> wires;
    std::vector<std::string> sent;
    for (std::size_t k = 0; k < at_once; ++k) {
      Mutator mutate(seed + k + (known ? 1000000 : 1));
      sent.push_back(mutate(heads[(seed + k) % heads.size()]));
      wires.emplace_back(served.port);
      (void)wires.back().send_some(sent.back());
      wires.back().finish_sending();
    }
    for (std::size_t k = 0; k < at_once; ++k) {
      for (const auto until = Clock::now() + kPatience; !wires[k].closed() && Clock::now() < until;) {
        wires[k].wait_for_news(false, Milliseconds(100));
        wires[k].read_some(1U << 20U);
      }
      const Answer answer = wires[k].answer();
      tally.add(answer);
      const auto told = [&] {
        return "seed " + std::to_string(seed + k) + ": " + testing::PrintToString(sent[k].substr(0, 600));
      };
      ASSERT_TRUE(answer.closed) << told();
      ASSERT_LE(answer.answers, 1) << told();
      ASSERT_TRUE(answer.status == 0 || refuses(answer.status) || (known && answer.status < 300))
          << answer.status << ' ' << told();
    }
    ASSERT_TRUE(served.alive());
  }
  EXPECT_EQ(served.get("/").status, 200);
}

void send_all_kinds(std::size_t of_strangers, std::size_t of_readers) {
  const Served served;
  served.put("reed", "result.json", "{\"format\":\"none\"}");
  (void)served.get("/");
  const Use before = served.use();
  send_mutated(served, strangers_heads(served), of_strangers, false);
  send_mutated(served, readers_heads(served), of_readers, true);
  EXPECT_EQ(served.beside(), (std::vector<std::string>{"outside", "served"}));
  if (resources_count()) {
    EXPECT_LT(served.use().resident_mb - before.resident_mb, 20.0);
  }
}

TEST(MutatedHeads, TwoThousand) { send_all_kinds(1500, 500); }
TEST(MutatedHeadsAtLength, TwentyThousand) { send_all_kinds(15000, 5000); }

}  // namespace
}  // namespace canewise::attack
