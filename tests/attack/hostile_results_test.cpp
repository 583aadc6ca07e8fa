// Results in the folder that nobody measured: huge, deep, endless. Each read costs little and keeps nobody waiting.
#include <gtest/gtest.h>

#include <csignal>
#include <fstream>
#include <stdexcept>

#include "tests/attack/support/crowd.h"
#include "tests/attack/support/scans_sent.h"
#include "tests/attack/support/tally.h"
#include "tests/attack/support/watches.h"

namespace canewise::attack {
namespace {

constexpr std::size_t kMb = 1U << 20U;
constexpr std::size_t kNearlyTooLarge = 15 * kMb;  ///< The server reads results of 16 MB at most.
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

/// Opens the targets all at once and waits for their ends; how many are still open then.
std::size_t open_all(const Served& served, const std::vector<std::string>& targets, Milliseconds longest) {
  Tally tally(std::to_string(targets.size()) + " readers at once");
  const auto until = Clock::now() + longest;
  std::vector<Wire> wires;
  for (const std::string& target : targets) {
    wires.emplace_back(served.port);
    (void)wires.back().send_some(served.reads(target));
  }
  std::size_t open = 0;
  for (Wire& each : wires) {
    while (!each.closed() && Clock::now() < until) {
      each.wait_for_news(false, Milliseconds(20));
      each.read_some(16 * kMb);
      if (each.received().size() > kMb) each.forget();
    }
    open += !each.closed();
    tally.add(each.answer());
    EXPECT_NE(each.answer().status, 500);
  }
  return open;
}

/// What such a result may cost, whoever opens its pages: other pages come, and memory stays small.
void expect_bounded(const Served& served, PageWatch& reader) {
  constexpr double most_mb = 200.0, slowest_page_s = 2.0;
  const PageWatch::Seen seen = reader.seen();
  std::printf("      at most %.0f MB; %d other pages meanwhile, the slowest %.0f ms\n", served.use().peak_mb,
              seen.asked, 1000.0 * seen.slowest_s);
  ASSERT_TRUE(served.alive());
  EXPECT_EQ(seen.refused, 0);
  EXPECT_LT(seen.slowest_s, slowest_page_s);
  if (resources_count()) {
    EXPECT_LT(served.use().peak_mb, most_mb);
  }
}

void expect_bounded(const Bomb& bomb, std::size_t bytes) {
  SCOPED_TRACE(bomb.name);
  std::printf("    %s, %zu MB\n", bomb.name.c_str(), bytes / kMb);
  const Served served;
  served.put("bomb", "balance.png", "p");
  write(bomb, served.folder() / "bomb" / "result.json", bytes);
  PageWatch reader(served, Milliseconds(50));
  const std::vector<std::string> targets{"/api/results", "/reed/bomb/", "/compare?before=bomb&after=bomb",
                                         "/reed/bomb/result.json"};
  EXPECT_EQ(open_all(served, targets, Milliseconds(60000)), 0U) << "still at it after a minute";
  expect_bounded(served, reader);
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

Bomb bomb_called(const char* name) {
  for (const Bomb& bomb : bombs())
    if (bomb.name == name) return bomb;
  throw std::runtime_error(name);
}

TEST(HostileResults, OfManyMegabytesAreBounded) {
  for (const char* name : {"white space", "lists in lists", "one text", "one number"})
    expect_bounded(bomb_called(name), kNearlyTooLarge);
  expect_bounded(bomb_called("no end"), 300 * kMb);
}

TEST(HostileResults, OpenedByManyAtOnceStopNobodyElse) {
  for (const char* name : {"a headline of many", "many numbers"}) {
    SCOPED_TRACE(name);
    const Served served;
    served.put("bomb", "balance.png", "p");
    write(bomb_called(name), served.folder() / "bomb" / "result.json", kNearlyTooLarge);
    PageWatch reader(served, Milliseconds(50));
    (void)open_all(served, std::vector<std::string>(16, "/reed/bomb/"), Milliseconds(5000));
    expect_bounded(served, reader);
  }
}

TEST(HostileResults, ManyInOneFolderAreBounded) {
  const Served served;
  for (int k = 0; k < 20; ++k) {
    const std::string name = "bomb" + std::to_string(k);
    served.put(name, "balance.png", "p");
    write(bomb_called("one text"), served.folder() / name / "result.json", kNearlyTooLarge);
  }
  PageWatch reader(served, Milliseconds(50));
  EXPECT_EQ(open_all(served, {"/api/results", "/api/results"}, Milliseconds(60000)), 0U);
  expect_bounded(served, reader);
}

TEST(HostileResults, DoNotHoldUpTheServersEnd) {
  Served served;
  served.put("bomb", "balance.png", "p");
  write(bomb_called("a headline of many"), served.folder() / "bomb" / "result.json", kNearlyTooLarge);
  for (int k = 0; k < 2; ++k) EXPECT_EQ(served.send_scan("reed.ply", good_scan()).status, 202);
  (void)open_all(served, {"/reed/bomb/", "/reed/bomb/", "/compare?before=bomb&after=bomb"}, Milliseconds(1000));
  const Ended end = served.end_by(SIGTERM);
  std::printf("    among its readers and measurements: exit code %d after %.2f s\n", end.exit_code, end.seconds);
  EXPECT_EQ(end.exit_code, 0);
  EXPECT_LT(end.seconds, 3.0);
}

TEST(HostileResultsAtLength, NearlyTooLargeAreBounded) {
  for (const Bomb& bomb : bombs()) expect_bounded(bomb, kNearlyTooLarge);
}

TEST(HostileResultsAtLength, OfThreeHundredMegabytesAreBounded) {
  for (const Bomb& bomb : bombs()) expect_bounded(bomb, 300 * kMb);
}

TEST(HostileResultsAtLength, RealOnesMadeEndlessAreBounded) {
  for (const Bomb& bomb : real_ones()) {
    ASSERT_FALSE(bomb.piece.empty()) << "a result's list has another name now";
    expect_bounded(bomb, kNearlyTooLarge - 2 * kMb);
  }
}

}  // namespace
}  // namespace canewise::attack
