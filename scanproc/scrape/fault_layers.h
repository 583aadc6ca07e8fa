#pragma once

#include <vector>

#include "scanproc/assess/faults.h"
#include "scanproc/scrape/least_cane.h"
#include "scanproc/scrape/scrape_places.h"

namespace canewise {

/// What a plan needs to know of one reed to lay places over its faults.
struct FaultGround {
  const ThicknessMap& map;
  const Assessment& assessment;
  const ScrapeField& field;
  const PlaceMaker& maker;
  Field felt_mm;  ///< felt_difference_mm.
};

/// Places one over the other that follow a fault from its rim to its peak, so that their depths together can be as deep
/// as it is high and shallow where it is low: contours of the felt difference, as far as the tool can follow them.
[[nodiscard]] std::vector<Place> fault_layers(const FaultGround& ground, int fault);

/// The map in pieces of about a tool's reach, where faults or places lie, with what is wanted there.
struct CaneBlocks {
  std::vector<CaneBlock> blocks;
  Eigen::ArrayXXi owner;  ///< Of every cell of the right half: its block, or -1.
  /// Fills in Place::block.
  void count(Place& place) const;
};
/// Pieces of faults that do not act, and pieces that no place reaches, may stay as they are.
[[nodiscard]] CaneBlocks cane_blocks(const FaultGround& ground, const std::vector<bool>& fault_acts,
                                     const std::vector<Place>& places);

}  // namespace canewise
