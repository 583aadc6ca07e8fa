#pragma once

#include <array>
#include <vector>

#include "scanproc/datum/corner_block.h"
#include "scanproc/datum/ties.h"

namespace canewise {

/// What is known of a block that ties two scans, and of the scanner.
struct KnownBlock {
  std::array<double, 3> edges_mm{};
  /// Standard uncertainty of an edge at the faces' middles, and, an assumption, of how much it changes over a face's
  /// length and over its width: opposite faces are parallel to that. [ISO3650] allows a block a variation in length
  /// of about the size of its deviation.
  double u_size_mm = 0.0;
  double u_scale_rel = 0.0;  ///< Of both scans: known edges stand against what is measured in the scanner's lengths.
};

/// Every way to lay a block of one scan on the same block in the other, whose far faces it may show: for each
/// assignment of edges and each half turn of the block by which it looks alike. A face seen by both lies where it is;
/// one opposite to it lies an edge away and parallel. Least squares over these with the faces' full covariances; that
/// the faces of a corner are square to each other is not used. Where they fit worse than their uncertainty says, the
/// covariance grows. Ways that fit beyond all measure are left out.
[[nodiscard]] std::vector<TiedMotion> match_blocks(const SeenBlock& in_first, const SeenBlock& in_second,
                                                   const KnownBlock& known);

}  // namespace canewise
