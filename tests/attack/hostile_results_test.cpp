// Results in the folder that nobody measured: huge, deep, endless. Each read costs little and keeps nobody waiting.
#include <gtest/gtest.h>

#include <fstream>
#include <functional>

#include "tests/attack/support/crowd.h"
#include "tests/attack/support/scans_sent.h"
#include "tests/attack/support/tally.h"
#include "tests/attack/support/watches.h"

namespace canewise::attack {
namespace {

constexpr std::size_t kMb = 1U << 20U;
const std::string kHead = R"({"format":"canewise-result","version":2,)";

/// A text with `piece` again and again in its middle, up to so many bytes.
struct Bomb {
  std::string name, before, piece, after;
};

void write(const Bomb& bomb, const std::filesystem::path& path, std::size_t bytes) {
  std::ofstream file(path, std::ios::binary);
  std::string block;
  while (block.size() < kMb) block += bomb.piece;
  file << bomb.before;
  for (std::size_t written = 0; written < bytes; written += block.size()) file << block;
  file << bomb.after;
}

std::vector<Bomb> bombs() {
  return {
      {"white space", kHead, " ", "\"state\":\"dry\"}"},
      {"NUL", kHead, std::string(1, '\0'), ""},
      {"lists in lists", "", "[", ""},
      {"lists in lists in a headline", kHead + "\"headline\":", "[", ""},
      {"objects in objects", "", "{\"a\":", ""},
      {"one text", kHead + "\"measured_at\":\"", "a", "\"}"},
      {"one escaped text", kHead + "\"state\":\"", "\\u0000", "\"}"},
      {"one key", kHead + "\"", "a", "\":1}"},
      {"one number", kHead + "\"version\":", "9", "}"},
      {"many keys", kHead, "\"a\":1,", "\"state\":\"dry\"}"},
      {"a headline of many", kHead + "\"headline\":[", R"({"id":"verbatim","text":{"text":"a"}},)", "1]}"},
      {"many numbers", kHead + "\"relative_thickness_mm\":[", "0,", "0]}"},
      {"no end", kHead + "\"map\":{\"thickness_mm\":[", "[1.5,2.5],", ""},
  };
}

/// What was really measured, with a list of it made endless: all else is right.
Bomb real_one(const std::string& result, const char* list, const std::string& piece) {
  const std::string key = std::string("\"") + list + "\":[";
  const auto at = result.find(key);
  if (at == std::string::npos) return {};
  return {std::string("real, with many ") + list, result.substr(0, at + key.size()), piece,
          result.substr(at + key.size())};
}

/// All of the reed's pages while another page is asked for again and again.
void expect_bounded(const Bomb& bomb, std::size_t bytes) {
  SCOPED_TRACE(bomb.name);
  constexpr double most_mb = 200.0, slowest_page_s = 2.0;
  constexpr Milliseconds longest{60000};
  const Served served;
  served.put("bomb", "balance.png", "p");
  write(bomb, served.folder() / "bomb" / "result.json", bytes);
  PageWatch reader(served, Milliseconds(50));
  Tally tally(bomb.name + ", " + std::to_string(bytes / kMb) + " MB");
  const auto since = Clock::now();
  std::vector<Wire> wires;
  for (int twice = 0; twice < 2; ++twice) {
    for (const char* target :
         {"/api/results", "/reed/bomb/", "/compare?before=bomb&after=bomb", "/reed/bomb/result.json"}) {
      wires.emplace_back(served.port);
      (void)wires.back().send_some(served.reads(target));
    }
  }
  for (Wire& each : wires) {
    while (!each.closed() && Clock::now() < since + longest) {
      each.wait_for_news(false, Milliseconds(20));
      each.read_some(16 * kMb);
      // A whole file of so many bytes is not kept here: its status is enough.
      if (each.received().size() > kMb) (void)each.forget();
    }
    EXPECT_TRUE(each.closed()) << "still at it after a minute";
    const Answer answer = each.answer();
    tally.add(answer);
    EXPECT_NE(answer.status, 500);
  }
  const PageWatch::Seen seen = reader.seen();
  std::printf("      %.1f s, at most %.0f MB; %d pages meanwhile, the slowest %.0f ms\n",
              std::chrono::duration<double>(Clock::now() - since).count(), served.use().peak_mb, seen.asked,
              1000.0 * seen.slowest_s);
  ASSERT_TRUE(served.alive());
  EXPECT_EQ(seen.refused, 0);
  EXPECT_LT(seen.slowest_s, slowest_page_s);
  if (resources_count()) {
    EXPECT_LT(served.use().peak_mb, most_mb);
  }
}

std::vector<Bomb> real_ones() {
  const Served served;
  const Answer sent = served.send_scan("reed.ply", good_scan());
  EXPECT_EQ(last_state(events_of(served, job_of(sent))), "done");
  const std::string result = served.get("/reed/reed/result.json").body;
  return {real_one(result, "polygon", R"({"x_mm":1.5,"y_mm":2.5},)"),
          real_one(result, "polygon", "[1.5,2.5],"),
          real_one(result, "steps", "{},"),
          real_one(result, "cautions", R"({"id":"verbatim","text":{"text":"a"}},)"),
          real_one(result, "relative_thickness_mm", "[0.5],"),
          real_one(result, "notes", "[")};
}

TEST(HostileResults, OfSomeMegabytesAreBounded) {
  for (const Bomb& bomb : bombs()) expect_bounded(bomb, 8 * kMb);
}

TEST(HostileResultsAtLength, OfThreeHundredMegabytesAreBounded) {
  for (const Bomb& bomb : bombs()) expect_bounded(bomb, 300 * kMb);
}

TEST(HostileResultsAtLength, RealOnesMadeEndlessAreBounded) {
  for (const Bomb& bomb : real_ones()) {
    ASSERT_FALSE(bomb.piece.empty()) << "a result's list has another name now";
    expect_bounded(bomb, 64 * kMb);
  }
}

}  // namespace
}  // namespace canewise::attack
