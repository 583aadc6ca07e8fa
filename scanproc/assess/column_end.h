#pragma once

#include <cmath>
#include <vector>

#include "scanproc/datum/aligned.h"
#include "scanproc/thickness/thickness_map.h"

namespace canewise {

/// One column of the map.
struct MapColumn {
  double y_mm = 0.0;
  double footprint_mm = 0.75;  ///< Along, of a cell's plane: three cells.
  std::vector<double> x_mm, height_mm;
};

[[nodiscard]] std::vector<MapColumn> columns_near_centre(const ThicknessMap& map, const Outline& outline,
                                                         double length_mm);

/// Where a column first leaves the bark for good on the way from the butt to the tip; NaN if it never does. A mark in
/// the bark is left again after a millimetre or two; the cut is not.
[[nodiscard]] double rough_end(const MapColumn& column, double crown_from_mm);

/// Which cells are fitted: so much of the cut before the rough end and of the bark behind it, but for the corner
/// itself, which is a little rounded on every reed.
struct CutStretch {
  double cut_mm, bark_mm;
  double corner_half_mm = 0.0;
};

struct ColumnEnd {
  double at_mm = std::nan("");
  double slope = 0.0;        ///< Of the cut against the bark at its end.
  double squares_mm2 = 0.0;  ///< Of the residuals of the cut's cells.
  double cut_cells = 0.0;
  double bark_squares_mm2 = 0.0, bark_cells = 0.0;
  double gap_mm = 0.0;  ///< Between the measured cells on both sides of the end.
};

/// Where to look in a column.
struct ColumnPlace {
  double rough_mm = std::nan("");
  double corner_mm = std::nan("");  ///< Middle of the corner that is left out.
};

/// The change point of one column: for every place the best line and drop over the same cells, then the best place.
[[nodiscard]] ColumnEnd fit_end(const MapColumn& column, const ColumnPlace& near, const CutStretch& stretch);

}  // namespace canewise
