#pragma once

#include <optional>
#include <string>

#include "scanproc/rig/rig.h"
#include "scanproc/words/message.h"

namespace canewise {

/// Steps whose findings lie farther apart than this many standard uncertainties contradict each other: chance does so
/// once in two million, a size that was stated wrong always.
inline constexpr double kContradiction = 5.0;

/// What the rig's other parts say of lengths.
struct ScaleClaim {
  double u_rel = 0.0;  ///< Relative standard uncertainty that they claim.
  Message who;         ///< 'camera, plane and stage; printed board'.
  Message suspect;     ///< What a person stated, on which that claim stands: 'the board's squares (...)'.
};

/// The claim of all parts of the scale but `apart_from`; empty where nothing but assumptions speaks of lengths.
[[nodiscard]] std::optional<ScaleClaim> scale_claim(const Rig& rig, const std::string& apart_from);

/// A length as the rig finds it over the same length as somebody states it, with the relative standard uncertainty of
/// that ratio.
struct LengthRatio {
  double ratio = 1.0, u_rel = 0.0;
};
[[nodiscard]] bool contradicts(const LengthRatio& found, double u_claim_rel);

/// Throws InputError if a ratio contradicts the claim: `found_words` say what was found ('by the strips, heights come
/// out'), `stated` what a person stated for it ('the strips' thickness (height_um in gauge.toml)').
void hold_against(const ScaleClaim& claim, const LengthRatio& found, Message found_words, Message stated);

/// Forgets what was found through the rig's heights as they were: plate form, height scale, and their uncertainties.
/// True if there was any.
bool forget_heights(Rig& rig);
/// The same, and plane of light, stage and their part of the scale.
bool forget_geometry(Rig& rig);

}  // namespace canewise
