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

SeatingSeen heed_layings(const Layings& layings, bool laid_anew, Rig& rig) {
  const double assumed_um = rig.priors.seating_roll_um;
  rig.priors = seating_of(layings, rig.priors, laid_anew);
  for (const char* prior : {"seating_offset_um", "seating_pitch_um", "seating_roll_um"}) {
    if (laid_anew) rig.obtained[prior] = fmt::format("{} {}", layings.count, kFromLayings);
  }
  // Two layings that roll by the prior differ by its root of two; four of those are no accident.
  SeatingSeen seen;
  seen.in_doubt = layings.roll_range_um > 4.0 * std::sqrt(2.0) * assumed_um;
  const double edge_over_edge_um = 2.0 * layings.roll_range_um;
  if (seen.in_doubt) {
    seen.note = fmt::format(
        "In scan {} the right edge lies {:.0f} µm higher over the left than in scan {}: something may lie under the "
        "reed. Wipe the plate and the table, lay the reed down again and scan it anew.",
        layings.highest + 1, edge_over_edge_um, layings.lowest + 1);
  } else if (laid_anew) {
    seen.note = fmt::format("The reed was laid down {} times; one edge rises by {:.1f} µm over the other between them.",
                            layings.count, edge_over_edge_um);
  } else {
    seen.note =
        "The reed lies elsewhere in each scan. If you lifted it and laid it down again in between, say --laid-anew: "
        "then its seating is measured and not assumed.";
  }
  return seen;
}

void stand_on_own_plates(Registration& registration) {
  for (const Eigen::Index k : {2, 3, 4}) {
    registration.covariance.row(k).setZero();
    registration.covariance.col(k).setZero();
  }
}

bool is_seating_from_layings(const Rig& rig) {
  const auto found = rig.obtained.find("seating_roll_um");
  return found != rig.obtained.end() && found->second.ends_with(kFromLayings);
}

}  // namespace canewise
