#include "scanproc/compare/removed_cane.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <utility>
#include <vector>

#include "scanproc/core/error.h"
#include "scanproc/core/statistics.h"
#include "scanproc/scrape/scrape_region.h"

namespace canewise {
namespace {

using Index = Eigen::Index;

/// A hand's slip: within this distance of a planned place cane may be gone.
constexpr double kSlip_mm = 1.5;

/// Away from everything that was to be scraped; without a plan only bark and heart are sure to be so.
bool untouched(const Result& before, bool left_right_only, double x, double y) {
  const double vamp = before.assessment.cut.vamp_length_mm.value;
  constexpr double off_rim_mm = 0.6;
  if (!before.outline.holds(x, y, off_rim_mm)) return false;
  if (std::abs(x - vamp) < 1.5) return false;  // The shoulder is steep.
  if (x > vamp) return true;
  if (before.plan.steps.empty()) {
    const double t = x / vamp, e = std::abs(y) / before.outline.half_width_mm(x);
    return t > ZoneLimits::t[2] && t < ZoneLimits::t[3] && e < ZoneLimits::e[1];
  }
  return std::none_of(before.plan.steps.begin(), before.plan.steps.end(), [&](const ScrapeStep& step) {
    return within_slip(step, x, y) || (left_right_only && within_slip(step, x, -y));
  });
}

/// Places of the cells in their field. Throws NotMeasurable where these are too few.
std::vector<Index> untouched_cells(const Difference& difference, const Result& before) {
  const Grid& grid = difference.grid;
  std::vector<Index> cells;
  // Of mirror images that say the same one counts.
  for (Index c = difference.left_right_only ? grid.columns / 2 : 0; c < grid.columns; ++c) {
    for (Index r = 0; r < grid.rows; ++r) {
      if (!std::isnan(difference.removed_mm(r, c)) &&
          untouched(before, difference.left_right_only, grid.x_mm(r), grid.y_mm(c)))
        cells.push_back(c * grid.rows + r);
    }
  }
  constexpr std::size_t fewest = 50;
  if (cells.size() < fewest) {
    throw NotMeasurable(Message{"comparison.too_little_untouched"});
  }
  return cells;
}

/// Each shape's value in one cell.
Eigen::VectorXd shapes_in(const Difference& difference, Index cell) {
  const auto& fields = difference.layings.fields;
  Eigen::VectorXd row(static_cast<Index>(fields.size()));
  for (Index k = 0; k < row.size(); ++k) row(k) = static_cast<double>(fields[static_cast<std::size_t>(k)].data()[cell]);
  return row;
}

/// How much of each shape is in the difference.
struct LayingFit {
  Eigen::VectorXd fitted;  ///< In standard deviations of the priors.
  Eigen::MatrixXd covariance;
  double cell_sd_mm = 0.0;  ///< Of what no shape explains.
  double scale = 1.0;       ///< That over what the scans' own estimates say of their noise.
};

/// Linear model with priors. Cells far off the last fit were scraped without a plan, and count less.
LayingFit fit_again(const Difference& difference, const std::vector<Index>& cells, const LayingFit& last,
                    bool is_first) {
  const Index count = last.fitted.size();
  Eigen::MatrixXd normal = Eigen::MatrixXd::Identity(count, count);
  Eigen::VectorXd right = Eigen::VectorXd::Zero(count);
  std::vector<double> rest;
  rest.reserve(cells.size());
  const double sd = std::sqrt(difference.variance_mm2) * last.scale;
  // Cells within the reach of a slow error repeat each other.
  const double alike_cells = std::numbers::pi / 4.0 * square(difference.slow_length_mm / difference.grid.cell_mm);
  const double repeats = 1.0 + difference.slow_variance_mm2 * alike_cells / square(sd);
  for (const Index cell : cells) {
    const Eigen::VectorXd row = shapes_in(difference, cell);
    const double value = difference.removed_mm.data()[cell], residual = value - row.dot(last.fitted);
    rest.push_back(residual);
    constexpr double huber = 1.5;
    const double weight = (is_first ? 1.0 : std::min(1.0, huber * sd / std::abs(residual))) / square(sd);
    normal += weight / repeats * row * row.transpose();
    right += weight / repeats * value * row;
  }
  LayingFit fit;
  fit.covariance = normal.inverse();
  fit.fitted = fit.covariance * right;
  // Noise that the scans' own estimates do not know (another seating of dust, say) widens everything.
  fit.cell_sd_mm = mad_sigma(rest, 0.0);
  fit.scale = std::clamp(fit.cell_sd_mm / std::sqrt(difference.variance_mm2), 1.0, 10.0);
  return fit;
}

LayingFit fit_layings(const Difference& difference, const std::vector<Index>& cells) {
  const auto count = static_cast<Index>(difference.layings.fields.size());
  LayingFit fit;
  fit.fitted = Eigen::VectorXd::Zero(count);
  constexpr int rounds = 8;
  for (int round = 0; round < rounds; ++round) fit = fit_again(difference, cells, fit, round == 0);
  return fit;
}

/// What is not known of each cell after the fit.
Field u_after(const Difference& difference, const Eigen::MatrixXd& root, double cell_sd_mm) {
  Field u_mm = Field::Constant(difference.grid.rows, difference.grid.columns, std::numeric_limits<float>::quiet_NaN());
  for (Index i = 0; i < u_mm.size(); ++i) {
    if (std::isnan(difference.removed_mm.data()[i])) continue;
    const Eigen::VectorXd row = shapes_in(difference, i);
    u_mm.data()[i] = static_cast<float>(std::hypot(cell_sd_mm, (root.transpose() * row).norm()));
  }
  return u_mm;
}

}  // namespace

RemovedCane freed_of_layings(Difference difference, const Result& before, const Clip& clip) {
  const LayingFit fit = fit_layings(difference, untouched_cells(difference, before));
  const LayingShapes& layings = difference.layings;
  for (std::size_t k = 0; k < layings.fields.size(); ++k)
    difference.removed_mm -= static_cast<float>(fit.fitted(static_cast<Index>(k))) * layings.fields[k];
  difference.variance_mm2 *= square(fit.scale);
  RemovedCane removed;
  removed.clipped_mm = clip.clipped_mm;
  // Swelling is a gain of thickness, hence the shape's sign.
  removed.swelling_rel = fit.fitted(0) * layings.swelling_spread;
  removed.u_swelling_rel = std::sqrt(fit.covariance(0, 0)) * layings.swelling_spread;
  removed.root = fit.covariance.llt().matrixL();
  removed.u_mm = u_after(difference, removed.root, fit.cell_sd_mm);
  removed.difference = std::move(difference);
  return removed;
}

CellMean mean_where(const RemovedCane& removed, const Field& planned_mm, const CellTest& take) {
  const Difference& difference = removed.difference;
  const Grid& grid = difference.grid;
  const auto& shapes = difference.layings.fields;
  CellMean mean;
  Eigen::VectorXd common = Eigen::VectorXd::Zero(static_cast<Index>(shapes.size()));
  for (Index c = 0; c < grid.columns; ++c) {
    for (Index r = 0; r < grid.rows; ++r) {
      if (std::isnan(difference.removed_mm(r, c)) || !take(r, c)) continue;
      ++mean.cells;
      mean.mean_mm += static_cast<double>(difference.removed_mm(r, c));
      mean.planned_mm += static_cast<double>(planned_mm(r, c));
      for (std::size_t k = 0; k < shapes.size(); ++k)
        common(static_cast<Index>(k)) += static_cast<double>(shapes[k](r, c));
    }
  }
  const auto n = static_cast<double>(mean.cells);
  mean.mean_mm /= n;
  mean.planned_mm /= n;
  const double size_mm = grid.cell_mm * std::sqrt(n), slow_mm = difference.slow_length_mm;
  const double alike = slow_mm > 0.0 ? square(slow_mm / (slow_mm + size_mm)) : 0.0;
  mean.u_mm = std::sqrt(difference.variance_mm2 / n + difference.slow_variance_mm2 * alike +
                        (removed.root.transpose() * (common / n)).squaredNorm());
  return mean;
}

CellMean mean_where(const RemovedCane& removed, const CellTest& take) {
  const Grid& grid = removed.difference.grid;
  return mean_where(removed, Field::Zero(grid.rows, grid.columns), take);
}

bool within_slip(const ScrapeStep& step, double x_mm, double y_mm) {
  if (x_mm < step.from_mm - kSlip_mm || x_mm > step.to_mm + kSlip_mm) return false;
  if (holds(step.polygon, x_mm, y_mm)) return true;
  const auto& p = step.polygon;
  for (std::size_t i = 0, j = p.size() - 1; i < p.size(); j = i++) {
    const double ax = p[j].x_mm, ay = p[j].y_mm, bx = p[i].x_mm - ax, by = p[i].y_mm - ay;
    const double length2 = square(bx) + square(by);
    const double t = length2 > 0.0 ? std::clamp(((x_mm - ax) * bx + (y_mm - ay) * by) / length2, 0.0, 1.0) : 0.0;
    if (square(x_mm - ax - t * bx) + square(y_mm - ay - t * by) < square(kSlip_mm)) return true;
  }
  return false;
}

}  // namespace canewise
