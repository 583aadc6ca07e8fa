#pragma once

#include <vector>

#include "scanproc/datum/aligned.h"
#include "scanproc/rig/rig.h"
#include "scanproc/thickness/thickness_map.h"

namespace canewise {

/// How one map of a reed lies against another: robust least squares over their common cells for height, pitch (rise of
/// the tip about the middle of the stock, as Priors have it) and roll (rise of the right edge), beside what the frames'
/// place and turn on the reed move.
struct MapTilt {
  double height_um = 0.0, pitch_um = 0.0, roll_um = 0.0;
  double left_um = 0.0;  ///< Root mean square of what these do not explain.
};
/// `outline` is that of either reed. Throws UsageError for maps of another cell size or with too few common cells.
[[nodiscard]] MapTilt tilt_between(const ThicknessMap& map, const ThicknessMap& reference, const Outline& outline);

/// One reed that was laid on its plate several times, each scan complete.
struct Layings {
  std::size_t count = 0;
  std::vector<MapTilt> others;  ///< Of the second and further layings against the first.
  /// Share of each laying in the map that is made of all, by its points; they add up to one.
  std::vector<double> weights;
  double u_roll_um = 0.0;  ///< Standard uncertainty of one roll between two layings: plane and noise of both.
  LocalNoise noise;        ///< Of the noisiest of them.
  /// Between the layings that differ most, as Priors have roll: half of what one edge rises over the other. Their
  /// places in the order of the scans: where the right edge lies highest, and lowest.
  double roll_range_um = 0.0;
  std::size_t highest = 0, lowest = 0;
};
struct Laying {
  ThicknessMap map;
  double points = 0.0;     ///< On the reed.
  double u_roll_um = 0.0;  ///< Standard uncertainty of its roll, its seating aside.
};
[[nodiscard]] Layings compare_layings(const std::vector<Laying>& layings, const Outline& outline);

/// Passes that lie a little apart make a texture where they were joined, which is their seating and counted there: a
/// map made of whole scans is no noisier than the noisiest of them.
void keep_noise_of_one(const Layings& layings, LocalNoise& of_all);

/// The seating's spread in the mean of the layings. Their scatter counts with its degrees of freedom, the prior with
/// `kPriorFreedom` more, widened by Student's factor. `laid_anew` says that somebody lifted the reed in between, so
/// that the mean of the seatings scatters less, by the root of the sum of their squared weights; else the plate may
/// have been moved with the reed on it, and the layings can only widen what is assumed. Where they differ by more than
/// chance, never less than what the heaviest of them would bring in if it lay wrong.
[[nodiscard]] Priors seating_of(const Layings& layings, Priors priors, bool laid_anew);
constexpr double kPriorFreedom = 4.0;

}  // namespace canewise
