// More connections than the server holds, readers that do not read, and its end among them.
#include "tests/attack/support/crowd.h"

#include <gtest/gtest.h>

#include <csignal>
#include <thread>

#include "tests/attack/support/tally.h"

namespace canewise::attack {
namespace {

constexpr std::size_t kMostAtOnce = 256;

std::vector<Wire> silent_ones(const Served& served, std::size_t count) {
  std::vector<Wire> crowd;
  crowd.reserve(count);
  for (std::size_t k = 0; k < count; ++k) crowd.emplace_back(served.port);
  return crowd;
}

TEST(Crowd, WhenFullTheOldestWithoutAHeadMakesRoom) {
  const Served served;
  Tally tally("silent ones, then a reader");
  constexpr std::size_t count = 400, newest = 200;
  auto crowd = silent_ones(served, count);
  std::this_thread::sleep_for(Milliseconds(500));
  const Answer page = served.get("/");
  EXPECT_EQ(page.status, 200);
  EXPECT_LT(page.seconds, 0.5) << "a newcomer waits for none of them";
  if (resources_count()) {
    EXPECT_LE(served.use().sockets, static_cast<int>(kMostAtOnce) + 8);
  }
  std::size_t closed = 0, newest_closed = 0;
  for (std::size_t k = 0; k < count; ++k) {
    crowd[k].read_some(1U << 20U);
    closed += crowd[k].closed();
    newest_closed += crowd[k].closed() && k >= count - newest;
    tally.add(crowd[k].closed() ? "closed" : "held", 0);
  }
  EXPECT_GE(closed, count - kMostAtOnce);
  EXPECT_EQ(newest_closed, 0U) << "the oldest go first";
}

TEST(Crowd, AThousandThatComeAndGoLeaveNothing) {
  const Served served;
  Tally tally("connections closed at once");
  (void)silent_ones(served, 200);
  (void)served.get("/");
  std::this_thread::sleep_for(Milliseconds(500));
  const Use before = served.use();
  for (int round = 0; round < 10; ++round) {
    for (const Wire& each : silent_ones(served, 100)) tally.add(each.closed() ? "refused" : "taken", 0);
  }
  EXPECT_EQ(served.get("/").status, 200);
  std::this_thread::sleep_for(Milliseconds(500));
  const Use after = served.use();
  EXPECT_LE(after.sockets, before.sockets) << "held though they are gone";
  if (resources_count()) {
    EXPECT_LT(after.resident_mb - before.resident_mb, 2.0);
  }
}

/// The server's end, three seconds at most, with whatever is connected.
void expect_end_by(Served& served, int signal, const char* among) {
  const Ended end = served.end_by(signal);
  std::printf("    signal %d among %s: exit code %d after %.2f s\n", signal, among, end.exit_code, end.seconds);
  EXPECT_EQ(end.exit_code, 0) << among;
  EXPECT_LT(end.seconds, 3.0) << among;
}

TEST(CrowdsEnd, ComesInThreeSecondsWhateverIsConnected) {
  for (const int signal : {SIGTERM, SIGINT}) {
    Served idle;
    expect_end_by(idle, signal, "nobody");
    Served full;
    const auto crowd = silent_ones(full, 300);
    expect_end_by(full, signal, "three hundred silent ones");
  }
}

TEST(CrowdsEnd, ComesInThreeSecondsAmongUploadsAndSlowReaders) {
  Served served;
  served.put("reed", "result.json", "{\"format\":\"none\",\"padding\":\"" + std::string(8U << 20U, 'a') + "\"}");
  std::vector<Wire> busy;
  for (int k = 0; k < 20; ++k) {
    busy.emplace_back(served.port, 4096);
    (void)busy.back().send_some(served.reads("/reed/reed/result.json"));
    busy.emplace_back(served.port);
    (void)busy.back().send_some(served.writes("/api/scans?name=a.ply", 1U << 20U) + "ply\n");
    busy.emplace_back(served.port);
    (void)busy.back().send_some(request("POST", "/api/scans?name=a.ply", served.host(), "Content-Length: 1000000\r\n"));
  }
  std::this_thread::sleep_for(Milliseconds(500));
  expect_end_by(served, SIGTERM, "uploads and slow readers");
  EXPECT_TRUE(std::filesystem::exists(served.folder() / "reed"));
  for (const auto& entry : std::filesystem::directory_iterator(served.folder()))
    EXPECT_FALSE(entry.path().filename().string().starts_with(".")) << entry.path();
}

TEST(SlowReadersAtLength, AreCut) {
  const Served served;
  served.put("reed", "result.json", "{\"format\":\"none\",\"padding\":\"" + std::string(8U << 20U, 'a') + "\"}");
  Tally tally("readers of a byte a second");
  std::vector<Wire> readers;
  constexpr int count = 20;
  for (int k = 0; k < count; ++k) {
    readers.emplace_back(served.port, 4096);
    (void)readers.back().send_some(served.reads("/reed/reed/result.json"));
  }
  const auto since = Clock::now();
  constexpr std::chrono::seconds due{60};
  int held = count + 1;
  while (held > 2 && Clock::now() < since + due) {
    std::this_thread::sleep_for(Milliseconds(1000));
    for (Wire& each : readers) each.read_some(1);
    const Answer page = served.get("/");
    EXPECT_EQ(page.status, 200);
    // They are known: the first of them may have a file read before it.
    EXPECT_LT(page.seconds, 2.0) << "a page waits for slow readers";
    held = served.use().sockets;
  }
  const double seconds = std::chrono::duration<double>(Clock::now() - since).count();
  for (const Wire& each : readers)
    tally.add(each.answer().status > 0 ? "answered, cut" : "no answer", each.sent_bytes());
  std::printf("    %d sockets held after %.0f s\n", held, seconds);
  EXPECT_LE(held, 8) << "still writing to who does not read, after " << seconds << " s";
}

}  // namespace
}  // namespace canewise::attack
