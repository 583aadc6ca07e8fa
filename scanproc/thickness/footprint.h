#pragma once

#include <Eigen/Core>
#include <array>
#include <cstddef>

#include "scanproc/thickness/bins.h"

namespace canewise {

// Footprint of a cell, in half-cell bins: three cells along, two across, centred on the cell.
constexpr Eigen::Index kFootprintAlong = 6, kFootprintAcross = 4;
struct FootprintBin {
  const PlaneMoments* moments;
  double dx_mm, dy_mm;       ///< Bin centre from the cell's centre.
  Eigen::Index row, column;  ///< Of the bin.
};

/// The bins of a cell's footprint that hold points, row by row.
struct Footprint {
  static constexpr std::size_t kMost = kFootprintAlong * kFootprintAcross;
  std::array<FootprintBin, kMost> bins;
  std::size_t count = 0;
  double points = 0.0;
  [[nodiscard]] auto begin() const { return bins.begin(); }
  [[nodiscard]] auto end() const { return bins.begin() + static_cast<std::ptrdiff_t>(count); }
};

[[nodiscard]] Footprint footprint_of(const Bins& bins, Eigen::Index row, Eigen::Index column);

}  // namespace canewise
