#include "scanproc/scan/rig.h"

#include <array>

#include "scanproc/scan/settings.h"

namespace canewise {
namespace {

struct PriorKey {
  const char* name;
  double Priors::*member;
};
constexpr std::array kPriorKeys{
    PriorKey{"seating_offset_um", &Priors::seating_offset_um},
    PriorKey{"seating_roll_um", &Priors::seating_roll_um},
    PriorKey{"seating_pitch_um", &Priors::seating_pitch_um},
    PriorKey{"table_bow_um", &Priors::table_bow_um},
    PriorKey{"table_cup_um", &Priors::table_cup_um},
    PriorKey{"table_twist_um", &Priors::table_twist_um},
    PriorKey{"tip_lift_um", &Priors::tip_lift_um},
    PriorKey{"tip_curl_side_um", &Priors::tip_curl_side_um},
    PriorKey{"scale_rel", &Priors::scale_rel},
    PriorKey{"plate_form_um", &Priors::plate_form_um},
    PriorKey{"penetration_um", &Priors::penetration_um},
    PriorKey{"pose_bending_um", &Priors::pose_bending_um},
};

}  // namespace

Rig read_rig(const std::filesystem::path& path) {
  Settings settings = Settings::read(path);
  Rig rig;
  if (const auto name = settings.text("name")) rig.name = *name;
  if (const auto mirrored = settings.flag("mirrored")) rig.mirrored = *mirrored;
  Settings priors = settings.table("priors");
  constexpr double largest = 1e5;
  for (const auto& key : kPriorKeys) priors.number_into(rig.priors.*(key.member), key.name, 0.0, largest);
  priors.refuse_unknown();
  if (settings.has("pads")) {
    Settings pads = settings.table("pads");
    Pads given;
    const auto height = pads.number("above_table_mm", -100.0, 100.0);
    if (!height) settings.fail("pads", "must say above_table_mm: how far the pads' tops lie above the reed's table.");
    given.above_table_mm = *height;
    pads.number_into(given.u_above_table_um, "u_above_table_um", 0.0, largest);
    pads.refuse_unknown();
    rig.pads = given;
  }
  if (settings.has("carrier")) {
    Settings carrier = settings.table("carrier");
    if (const auto diameter = carrier.number("sphere_diameter_mm", 1.0, 60.0))
      rig.carrier.sphere_diameter_mm = *diameter;
    const auto edges = carrier.numbers("block_edges_mm", 3, 2.0, 100.0);
    if (!edges.empty()) rig.carrier.block_edges_mm = std::array<double, 3>{edges[0], edges[1], edges[2]};
    carrier.number_into(rig.carrier.u_size_um, "u_size_um", 0.0, largest);
    carrier.refuse_unknown();
  }
  settings.refuse_unknown();
  return rig;
}

}  // namespace canewise
