#pragma once

#include <array>
#include <limits>
#include <optional>
#include <vector>

#include "scanproc/scrape/scrape_places.h"
#include "scanproc/scrape/steered_bending.h"

namespace canewise {

struct Range {
  double lower = -std::numeric_limits<double>::infinity(), upper = std::numeric_limits<double>::infinity();
};

/// A small piece of one side against its mirror image.
struct CaneBlock {
  double difference_mm = 0.0;  ///< Right minus left, as it is.
  double area_mm2 = 0.0;
  Range wanted;  ///< Missed at a small price...
  Range borne;   ///< ...and at a high one. Holds what is wanted.
};

/// What is wanted after scraping, and what must not happen.
struct CaneGoal {
  std::array<Range, 12> difference_mm;       ///< Right minus left of zone means: wanted...
  std::array<Range, 12> difference_held_mm;  ///< ...and never beyond. Must hold what there is now.
  std::array<double, 24> surplus_mm{};       ///< To come off half zones' means, as far as it can; nought: nothing.
  std::array<double, 24> most_removed_mm{};  ///< Never more off a half zone's mean.
  std::array<Range, kSteered.size()> figure;
  bool bending_known = false;
  std::vector<CaneBlock> blocks;                                      ///< In the order of Place::block.
  double most_at_fault_mm = std::numeric_limits<double>::infinity();  ///< Of all layers over one fault together.
  /// A hand may take so many times what is planned: no block is to end beyond the other side even then.
  double heavy_hand = 1.0;
  double most_at_tip_mm = std::numeric_limits<double>::infinity();  ///< Of them, off what stays at the tip.
};

/// The reed as it is. Zones are numbered by ZoneMap::label.
struct CaneNow {
  std::array<double, 12> difference_mm{};  ///< Right minus left of zone means.
  std::array<double, 12> zone_area_mm2{};
  SteeredValues figure{};  ///< With the depths `PlaceLimits::at_mm`.
};

/// How deep one place may be cut, and what that does to the figures per millimetre, linearised at `at_mm`.
struct PlaceLimits {
  double surplus_mm = 0.0;  ///< Cane that is too thick here comes first...
  double most_mm = 0.0;     ///< ...and more than that, down to this, only where it must.
  double at_mm = 0.0;
  SteeredValues by_depth{};
};

struct LeastCane {
  std::vector<double> depth_mm;  ///< One for each place.
  double cane_mm3 = 0.0;
  double cost = 0.0;  ///< Cubic millimetres, dearer where the cane is not too thick, and what is missed.
};

/// Depths that reach the goal with the least cane, and come as near as they can if it cannot be reached: a linear
/// program. Lanes that overlap share their depth; layers of a fault add up. Throws std::logic_error if the program
/// cannot be solved (nought is always a solution).
[[nodiscard]] LeastCane least_cane(const std::vector<Place>& places, const std::vector<PlaceLimits>& limits,
                                   const CaneNow& now, const CaneGoal& goal);

}  // namespace canewise
