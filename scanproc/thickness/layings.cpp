#include "scanproc/thickness/layings.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "scanproc/core/budget.h"
#include "scanproc/core/error.h"
#include "scanproc/core/statistics.h"
#include "scanproc/core/units.h"

namespace canewise {
namespace {

using Vector6d = Eigen::Matrix<double, 6, 1>;
using Matrix6d = Eigen::Matrix<double, 6, 6>;

/// Standard uncertainty of one quantity in the mean of the layings.
double widened_um(const std::vector<double>& values, const Layings& layings, double prior_um, bool laid_anew) {
  const auto n = static_cast<double>(values.size());
  double mean = 0.0, squares = 0.0, weights2 = 0.0, heaviest = 0.0, low = values.front(), high = low;
  for (const double v : values) mean += v / n, low = std::min(low, v), high = std::max(high, v);
  for (const double v : values) squares += square(v - mean);
  for (const double w : layings.weights) weights2 += square(w), heaviest = std::max(heaviest, w);
  const double freedom = kPriorFreedom + n - 1.0;
  const double one = std::sqrt((kPriorFreedom * square(prior_um) + squares) / freedom);
  constexpr double chance = 3.0;
  const bool differs = high - low > chance * std::hypot(std::sqrt(2.0) * prior_um, layings.u_roll_um);
  // Any of them may be the one that lies wrong, the heaviest too.
  const double least = differs ? heaviest * (high - low) : 0.0;
  return laid_anew ? std::max(least, students_over_normal(freedom) * one * std::sqrt(weights2))
                   : std::max({least, one, prior_um});
}

/// Variance of a mean over one bin's area, where it spans more than the correlation's reach.
double in_all(const LocalNoise& noise) { return (noise.covariance_sum_mm2 + noise.far_sum_mm2) / noise.filled_share; }

}  // namespace

MapTilt tilt_between(const ThicknessMap& map, const ThicknessMap& reference, const Outline& outline) {
  const Grid &a = map.grid, &b = reference.grid;
  if (std::abs(a.cell_mm - b.cell_mm) > 1e-9) throw UsageError({"layings.cell_sizes"});
  if (reference.slope_x.size() == 0) throw std::logic_error("a map as it was measured, with its slopes");
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
  if (rows.size() < fewest) throw UsageError({"layings.few_cells"});
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

Layings compare_layings(const std::vector<Laying>& each, const Outline& outline) {
  Layings layings;
  layings.count = each.size();
  double points = 0.0, variance = 0.0;
  for (const Laying& laying : each) {
    points += laying.points;
    variance = std::max(variance, square(laying.u_roll_um));
  }
  for (const Laying& laying : each) layings.weights.push_back(laying.points / points);
  layings.u_roll_um = std::sqrt(2.0 * variance);
  layings.noise = std::max_element(each.begin(), each.end(), [](const Laying& a, const Laying& b) {
                    return in_all(a.map.noise) < in_all(b.map.noise);
                  })->map.noise;
  double low = 0.0, high = 0.0;
  for (std::size_t k = 1; k < each.size(); ++k) {
    layings.others.push_back(tilt_between(each[k].map, each.front().map, outline));
    const double roll_um = layings.others.back().roll_um;
    if (roll_um < low) low = roll_um, layings.lowest = k;
    if (roll_um > high) high = roll_um, layings.highest = k;
  }
  layings.roll_range_um = high - low;
  return layings;
}

void keep_noise_of_one(const Layings& layings, LocalNoise& of_all) {
  if (!(layings.noise.filled_share > 0.0) || in_all(of_all) <= in_all(layings.noise)) return;
  const double filled = of_all.filled_share / layings.noise.filled_share;
  of_all.covariance_sum_mm2 = layings.noise.covariance_sum_mm2 * filled;
  of_all.far_sum_mm2 = layings.noise.far_sum_mm2 * filled;
  of_all.far_reach_mm = layings.noise.far_reach_mm;
}

Priors seating_of(const Layings& layings, Priors priors, bool laid_anew) {
  if (layings.count < 2) return priors;
  const auto values = [&](double MapTilt::*part) {
    std::vector<double> all{0.0};  // The first laying against itself.
    for (const MapTilt& other : layings.others) all.push_back(other.*part);
    return all;
  };
  priors.seating_offset_um = widened_um(values(&MapTilt::height_um), layings, priors.seating_offset_um, laid_anew);
  priors.seating_pitch_um = widened_um(values(&MapTilt::pitch_um), layings, priors.seating_pitch_um, laid_anew);
  priors.seating_roll_um = widened_um(values(&MapTilt::roll_um), layings, priors.seating_roll_um, laid_anew);
  return priors;
}

}  // namespace canewise
