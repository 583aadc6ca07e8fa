#pragma once

#include <vector>

#include "scanproc/bendtest/recording.h"

namespace canewise {

/// One way in which what was tapped rings on.
struct Resonance {
  double frequency_hz = 0.0, u_frequency_hz = 0.0;
  double q = 0.0, u_q = 0.0;  ///< Quality factor: pi times frequency times decay time.
  int taps = 0;               ///< In so many of the taps it was heard.
  double share = 0.0;         ///< Of the energy of those taps, median.
};

/// Taps found in a recording, and what rings after them.
struct HeardTaps {
  int taps = 0;
  std::vector<Resonance> resonances;  ///< Ascending.
};

struct ResonanceOptions {
  double lowest_hz = 500.0, highest_hz = 9000.0;  ///< Hum and hiss lie beyond.
};

/// After each tap, once the finger is off and the recording no longer clipped, a sum of decaying sines is fitted by the
/// matrix pencil ([Hua1990]). A resonance is what most taps share. Standard uncertainties from tap to tap (Student's
/// factor for few taps), never below what one tap's noise lets expect. Needs two taps; fewer find nothing.
[[nodiscard]] HeardTaps find_resonances(const Recording& recording, const ResonanceOptions& options = {});

}  // namespace canewise
