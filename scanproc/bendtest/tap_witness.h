#pragma once

#include <optional>
#include <vector>

#include "scanproc/bendtest/resonances.h"
#include "scanproc/mechanics/measured_cane.h"
#include "scanproc/pipeline/result.h"

namespace canewise {

/// A mode of the clamped reed, as it is computed and as it was heard.
struct HeardMode {
  bool twists = false;
  double computed_hz = 0.0, u_computed_hz = 0.0;  ///< Before the tap counted; with the air that swings along.
  Resonance heard;
};

/// What tapping the clamped reed adds to a bend test.
struct TapWitness {
  int taps = 0;
  std::vector<HeardMode> modes;
  std::optional<HeardMode> elsewhere;  ///< Where none was heard near a computed one: the loudest, and the lowest.
  bool agrees = false;                 ///< The modes that were heard are those of this reed, clamped like this.
  MeasuredCane cane;                   ///< With the density; unchanged if it does not agree.
};

struct ClampedReed {
  const Result& reed;
  const MeasuredCane& cane;
  double edge_mm = 0.0, clamp_mm = 0.0;
};

/// The first bending mode and the first twisting mode are looked for among the resonances; density and moduli follow
/// together (linear Gaussian update in logarithms). The air beside the reed swings along: of a strip of half width a,
/// rho pi a^2 a length where it moves up and down, rho pi a^4 / 8 where it turns (potential flow about a flat strip
/// [Lamb1932], articles 68 and 71).
[[nodiscard]] TapWitness tap_witness(const HeardTaps& heard, const ClampedReed& clamped);

}  // namespace canewise
