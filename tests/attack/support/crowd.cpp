#include "tests/attack/support/crowd.h"

#include <gtest/gtest.h>
#include <poll.h>

#include <algorithm>
#include <cstdlib>
#include <set>
#include <thread>

#include "tests/attack/support/tally.h"
#include "tests/attack/support/watches.h"

namespace canewise::attack {
namespace {

double since_s(Clock::time_point then) { return std::chrono::duration<double>(Clock::now() - then).count(); }

/// One connection of the crowd with its place in the script.
class Attacker {
 public:
  Attacker(int port, const Script& script) : wire_(port), script_(script), next_(Clock::now()) {}

  /// Who has more to send goes on although it was answered: that is the attack.
  [[nodiscard]] bool over() const { return wire_.closed() && (wire_.broken() || !may_go_on()); }
  [[nodiscard]] short awaits() const {
    return static_cast<short>((wire_.closed() ? 0 : POLLIN) | (wants_to_send() ? POLLOUT : 0));
  }
  [[nodiscard]] bool wants_to_send() const {
    return !wire_.broken() && !finished_ && (!pending().empty() || may_go_on()) && Clock::now() >= next_;
  }
  [[nodiscard]] int socket() const { return wire_.socket(); }
  void send() {
    if (pending().empty() && may_go_on()) at_ = 0, in_first_ = false;
    at_ += wire_.send_some(pending());
    if (!pending().empty()) return;
    next_ = Clock::now() + script_.every;
    if (may_go_on() || !script_.finish) return;
    wire_.finish_sending();
    finished_ = true;
  }
  void read() { wire_.read_some(1U << 20U); }
  [[nodiscard]] Answer answer() const { return wire_.answer(); }

 private:
  [[nodiscard]] std::string_view pending() const {
    return std::string_view(in_first_ ? script_.first : script_.again).substr(at_);
  }
  [[nodiscard]] bool may_go_on() const { return !script_.again.empty() && wire_.sent_bytes() < script_.most_bytes; }

  Wire wire_;
  const Script& script_;
  Clock::time_point next_;
  std::size_t at_ = 0;
  bool in_first_ = true, finished_ = false;
};

/// Waits for news of any and lets each go on; how many are still open.
std::size_t go_on(std::vector<Attacker>& crowd) {
  std::vector<pollfd> waits;
  std::vector<Attacker*> whose;
  for (Attacker& each : crowd) {
    if (each.over()) continue;
    waits.push_back({each.socket(), each.awaits(), 0});
    whose.push_back(&each);
  }
  constexpr int glance_ms = 20;
  (void)::poll(waits.data(), waits.size(), glance_ms);
  for (std::size_t i = 0; i < waits.size(); ++i) {
    if ((waits[i].revents & POLLOUT) != 0) whose[i]->send();
    if ((waits[i].revents & (POLLHUP | POLLERR)) != 0) whose[i]->send();  // Tells that nothing can be sent.
    if ((waits[i].revents & (POLLIN | POLLHUP | POLLERR)) != 0) whose[i]->read();
  }
  return waits.size();
}

/// Each fault is said once with its number, not for each of a hundred connections.
void judge_answers(const CrowdEnd& end, const Script& script, const std::function<bool(int)>& may) {
  Tally tally(script.name);
  std::size_t open = 0, twice = 0, kept_alive = 0;
  std::set<int> wrong;
  for (const Answer& answer : end.answers) {
    tally.add(answer);
    open += !answer.closed;
    twice += answer.answers > 1;
    if (answer.status == 0) continue;
    kept_alive += answer.header("Connection") != "close";
    if (!may(answer.status)) wrong.insert(answer.status);
  }
  EXPECT_EQ(open, 0U) << "still open after " << end.seconds << " s";
  EXPECT_EQ(twice, 0U) << "what followed was taken for a request";
  EXPECT_EQ(kept_alive, 0U) << "answers without 'Connection: close'";
  EXPECT_TRUE(wrong.empty()) << "answered with " << testing::PrintToString(wrong);
}

}  // namespace

CrowdEnd attack_with(const Served& served, const Script& script, const CrowdOptions& options) {
  (void)served.get("/");  // What a page needs once belongs to idle.
  const Use idle = served.use();
  PageWatch reader(served);
  CrowdEnd end;
  const auto since = Clock::now();
  std::vector<Attacker> crowd;
  crowd.reserve(options.connections);
  for (std::size_t k = 0; k < options.connections; ++k) crowd.emplace_back(served.port, script);
  while (go_on(crowd) > 0 && Clock::now() < since + options.patience) end.last_closed_s = since_s(since);
  while (Clock::now() < since + options.at_least) std::this_thread::sleep_for(Milliseconds(20));
  end.seconds = since_s(since);
  end.cpu_share = (served.use().cpu_s - idle.cpu_s) / end.seconds;
  const PageWatch::Seen seen = reader.seen();
  end.grown_mb = std::max(seen.most_resident_mb, served.use().resident_mb) - idle.resident_mb;
  end.slowest_page_s = seen.slowest_s;
  end.pages = seen.asked;
  end.pages_refused = seen.refused;
  for (const Attacker& each : crowd) end.answers.push_back(each.answer());
  return end;
}

bool refuses(int status) { return status >= 400 && status < 600 && status != 500; }

void expect_harmless(const Served& served, const Script& script, const std::function<bool(int)>& may,
                     const CrowdOptions& options) {
  SCOPED_TRACE(script.name);
  constexpr int own_sockets = 8;  // Those that listen, and what the system still holds.
  constexpr double most_grown_mb = 20.0, most_share = 0.05, slowest_page_s = 0.5;
  const CrowdEnd end = attack_with(served, script, options);
  judge_answers(end, script, may);
  std::printf("      %.1f s, memory %+.1f MB, processor %.1f %% of a core; %d pages meanwhile, the slowest %.0f ms\n",
              end.seconds, end.grown_mb, 100.0 * end.cpu_share, end.pages, 1000.0 * end.slowest_page_s);
  if (resources_count()) {
    EXPECT_LT(end.grown_mb, most_grown_mb) << "MB above idle";
  }
  // On a machine that others use too, time says little: it is judged where that was asked for ('./dev attack').
  if (resources_count() && std::getenv("CANEWISE_ATTACK_TIMED") != nullptr) {
    EXPECT_LT(end.cpu_share, most_share) << "of a core, over " << end.seconds << " s";
  }
  EXPECT_EQ(end.pages_refused, 0) << "a known reader was not answered, of " << end.pages;
  EXPECT_LT(end.slowest_page_s, slowest_page_s) << "a known reader waited";
  ASSERT_TRUE(served.alive());
  EXPECT_EQ(served.get("/").status, 200) << "afterwards";
  for (int waits = 0; waits < 40 && served.use().sockets > own_sockets; ++waits)
    std::this_thread::sleep_for(Milliseconds(50));
  EXPECT_LE(served.use().sockets, own_sockets) << "connections that are over are still held";
}

}  // namespace canewise::attack
