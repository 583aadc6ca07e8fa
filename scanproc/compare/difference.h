#pragma once

#include <vector>

#include "scanproc/compare/laying_shapes.h"
#include "scanproc/pipeline/result.h"

namespace canewise {

/// What was clipped off the tip.
struct Clip {
  double shorter_mm = 0.0;  ///< The reed after: by so much its frame lies nearer to the butt, which nobody scrapes.
  double clipped_mm = 0.0, u_clipped_mm = 0.0;  ///< Zero where that is no more than the edges' doubt.
};
[[nodiscard]] Clip clip_between(const Result& before, const Result& after);

/// How two scans of one reed differ, cell by cell on the grid of the scan before.
struct Difference {
  Grid grid;
  bool left_right_only = false;  ///< Each cell holds its loss over that of the other side's cell.
  Field removed_mm;              ///< NaN where either scan saw nothing.
  LayingShapes layings;          ///< What of it the layings-down may have to answer for.
  double variance_mm2 = 0.0;     ///< Over n cells a mean has this over n: neighbours' correlation is in it.
  double slow_variance_mm2 = 0.0, slow_length_mm = 0.0;  ///< Of what the scanners' slow errors leave.
};

/// `planned_mm`: what was to come off each cell.
[[nodiscard]] Difference difference_between(const Result& before, const Result& after, const Clip& clip,
                                            const Field& planned_mm);

/// Each cell over its mirror image. Of two states of moisture only that can be told.
[[nodiscard]] Field left_over_right(const Field& field);
[[nodiscard]] Difference left_over_right(Difference difference);

}  // namespace canewise
