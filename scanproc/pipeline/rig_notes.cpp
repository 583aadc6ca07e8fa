#include "scanproc/pipeline/rig_notes.h"

#include <algorithm>
#include <cmath>
#include <ctime>

#include "scanproc/pipeline/laid_anew.h"

namespace canewise {
namespace {

std::time_t moment(const std::string& text) {
  std::tm utc{};
  return strptime(text.c_str(), "%Y-%m-%dT%H:%M:%SZ", &utc) == nullptr ? 0 : timegm(&utc);
}

/// A value that no step found, none was stated for, or that stands on an assumption.
bool is_assumed(const Rig& rig, const char* prior) {
  const auto found = rig.obtained.find(prior);
  return found == rig.obtained.end() || found->second.find("assumed") != std::string::npos;
}

/// What a step could find out and none has: naming a file makes nothing known.
void add_assumptions(const Result& result, Messages& notes) {
  const Rig& rig = result.rig;
  const bool on_plate = result.datum == DatumMode::plate;
  const bool seating = on_plate && is_assumed(rig, "seating_roll_um"),
             form = on_plate && is_assumed(rig, "plate_form_um"), scale = is_assumed(rig, "scale_rel"),
             light = is_assumed(rig, "penetration_um");
  const bool only_layings = std::all_of(rig.obtained.begin(), rig.obtained.end(), [&](const auto& entry) {
    return entry.first.starts_with("seating") && is_seating_from_layings(rig);
  });
  if (only_layings) {
    notes.push_back(rig.name == Rig{}.name && rig.calibrated_at.empty() ? Message{"note.no_rig_file"}
                                                                        : Message{"note.rig_file_says_nothing"});
    return;
  }
  if (seating) notes.push_back(Message{"note.seating_assumed"});
  if (form) notes.push_back(Message{"note.plate_form_assumed"});
  if (scale) notes.push_back(Message{"note.scale_assumed"});
  if (light) notes.push_back(Message{"note.light_assumed"});
}

}  // namespace

double days_between(const std::string& earlier, const std::string& later) {
  const std::time_t a = moment(earlier), b = moment(later);
  constexpr double seconds_a_day = 86400.0;
  return a == 0 || b == 0 ? 0.0 : std::difftime(b, a) / seconds_a_day;
}

Messages rig_notes(const Result& result) {
  Messages notes;
  const Rig& rig = result.rig;
  add_assumptions(result, notes);
  if (rig.calibrated_at.empty()) return notes;
  constexpr double old_days = 180.0;
  const double days = days_between(rig.calibrated_at, result.measured_at);
  if (days > old_days) notes.push_back({"note.calibrated_long_ago", {{"days", count(static_cast<std::size_t>(days))}}});
  if (rig.handedness_found.empty()) notes.push_back(Message{"note.left_not_proved"});
  if (rig.light && rig.light->state != MoistureState::unknown && result.state != MoistureState::unknown &&
      rig.light->state != result.state) {
    notes.push_back({"note.light_of_other_state",
                     {{"checked", word(name_of(rig.light->state))}, {"now", word(name_of(result.state))}}});
  }
  return notes;
}

}  // namespace canewise
