#include "calib/rig_consistency.h"

#include <fmt/format.h>

#include <cmath>

#include "scanproc/core/error.h"
#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

const std::string kBoardPart = "printed board", kGaugePart = "step gauge";

/// Back to what is assumed.
void assume(Rig& rig, double Priors::*prior, const std::string& name) {
  rig.priors.*prior = Priors{}.*prior;
  rig.obtained.erase(name);
}

bool drop_part(Rig& rig, const std::string& part) {
  rig.obtained.erase("scale of " + part);
  return rig.scale_parts.erase(part) > 0;
}

/// Temperature alone is no knowledge of a length.
void combine_what_is_left(Rig& rig) {
  const bool only_temperature = rig.scale_parts.size() == 1 && rig.scale_parts.contains("temperature");
  if (rig.scale_parts.empty() || only_temperature) {
    rig.scale_parts.clear();
    assume(rig, &Priors::scale_rel, "scale_rel");
  } else {
    combine_scale(rig);
  }
}

std::string suspect_of(const Rig& rig) {
  if (rig.scale_parts.contains(kGaugePart)) return "the strips' thickness (height_um)";
  if (rig.scale_parts.contains(kBoardPart)) {
    const auto how = rig.obtained.find("scale of " + kBoardPart);
    return "the board's squares (--square-mm" + (how == rig.obtained.end() ? "" : ": " + how->second) + ")";
  }
  if (rig.scale_parts.contains(kGeometryPart)) return "plane of light and step of the stage in the rig file";
  return "the scale in the rig file (scale_rel)";
}

}  // namespace

std::optional<ScaleClaim> scale_claim(const Rig& rig, const std::string& apart_from) {
  ScaleClaim claim;
  double squares = 0.0;
  Rig others = rig;
  others.scale_parts.erase(apart_from);
  for (const auto& [name, value] : others.scale_parts) {
    squares += square(value);
    if (name != "temperature") claim.who += (claim.who.empty() ? "" : "; ") + name;
  }
  claim.u_rel = std::sqrt(squares);
  const bool is_stated = rig.scale_parts.empty() && rig.obtained.contains("scale_rel");
  if (is_stated) claim.u_rel = rig.priors.scale_rel, claim.who = "the rig file";
  if (claim.who.empty()) return std::nullopt;
  claim.suspect = suspect_of(others);
  return claim;
}

bool contradicts(const LengthRatio& found, double u_claim_rel) {
  return !(std::abs(found.ratio - 1.0) <= kContradiction * std::hypot(found.u_rel, u_claim_rel));
}

void hold_against(const ScaleClaim& claim, const LengthRatio& found, const std::string& found_words,
                  const std::string& stated) {
  if (!contradicts(found, claim.u_rel)) return;
  throw InputError(fmt::format(
      "the sizes do not fit each other: {} {:.2f} % {} (standard uncertainty {:.2f} %), but lengths are claimed to be "
      "known to {:.2f} % ({}). One of two was stated wrong: {}, which would have to be {:.4g} times as large; or {}, "
      "which would have to be {:.4g} times as large. Measure both anew, the squares over ten of them, and repeat the "
      "steps that used the wrong one. Nothing was changed.",
      found_words, 100.0 * std::abs(found.ratio - 1.0), found.ratio > 1.0 ? "too large" : "too small",
      100.0 * found.u_rel, 100.0 * claim.u_rel, claim.who, claim.suspect, 1.0 / found.ratio, stated, found.ratio));
}

bool forget_heights(Rig& rig) {
  const bool any = rig.plate_form || rig.height_scale;
  if (rig.plate_form) assume(rig, &Priors::plate_form_um, "plate_form_um");
  rig.plate_form.reset();
  rig.height_scale.reset();
  if (drop_part(rig, kGaugePart)) combine_what_is_left(rig);
  return any;
}

bool forget_geometry(Rig& rig) {
  const bool any = rig.laser_plane || rig.stage;
  rig.laser_plane.reset();
  rig.stage.reset();
  const bool geometry = drop_part(rig, kGeometryPart), board = drop_part(rig, kBoardPart);
  if (geometry || board) combine_what_is_left(rig);
  const bool heights = forget_heights(rig);
  return any || heights;
}

}  // namespace canewise
