#include "scanproc/thickness/layings.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "scanproc/core/error.h"
#include "scanproc/core/statistics.h"
#include "scanproc/core/units.h"

namespace canewise {
namespace {

using Vector6d = Eigen::Matrix<double, 6, 1>;
using Matrix6d = Eigen::Matrix<double, 6, 6>;

/// Variance of one quantity about the mean of its values: the prior's and theirs, weighted by degrees of freedom.
double widened_um(const std::vector<double>& values, double prior_um, bool laid_anew) {
  const auto n = static_cast<double>(values.size());
  double mean = 0.0, squares = 0.0;
  for (const double v : values) mean += v / n;
  for (const double v : values) squares += square(v - mean);
  const double variance = (kPriorFreedom * square(prior_um) + squares) / (kPriorFreedom + n - 1.0);
  return laid_anew ? std::sqrt(variance / n) : std::sqrt(std::max(variance, square(prior_um)));
}

}  // namespace

MapTilt tilt_between(const ThicknessMap& map, const ThicknessMap& reference, const Outline& outline) {
  const Grid &a = map.grid, &b = reference.grid;
  if (std::abs(a.cell_mm - b.cell_mm) > 1e-9)
    throw UsageError("the maps have cells of different size. Measure all with one --cell-mm.");
  const Eigen::Index shift = (b.columns - a.columns) / 2;
  const double half = outline.half_width_mm(0.0), length = outline.length_mm;
  std::vector<Vector6d> rows;
  std::vector<double> values;
  for (Eigen::Index c = 0; c < a.columns; ++c) {
    const Eigen::Index other = c + shift;
    if (other < 0 || other >= b.columns) continue;
    for (Eigen::Index r = 0; r < std::min(a.rows, b.rows); ++r) {
      const float d = map.thickness_mm(r, c) - reference.thickness_mm(r, other);
      const double slope_x = reference.slope_x(r, other), slope_y = reference.slope_y(r, other);
      if (std::isnan(d) || std::isnan(slope_x) || std::isnan(slope_y)) continue;
      const double x = a.x_mm(r), y = a.y_mm(c);
      Vector6d row;
      row << 1.0, 1.0 - x / (0.75 * length), y / half, slope_x, slope_y, slope_y * (x - 0.5 * length) - slope_x * y;
      rows.push_back(row);
      values.push_back(um_from_mm(static_cast<double>(d)));
    }
  }
  constexpr std::size_t fewest = 100;
  if (rows.size() < fewest) throw UsageError("the maps have too few cells in common to be compared.");
  // Frames agree to some hundredths of a millimetre and milliradians; so weak a prior only keeps flat maps solvable.
  const Vector6d prior = (Vector6d() << 0.0, 0.0, 0.0, 1e-3, 1e-3, 1e-2).finished();
  Vector6d fit = Vector6d::Zero();
  double sd = 0.0, squares = 0.0;
  constexpr int rounds = 5;
  for (int round = 0; round < rounds; ++round) {
    Matrix6d normal = prior.asDiagonal();
    Vector6d right = Vector6d::Zero();
    for (std::size_t i = 0; i < rows.size(); ++i) {
      constexpr double huber = 1.5;
      const double residual = std::abs(values[i] - rows[i].dot(fit));
      const double weight = round == 0 || residual < huber * sd ? 1.0 : huber * sd / residual;
      normal += weight * rows[i] * rows[i].transpose();
      right += weight * values[i] * rows[i];
    }
    fit = normal.ldlt().solve(right);
    std::vector<double> residuals(rows.size());
    squares = 0.0;
    for (std::size_t i = 0; i < rows.size(); ++i) {
      residuals[i] = values[i] - rows[i].dot(fit);
      squares += square(residuals[i]);
    }
    sd = std::max(1e-3, mad_sigma(residuals, 0.0));
  }
  return {fit(0), fit(1), fit(2), std::sqrt(squares / static_cast<double>(rows.size()))};
}

Layings compare_layings(const std::vector<ThicknessMap>& maps, const Outline& outline) {
  Layings layings;
  layings.count = maps.size();
  double low = 0.0, high = 0.0;
  for (std::size_t k = 1; k < maps.size(); ++k) {
    layings.others.push_back(tilt_between(maps[k], maps.front(), outline));
    const double roll_um = layings.others.back().roll_um;
    if (roll_um < low) low = roll_um, layings.lowest = k;
    if (roll_um > high) high = roll_um, layings.highest = k;
  }
  layings.roll_range_um = high - low;
  return layings;
}

Priors seating_of(const Layings& layings, Priors priors, bool laid_anew) {
  if (layings.count < 2) return priors;
  const auto values = [&](double MapTilt::*part) {
    std::vector<double> all{0.0};  // The first laying against itself.
    for (const MapTilt& other : layings.others) all.push_back(other.*part);
    return all;
  };
  priors.seating_offset_um = widened_um(values(&MapTilt::height_um), priors.seating_offset_um, laid_anew);
  priors.seating_pitch_um = widened_um(values(&MapTilt::pitch_um), priors.seating_pitch_um, laid_anew);
  priors.seating_roll_um = widened_um(values(&MapTilt::roll_um), priors.seating_roll_um, laid_anew);
  return priors;
}

}  // namespace canewise
