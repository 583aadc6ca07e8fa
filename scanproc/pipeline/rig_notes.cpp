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
void add_assumptions(const Result& result, std::vector<std::string>& notes) {
  const Rig& rig = result.rig;
  const bool on_plate = result.datum == "plate";
  const bool seating = on_plate && is_assumed(rig, "seating_roll_um"),
             form = on_plate && is_assumed(rig, "plate_form_um"), scale = is_assumed(rig, "scale_rel"),
             light = is_assumed(rig, "penetration_um");
  const bool only_layings = std::all_of(rig.obtained.begin(), rig.obtained.end(), [&](const auto& entry) {
    return entry.first.starts_with("seating") && is_seating_from_layings(rig);
  });
  if (only_layings) {
    notes.emplace_back(rig.name == Rig{}.name && rig.calibrated_at.empty()
                           ? "No rig file was named: what the scanner does wrong is assumed, not known. 'canewise "
                             "calibrate' finds it out."
                           : "The rig file says nothing of what the scanner does wrong: that is assumed, not known. "
                             "'canewise calibrate' finds it out.");
    return;
  }
  if (seating) {
    notes.emplace_back(
        "How a reed seats on this rig is assumed, not known: 'canewise calibrate reversal' finds it out.");
  }
  if (form) notes.emplace_back("The plate's form is assumed, not known: 'canewise calibrate plate' finds it out.");
  if (scale) notes.emplace_back("The rig's scale is assumed, not known: 'canewise calibrate step' finds it out.");
  if (light) {
    notes.emplace_back(
        "How deep this light enters cane is assumed, not known: 'canewise calibrate touch' finds it out.");
  }
}

}  // namespace

double days_between(const std::string& earlier, const std::string& later) {
  const std::time_t a = moment(earlier), b = moment(later);
  constexpr double seconds_a_day = 86400.0;
  return a == 0 || b == 0 ? 0.0 : std::difftime(b, a) / seconds_a_day;
}

std::vector<std::string> rig_notes(const Result& result) {
  std::vector<std::string> notes;
  const Rig& rig = result.rig;
  add_assumptions(result, notes);
  if (rig.calibrated_at.empty()) return notes;
  constexpr double old_days = 180.0;
  const double days = days_between(rig.calibrated_at, result.measured_at);
  if (days > old_days) {
    notes.push_back("The rig was last calibrated " + std::to_string(static_cast<int>(days)) +
                    " days ago. Scan the step gauge and the check piece again before you trust it.");
  }
  if (rig.handedness_found.empty())
    notes.emplace_back("Nobody has proved that this rig's left is left: run 'canewise calibrate hand' once.");
  if (rig.light && rig.light->state != "unknown" && result.state != MoistureState::unknown &&
      rig.light->state != name_of(result.state)) {
    notes.push_back("The check against touch was made on a " + rig.light->state + " reed; this one is " +
                    std::string(name_of(result.state)) + ", and light may enter it otherwise.");
  }
  return notes;
}

}  // namespace canewise
