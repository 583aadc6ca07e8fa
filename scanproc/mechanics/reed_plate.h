#pragma once

#include <Eigen/SparseCore>

#include "scanproc/assess/features.h"
#include "scanproc/mechanics/mouthpiece.h"
#include "scanproc/mechanics/plate.h"
#include "scanproc/thickness/thickness_map.h"

namespace canewise {

/// A measured reed, and what its cane and its mouthpiece are.
struct ReedPlateInputs {
  const ThicknessMap& map;
  const Outline& outline;
  const Bark& bark;
  const Mouthpiece& mouthpiece;
  const Cane& cane;
  double left_right = 0.0;  ///< As in CaneState.
};

struct ReedPlateOptions {
  double spacing_mm = 0.6;  ///< Side of the triangles.
  double clip_mm = 0.0;     ///< Taken off the tip: the mouthpiece moves back on the reed by so much.
};

/// A measured reed as a plate, from its tip to the ligature; the table's edge of the mouthpiece holds it up in between.
struct ReedPlate {
  PlateModel model;
  Grid grid;
  /// Thickness points by cells (column-major, as a Field lies in memory): P x (rows * columns). Every point is the
  /// value of a quadratic fitted to the cells about it, weighted by their distance, and so linear in the map.
  Eigen::SparseMatrix<double, Eigen::RowMajor> from_cells;
  double tip_x_mm = 0.0;       ///< Where the tip is, in the reed frame: clip_mm.
  double shallow_share = 0.0;  ///< Of the points whose thickness had to be raised to the least that a plate can have.

  /// Thickness of the points for another map of the same grid; NaN cells must be those of the first.
  [[nodiscard]] Eigen::VectorXd thickness_from(const Field& thickness_mm) const;
  /// A derivative by the points' thickness as one by the cells'.
  [[nodiscard]] Field by_cells(const Eigen::VectorXd& by_thickness) const;
};

/// Nothing is thinner in the model: at less the cane is torn or the scan is wrong.
inline constexpr double kThinnestPlate_mm = 0.02;

/// Throws NotMeasurable where the scan leaves too large holes, or is too noisy for a thickness at the tip.
[[nodiscard]] ReedPlate reed_plate(const ReedPlateInputs& inputs, const ReedPlateOptions& options = {});

}  // namespace canewise
