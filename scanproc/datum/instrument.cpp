#include "scanproc/datum/instrument.h"

#include <cmath>
#include <limits>

namespace canewise {

const Instrument* find_instrument(std::string_view name) {
  for (const auto& instrument : kInstruments) {
    if (instrument.name == name) return &instrument;
  }
  return nullptr;
}

Message title_of(const Instrument& instrument) { return {"instrument.title", {{"instrument", word(instrument.name)}}}; }

std::string instrument_names() {
  std::string names;
  for (const auto& instrument : kInstruments) {
    if (!names.empty()) names += ", ";
    names += instrument.name;
  }
  return names;
}

const Instrument* guess_instrument(double length_mm, double tip_width_mm) {
  constexpr double tolerance = 0.10;
  const Instrument* best = nullptr;
  double best_distance = std::numeric_limits<double>::infinity();
  for (const auto& instrument : kInstruments) {
    if (!instrument.length_mm.holds(length_mm, tolerance) || !instrument.tip_width_mm.holds(tip_width_mm, tolerance)) {
      continue;
    }
    const double distance = std::hypot(length_mm / instrument.length_mm.middle() - 1.0,
                                       tip_width_mm / instrument.tip_width_mm.middle() - 1.0);
    if (distance < best_distance) {
      best = &instrument;
      best_distance = distance;
    }
  }
  return best;
}

}  // namespace canewise
