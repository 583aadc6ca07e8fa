#include "scanproc/pipeline/laid_anew.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "scanproc/core/error.h"
#include "scanproc/core/statistics.h"
#include "scanproc/core/units.h"

namespace canewise {
namespace {

constexpr const char* kFromLayings = "layings of this reed";

}  // namespace

std::optional<Layings> layings_of(const std::vector<Cloud>& scans, const Rig& rig, const Instrument* instrument,
                                  ThicknessOptions options) {
  try {
    std::vector<Aligned> each;
    std::vector<Laying> layings;
    for (const Cloud& scan : scans) each.push_back(place_reed({scan}, rig, {DatumMode::plate, instrument}));
    for (const Aligned& aligned : each) {
      Laying laying;
      laying.map = measure_thickness(aligned, rig.priors, options);
      laying.points = static_cast<double>(aligned.points_mm.cols());
      const double half = aligned.outline.half_width_mm(0.0), length = aligned.outline.length_mm;
      const double cells = half * length / square(laying.map.grid.cell_mm);
      // A roll is half the difference of two halves, each with its lever of half of its width.
      const double u_half_mm = std::sqrt(variance_of_mean(laying.map.noise, cells, length, half));
      laying.u_roll_um =
          um_from_mm(std::hypot(half * std::sqrt(aligned.uncertainty.plate_plane(2, 2)), std::sqrt(2.0) * u_half_mm));
      layings.push_back(std::move(laying));
    }
    // One step for all: the coarsest.
    for (const Laying& laying : layings) options.cell_mm = std::max(options.cell_mm, laying.map.grid.cell_mm);
    for (std::size_t k = 0; k < layings.size(); ++k) {
      if (layings[k].map.grid.cell_mm < options.cell_mm)
        layings[k].map = measure_thickness(each[k], rig.priors, options);
    }
    return compare_layings(layings, each.front().outline);
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
  seen.in_doubt = layings.roll_range_um > 4.0 * std::hypot(std::sqrt(2.0) * assumed_um, layings.u_roll_um);
  const double edge_over_edge_um = 2.0 * layings.roll_range_um;
  if (seen.in_doubt) {
    seen.note = {"note.lay_tilted",
                 {{"highest", count(layings.highest + 1)},
                  {"rise", um(edge_over_edge_um)},
                  {"lowest", count(layings.lowest + 1)}}};
  } else if (laid_anew) {
    seen.note = {"note.laid_down_times", {{"times", count(layings.count)}, {"rise", um(edge_over_edge_um, 1)}}};
  } else {
    seen.note = {"note.lies_elsewhere"};
  }
  return seen;
}

void stand_on_own_plates(Registration& registration) {
  for (const Eigen::Index k : {2, 3, 4}) {
    registration.covariance.row(k).setZero();
    registration.covariance.col(k).setZero();
  }
}

WholeScans whole_scans(LoadedScans& scans) {
  if (scans.clouds.size() < 2) return {};
  scans.finish();
  WholeScans whole{scans.clouds, {}};
  for (const ScanSource& source : scans.sources) whole.digests.push_back(source.sha256);
  return whole;
}

SeatingFromScans seating_from(const WholeScans& whole, const Rig& rig, const SeatingOptions& options) {
  SeatingFromScans seating{std::nullopt, rig, {}, false};
  const auto untold = [&](std::string_view why) {
    if (options.laid_anew) throw UsageError({"pipeline.not_laid_anew", {{"why", word(why)}}});
    return seating;
  };
  if (options.datum != DatumMode::plate) return untold("not on a plate");
  if (whole.clouds.size() < 2) return untold("one scan");
  if (std::set(whole.digests.begin(), whole.digests.end()).size() < whole.digests.size()) return untold("named twice");
  seating.layings = layings_of(whole.clouds, rig, options.instrument, options.thickness);
  if (!seating.layings) return untold("partial");
  const SeatingSeen seen = heed_layings(*seating.layings, options.laid_anew, seating.rig);
  seating.notes.push_back(seen.note);
  seating.in_doubt = seen.in_doubt;
  return seating;
}

bool is_seating_from_layings(const Rig& rig) {
  const auto found = rig.obtained.find("seating_roll_um");
  return found != rig.obtained.end() && found->second.ends_with(kFromLayings);
}

}  // namespace canewise
