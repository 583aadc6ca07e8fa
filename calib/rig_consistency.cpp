#include "calib/rig_consistency.h"

#include <cmath>
#include <utility>

#include "scanproc/core/error.h"
#include "scanproc/core/statistics.h"
#include "scanproc/words/decimals.h"

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

Message suspect_of(const Rig& rig) {
  if (rig.scale_parts.contains(kGaugePart)) return {"consistency.strips"};
  if (rig.scale_parts.contains(kBoardPart)) {
    const auto how = rig.obtained.find("scale of " + kBoardPart);
    if (how == rig.obtained.end()) return {"consistency.squares"};
    return {"consistency.squares_found", {{"how", text(how->second)}}};
  }
  if (rig.scale_parts.contains(kGeometryPart)) return {"consistency.plane_and_stage"};
  return {"consistency.scale"};
}

/// A part of the scale by its name; a rig file may name others.
Message part_named(const std::string& name) {
  const char* known = name == kGeometryPart ? "geometry"
                      : name == kBoardPart  ? "board"
                      : name == kGaugePart  ? "gauge"
                                            : "other";
  return {"consistency.part", {{"known", word(known)}, {"name", text(name)}}};
}

}  // namespace

std::optional<ScaleClaim> scale_claim(const Rig& rig, const std::string& apart_from) {
  ScaleClaim claim;
  double squares = 0.0;
  Rig others = rig;
  others.scale_parts.erase(apart_from);
  for (const auto& [name, value] : others.scale_parts) {
    squares += square(value);
    if (name == "temperature") continue;
    claim.who = claim.who.empty()
                    ? part_named(name)
                    : Message{"consistency.both", {{"first", part(claim.who)}, {"second", part(part_named(name))}}};
  }
  claim.u_rel = std::sqrt(squares);
  const bool is_stated = rig.scale_parts.empty() && rig.obtained.contains("scale_rel");
  if (is_stated) claim.u_rel = rig.priors.scale_rel, claim.who = Message{"consistency.rig_file"};
  if (claim.who.empty()) return std::nullopt;
  claim.suspect = suspect_of(others);
  return claim;
}

bool contradicts(const LengthRatio& found, double u_claim_rel) {
  return !(std::abs(found.ratio - 1.0) <= kContradiction * std::hypot(found.u_rel, u_claim_rel));
}

void hold_against(const ScaleClaim& claim, const LengthRatio& found, Message found_words, Message stated) {
  if (!contradicts(found, claim.u_rel)) return;
  constexpr int digits = 4;
  const auto times = [](double factor) { return number(factor, significant_decimals(factor, digits)); };
  throw InputError({"consistency.contradiction",
                    {{"found", part(std::move(found_words))},
                     {"off", number(100.0 * std::abs(found.ratio - 1.0), 2)},
                     {"way", word(found.ratio > 1.0 ? "large" : "small")},
                     {"u_found", number(100.0 * found.u_rel, 2)},
                     {"u_claim", number(100.0 * claim.u_rel, 2)},
                     {"who", part(claim.who)},
                     {"suspect", part(claim.suspect)},
                     {"suspect_times", times(1.0 / found.ratio)},
                     {"stated", part(std::move(stated))},
                     {"stated_times", times(found.ratio)}}});
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
