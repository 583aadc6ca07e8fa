#include "tests/attack/support/scans_sent.h"

#include "fixtures/scanner.h"
#include "fixtures/write_cloud.h"

namespace canewise::attack {

const std::string& good_scan() {
  static const std::string bytes = [] {
    fixtures::ReedFaults faults;
    faults.roughness_um = 1.5;
    faults.roughness_seed = 2;
    faults.heavy_rail_um = 40.0;
    return fixtures::ply_binary(fixtures::scan_reed(fixtures::Reed({}, faults), fixtures::profilometer(), {}, 1).cloud);
  }();
  return bytes;
}

std::string percent_encoded(std::string_view bytes) {
  constexpr std::string_view digits = "0123456789ABCDEF";
  std::string text;
  for (const char c : bytes) {
    const auto byte = static_cast<unsigned char>(c);
    text += '%';
    text += digits[byte >> 4U];
    text += digits[byte & 15U];
  }
  return text;
}

std::string events_of(const Served& served, const std::string& job) {
  constexpr Milliseconds longest{120000};
  return ask(served.port, served.reads("/api/jobs/" + job + "/events"), longest).body;
}

std::string last_state(const std::string& events) {
  constexpr std::string_view key = "\"state\":\"";
  const auto at = events.rfind(key);
  if (at == std::string::npos) return {};
  const auto from = at + key.size();
  return events.substr(from, events.find('"', from) - from);
}

}  // namespace canewise::attack
