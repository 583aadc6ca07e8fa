#include "scanproc/assess/column_end.h"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "scanproc/core/linear_fit.h"
#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

constexpr double kColumnsWithin = 0.45;  // Of the half width, about the centreline.

/// Means over a cell's footprint of max(0, u) and of its square, `before` being how far the cell lies before the end.
double ramp(double before, double footprint_mm) {
  const double to = std::max(0.0, before + 0.5 * footprint_mm), from = std::max(0.0, before - 0.5 * footprint_mm);
  return (square(to) - square(from)) / (2.0 * footprint_mm);
}
double square_ramp(double before, double footprint_mm) {
  const double to = std::max(0.0, before + 0.5 * footprint_mm), from = std::max(0.0, before - 0.5 * footprint_mm);
  return (to * to * to - from * from * from) / (3.0 * footprint_mm);
}

using Basis = Eigen::Vector4d;

/// The cells of a column that the end is sought with.
struct CellsAround {
  const MapColumn& column;
  std::vector<std::size_t> used;
  double bent;  ///< 0: over a few cells a straight climb is all that can be told.

  /// A straight bark, and before the end a drop below it.
  [[nodiscard]] Basis basis(double x, double end) const {
    const double footprint = column.footprint_mm;
    return {1.0, x - end, ramp(end - x, footprint), bent * square_ramp(end - x, footprint)};
  }
};

CellsAround cells_around(const MapColumn& column, const ColumnPlace& near, const CutStretch& stretch) {
  constexpr double straight_mm = 0.3;
  CellsAround cells{column, {}, stretch.cut_mm > straight_mm ? 1.0 : 0.0};
  for (std::size_t i = 0; i < column.x_mm.size(); ++i) {
    const double x = column.x_mm[i];
    if (x < near.rough_mm - stretch.cut_mm || x > near.rough_mm + stretch.bark_mm) continue;
    if (std::abs(x - near.corner_mm) < stretch.corner_half_mm) continue;
    cells.used.push_back(i);
  }
  return cells;
}

/// The best line and drop if the cut ended at one place.
struct Trial {
  Basis fit;
  double squares_mm2;  ///< Of the residuals; infinite where the cut cannot end.
};

Trial trial_at(const CellsAround& cells, double end) {
  const MapColumn& column = cells.column;
  Eigen::Matrix4d normal = 1e-9 * Eigen::Matrix4d::Identity();
  Basis right = Basis::Zero();
  double squares = 0.0, cut_cells = 0.0, bark_cells = 0.0;
  for (const std::size_t i : cells.used) {
    const Basis basis = cells.basis(column.x_mm[i], end);
    (column.x_mm[i] < end ? cut_cells : bark_cells) += 1.0;
    normal += basis * basis.transpose();
    right += basis * column.height_mm[i];
    squares += square(column.height_mm[i]);
  }
  constexpr double fewest_aside = 2.0;
  const Basis fit = normal.ldlt().solve(right);
  // The cut lies below the bark from its end on.
  if (cut_cells < fewest_aside || bark_cells < fewest_aside || !(fit(2) < 0.0))
    return {fit, std::numeric_limits<double>::infinity()};
  return {fit, std::max(0.0, squares - fit.dot(right))};
}

/// By steps about the rough end, then by a parabola through the best three; NaN if there is none.
double likely_end(const CellsAround& cells, double rough_mm) {
  constexpr double before_mm = 0.6, behind_mm = 3.0, step_mm = 0.1;
  double least = std::numeric_limits<double>::infinity(), place = std::nan("");
  for (double end = rough_mm - before_mm; end < rough_mm + behind_mm; end += step_mm) {
    const double squares = trial_at(cells, end).squares_mm2;
    if (squares < least) {
      least = squares;
      place = end;
    }
  }
  if (std::isnan(place)) return place;
  const double before = trial_at(cells, place - step_mm).squares_mm2,
               after = trial_at(cells, place + step_mm).squares_mm2;
  const double bend = before - 2.0 * least + after;
  if (std::isfinite(bend) && bend > 0.0) place += std::clamp(0.5 * (before - after) / bend, -0.5, 0.5) * step_mm;
  return place;
}

