#pragma once

#include <functional>
#include <string>
#include <vector>

#include "tests/attack/support/served.h"

namespace canewise::attack {

/// What each connection of a crowd does.
struct Script {
  std::string name;
  std::string first;       ///< Sent at once, as fast as the server takes it.
  std::string again = {};  ///< Then this over and over...
  Milliseconds every{0};   ///< ...with this pause, at most `most_bytes` in all.
  std::size_t most_bytes = 16U << 20U;
  bool finish = false;  ///< Says after its last byte that nothing follows.
};

struct CrowdOptions {
  std::size_t connections = 100;
  Milliseconds patience = kPatience;  ///< After it, what is still open counts as never closed.
  Milliseconds at_least{2000};        ///< The attack's time, if the server is done with all of them sooner.
};

struct CrowdEnd {
  std::vector<Answer> answers;  ///< Of each connection.
  double seconds = 0.0;
  double last_closed_s = 0.0;        ///< Since the crowd came.
  double grown_mb = 0.0;             ///< Most resident memory above idle.
  double cpu_share = 0.0;            ///< Of one core over the attack's time.
  double slowest_page_s = 0.0;       ///< Of a known reader.
  int pages = 0, pages_refused = 0;  ///< Of a known reader.
};

/// All connections at once from one thread, while a known reader asks for the page.
[[nodiscard]] CrowdEnd attack_with(const Served& served, const Script& script, const CrowdOptions& options = {});

/// What strangers may cost: all closed in time, none answered with a page, few resources, readers unharmed, and
/// afterwards a server as before. Prints the counts. `may` says which statuses refuse; none at all may always be.
void expect_harmless(const Served& served, const Script& script, const std::function<bool(int)>& may,
                     const CrowdOptions& options = {});

/// Any refusal.
[[nodiscard]] bool refuses(int status);

}  // namespace canewise::attack
