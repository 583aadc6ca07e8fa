#include "scanproc/pipeline/laid_anew.h"

#include <fmt/format.h>

#include <cmath>

#include "scanproc/core/error.h"

namespace canewise {
namespace {

constexpr const char* kFromLayings = "layings of this reed";

}  // namespace

std::optional<Layings> layings_of(const std::vector<Cloud>& scans, const Rig& rig, const Instrument* instrument,
                                  ThicknessOptions options) {
  std::vector<ThicknessMap> maps;
  Outline outline;
  try {
    for (const Cloud& scan : scans) {
      const Aligned aligned = place_reed({scan}, rig, {DatumMode::plate, instrument});
      maps.push_back(measure_thickness(aligned, rig.priors, options));
      if (maps.size() == 1) outline = aligned.outline;
      options.cell_mm = maps.front().grid.cell_mm;
    }
    return compare_layings(maps, outline);
  } catch (const Error&) {
    return std::nullopt;
  }
}

std::string heed_layings(const Layings& layings, bool laid_anew, Rig& rig) {
  const double assumed_um = rig.priors.seating_roll_um;
  rig.priors = seating_of(layings, rig.priors, laid_anew);
  for (const char* prior : {"seating_offset_um", "seating_pitch_um", "seating_roll_um"}) {
    if (laid_anew) rig.obtained[prior] = fmt::format("{} {}", layings.count, kFromLayings);
  }
  // Two layings that roll by the prior differ by its root of two; four of those are no accident.
  const double accident_um = 4.0 * std::sqrt(2.0) * assumed_um;
  if (layings.roll_range_um > accident_um) {
    return fmt::format(
        "Between the scans one edge of the reed rises by {:.1f} µm. Something may lie under it: wipe the plate and the "
        "table, lay the reed down again and scan it anew.",
        layings.roll_range_um);
  }
  if (laid_anew) {
    return fmt::format("The reed was laid down {} times; one edge rises by {:.1f} µm between them.", layings.count,
                       layings.roll_range_um);
  }
  return "The reed lies elsewhere in each scan. If you lifted it and laid it down again in between, say --laid-anew: "
         "then its seating is measured and not assumed.";
}

bool is_seating_from_layings(const Rig& rig) {
  const auto found = rig.obtained.find("seating_roll_um");
  return found != rig.obtained.end() && found->second.ends_with(kFromLayings);
}

}  // namespace canewise