/// Between the measured cells on both sides of the end.
double gap_at(const MapColumn& column, double end) {
  double last_cut = -1e9, first_bark = 1e9;
  for (const double x : column.x_mm) {
    if (x < end) last_cut = std::max(last_cut, x);
    if (x >= end) first_bark = std::min(first_bark, x);
  }
  return first_bark - last_cut;
}

}  // namespace

std::vector<MapColumn> columns_near_centre(const ThicknessMap& map, const Outline& outline, double length_mm) {
  std::vector<MapColumn> columns;
  for (Eigen::Index c = 0; c < map.grid.columns; ++c) {
    MapColumn column;
    column.y_mm = map.grid.y_mm(c);
    constexpr double cells = 3.0;
    column.footprint_mm = cells * map.grid.cell_mm;
    if (std::abs(column.y_mm) > kColumnsWithin * outline.half_width_mm(0.5 * length_mm)) continue;
    for (Eigen::Index r = 0; r < map.grid.rows; ++r) {
      if (!map.measured(r, c) || map.grid.x_mm(r) > length_mm - 1.5) continue;
      column.x_mm.push_back(map.grid.x_mm(r));
      column.height_mm.push_back(map.thickness_mm(r, c));
    }
    columns.push_back(std::move(column));
  }
  return columns;
}

double rough_end(const MapColumn& column, double crown_from_mm) {
  std::vector<std::size_t> bark;
  for (std::size_t i = 0; i < column.x_mm.size(); ++i) {
    if (column.x_mm[i] > crown_from_mm) bark.push_back(i);
  }
  constexpr std::size_t fewest = 12;
  if (bark.size() < fewest) return std::nan("");
  Eigen::MatrixXd design(static_cast<Eigen::Index>(bark.size()), 2);
  Eigen::VectorXd height(design.rows());
  for (Eigen::Index i = 0; i < design.rows(); ++i) {
    design.row(i) << 1.0, column.x_mm[bark[static_cast<std::size_t>(i)]] - crown_from_mm;
    height(i) = column.height_mm[bark[static_cast<std::size_t>(i)]];
  }
  const LinearFit line = fit_linear_robust(design, height, 1e-3);
  constexpr double least_drop_mm = 0.08, sure = 5.0;  // The bark is straight to a few hundredths.
  const double drop = std::max(least_drop_mm, sure * line.residual_sd);
  constexpr double for_good_mm = 4.0;
  double left_at = std::nan("");
  for (std::size_t i = column.x_mm.size(); i-- > 0;) {
    const double x = column.x_mm[i];
    const double below = line.coefficients(0) + line.coefficients(1) * (x - crown_from_mm) - column.height_mm[i];
    if (below < drop) {
      left_at = std::nan("");
    } else if (std::isnan(left_at)) {
      left_at = x;
    } else if (left_at - x > for_good_mm) {
      return left_at;
    }
  }
  return std::nan("");
}

ColumnEnd fit_end(const MapColumn& column, const ColumnPlace& near, const CutStretch& stretch) {
  const CellsAround cells = cells_around(column, near, stretch);
  ColumnEnd best;
  constexpr std::size_t fewest = 10;
  if (cells.used.size() < fewest) return best;
  const double place = likely_end(cells, near.rough_mm);
  if (std::isnan(place)) return best;
  const Trial trial = trial_at(cells, place);
  if (!std::isfinite(trial.squares_mm2)) return best;
  best.at_mm = place;
  best.slope = -trial.fit(2);
  for (const std::size_t i : cells.used) {
    const double x = column.x_mm[i], squared = square(column.height_mm[i] - trial.fit.dot(cells.basis(x, place)));
    (x < place ? best.squares_mm2 : best.bark_squares_mm2) += squared;
    (x < place ? best.cut_cells : best.bark_cells) += 1.0;
  }
  best.gap_mm = gap_at(column, place);
  return best;
}

}  // namespace canewise
