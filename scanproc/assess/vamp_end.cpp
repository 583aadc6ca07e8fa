#include "scanproc/assess/vamp_end.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <vector>

#include "scanproc/assess/column_end.h"
#include "scanproc/core/error.h"
#include "scanproc/core/linear_fit.h"
#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

constexpr std::array kStretches_mm{0.2, 0.5, 0.8, 1.2, 1.8, 2.7, 4.0, 6.0};  // Of the cut before its end.
constexpr std::array kBark_mm{8.0, 4.0};                                     // Of the bark behind it.

/// The columns' places as a curve across.
struct AcrossFit {
  Measured at_mm, off_centre;
  double bend = 0.0;
  double slope = 0.0, cut_rms_mm = 0.0, bark_rms_mm = 0.0, gap_mm = 0.0;
  bool valid = false;
  [[nodiscard]] double at(double y_mm) const { return at_mm.value + off_centre.value * y_mm + bend * y_mm * y_mm; }
};

AcrossFit fit_across(const std::vector<MapColumn>& columns, const std::vector<ColumnPlace>& places,
                     const CutStretch& stretch) {
  std::vector<double> y, end, gaps, slopes;
  double cut_squares = 0.0, cut_cells = 0.0, bark_squares = 0.0, bark_cells = 0.0;
  for (std::size_t k = 0; k < columns.size(); ++k) {
    if (std::isnan(places[k].rough_mm)) continue;
    const ColumnEnd fit = fit_end(columns[k], places[k], stretch);
    if (std::isnan(fit.at_mm)) continue;
    y.push_back(columns[k].y_mm);
    end.push_back(fit.at_mm);
    gaps.push_back(fit.gap_mm);
    slopes.push_back(fit.slope);
    cut_squares += fit.squares_mm2, cut_cells += fit.cut_cells;
    bark_squares += fit.bark_squares_mm2, bark_cells += fit.bark_cells;
  }
  AcrossFit across;
  constexpr std::size_t fewest = 6;
  if (end.size() < std::max(fewest, columns.size() / 2)) return across;
  const auto n = static_cast<Eigen::Index>(end.size());
  Eigen::MatrixXd design(n, 3);
  for (Eigen::Index i = 0; i < n; ++i) {
    const double v = y[static_cast<std::size_t>(i)];
    design.row(i) << 1.0, v, v * v;
  }
  const LinearFit curve = fit_linear_robust(design, Eigen::Map<const Eigen::VectorXd>(end.data(), n), 5e-3);
  // Neighbouring columns share half of their points.
  const double shared = std::numbers::sqrt2;
  across.at_mm = {curve.coefficients(0), shared * std::sqrt(curve.covariance(0, 0))};
  across.off_centre = {curve.coefficients(1), shared * std::sqrt(curve.covariance(1, 1))};
  across.bend = curve.coefficients(2);
  across.slope = median(std::move(slopes));
  across.cut_rms_mm = std::sqrt(cut_squares / std::max(1.0, cut_cells));
  across.bark_rms_mm = std::sqrt(bark_squares / std::max(1.0, bark_cells));
  across.gap_mm = median(std::move(gaps));
  across.valid = true;
  return across;
}

/// By how much the scanner's slow error moves the end: it lifts the cut against the bark, and the cut climbs by
/// `slope`. It is averaged across the columns, and what cut and bark share moves nothing.
double u_of_slow_error_mm(const LocalNoise& noise, double across_mm, const CutStretch& stretch, double slope) {
  if (!(noise.smooth_mm > 0.0)) return 0.0;
  const double length = noise.smooth_length_mm, apart_mm = 0.5 * (stretch.cut_mm + stretch.bark_mm);
  const double variance =
      2.0 * square(noise.smooth_mm) * length / (length + across_mm) * apart_mm / (apart_mm + length);
  return std::sqrt(variance) / slope;
}

/// First with the corner, to find it; then without.
AcrossFit fit_without_corner(const std::vector<MapColumn>& columns, std::vector<ColumnPlace> places,
                             CutStretch stretch) {
  const AcrossFit with = fit_across(columns, places, stretch);
  if (!with.valid) return with;
  constexpr double rounding_mm = 0.07, shortest_mm = 0.3, longest_mm = 1.2;
  const double half = rounding_mm / std::max(with.slope, 1e-3);
  if (half < shortest_mm) return with;  // A steep cut's corner is smaller than a cell.
  stretch.corner_half_mm = std::min(half, longest_mm);
  for (std::size_t k = 0; k < places.size(); ++k) places[k].corner_mm = with.at(columns[k].y_mm);
  return fit_across(columns, places, stretch);
}

/// How far the cut lies below the bark, by the distance before its end, averaged over the columns.
std::vector<double> drop_by_distance(const std::vector<MapColumn>& columns, const VampEnd& end, double step_mm,
                                     double reach_mm) {
  const auto count = static_cast<std::size_t>(reach_mm / step_mm);
  std::vector<double> sums(count, 0.0), cells(count, 0.0);
  for (const auto& column : columns) {
    if (std::abs(column.y_mm) > 1.5) continue;
    const double at = end.at_mm.value + end.off_centre.value * column.y_mm;
    for (std::size_t i = 0; i < column.x_mm.size(); ++i) {
      const double k = std::floor((at - column.x_mm[i]) / step_mm);
      if (k < 0.0 || k >= static_cast<double>(count)) continue;
      sums[static_cast<std::size_t>(k)] += column.height_mm[i];
      cells[static_cast<std::size_t>(k)] += 1.0;
    }
  }
  for (std::size_t k = 0; k < count; ++k) sums[k] = cells[k] > 0.0 ? sums[k] / cells[k] : std::nan("");
  return sums;
}

struct Shoulder {
  ShoulderKind kind = ShoulderKind::unclear;
  Measured climb_slope;
};

/// Steep: over a millimetre the last climb rises much more than the vamp before it. Stepped: between two climbs lies a
/// flat. The limits are this project's own.
Shoulder shoulder_of(const std::vector<MapColumn>& columns, const VampEnd& end) {
  constexpr double step_mm = 0.5, reach_mm = 9.0;
  const auto heights = drop_by_distance(columns, end, step_mm, reach_mm);
  std::vector<double> slopes;  // Of the millimetre that begins k steps before the end.
  for (std::size_t k = 0; k + 2 < heights.size(); ++k)
    slopes.push_back((heights[k] - heights[k + 2]) / (2.0 * step_mm));
  constexpr std::size_t last = 10;  // 5 mm.
  double steepest = 0.0, before = 0.0;
  for (std::size_t k = 0; k < slopes.size(); ++k) {
    if (std::isnan(slopes[k])) return {};
    if (k < last && slopes[k] > steepest) steepest = slopes[k];
    if (k + 4 >= slopes.size()) before += 0.25 * slopes[k];
  }
  const double u = 2.0 * end.at_mm.u * steepest / step_mm;
  Shoulder shoulder;
  shoulder.climb_slope = {steepest, std::hypot(0.02, std::min(u, steepest))};
  // A flat: a gentle millimetre with a climb on either side of it.
  bool has_flat = false;
  for (std::size_t k = 1; k + 2 < last; ++k) {
    const double nearer = *std::max_element(slopes.begin(), slopes.begin() + static_cast<std::ptrdiff_t>(k));
    const double farther =
        *std::max_element(slopes.begin() + static_cast<std::ptrdiff_t>(k) + 1, slopes.begin() + last);
    constexpr double flat_share = 0.5;
    has_flat |= slopes[k] < flat_share * std::min(nearer, farther);
  }
  constexpr double steep = 0.3, gentle = 0.22, times = 2.0;
  if (has_flat) {
    shoulder.kind = ShoulderKind::stepped;
  } else if (steepest > steep && steepest > times * before) {
    shoulder.kind = ShoulderKind::steep;
  } else if (steepest < gentle || steepest < times * before) {
    shoulder.kind = ShoulderKind::gentle;
  }
  return shoulder;
}

}  // namespace

std::string_view name_of(ShoulderKind kind) {
  constexpr std::array<std::string_view, 4> names{"gentle", "steep", "stepped", "cannot tell"};
  return names.at(static_cast<std::size_t>(kind));
}

VampEnd find_vamp_end(const ThicknessMap& map, const Aligned& aligned, double crown_from_mm) {
  const double length = aligned.outline.length_mm;
  const auto columns = columns_near_centre(map, aligned.outline, length);
  std::vector<ColumnPlace> places;
  std::vector<double> known;
  for (const auto& column : columns) {
    places.push_back({rough_end(column, crown_from_mm)});
    known.push_back(places.back().rough_mm);
  }
  std::erase_if(known, [](double x) { return std::isnan(x); });
  const double middle = median(known);
  if (known.size() < columns.size() / 2 || !(middle > 0.25 * length && middle < 0.75 * length)) {
    throw NotMeasurable({"vamp_end.no_shoulder"});
  }
  for (ColumnPlace& place : places) {
    constexpr double farthest_mm = 4.0;
    if (!(std::abs(place.rough_mm - middle) < farthest_mm)) place.rough_mm = std::nan("");
  }
  // The longest stretch of the cut that a parabola fits as well as a line fits the bark.
  constexpr double as_well = 1.25, spare_mm = 1e-3;
  std::array<AcrossFit, kStretches_mm.size()> fits;
  std::size_t chosen = kStretches_mm.size();
  for (std::size_t k = 0; k < kStretches_mm.size(); ++k) {
    fits.at(k) = fit_without_corner(columns, places, {kStretches_mm.at(k), kBark_mm[0]});
    if (!fits.at(k).valid) continue;
    const bool fits_well = fits.at(k).cut_rms_mm < as_well * fits.at(k).bark_rms_mm + spare_mm;
    if (chosen == kStretches_mm.size() || fits_well) chosen = k;
    if (!fits_well && chosen != k) break;
  }
  if (chosen == kStretches_mm.size()) {
    throw NotMeasurable({"vamp_end.too_few_points"});
  }
  const AcrossFit& fit = fits.at(chosen);
  VampEnd end;
  end.off_centre = fit.off_centre;
  // What another choice of the stretches would have said.
  const std::size_t other = chosen > 0 && fits.at(chosen - 1).valid ? chosen - 1 : chosen;
  const double u_cut = 0.5 * std::abs(fit.at_mm.value - fits.at(other).at_mm.value);
  const AcrossFit near_bark = fit_without_corner(columns, places, {kStretches_mm.at(chosen), kBark_mm[1]});
  const double u_bark = near_bark.valid ? 0.5 * std::abs(fit.at_mm.value - near_bark.at_mm.value) : 0.0;
  // Where cells are missing, the end lies anywhere between those that are left; else it is known to a part of a cell.
  const double usual_gap = map.grid.cell_mm;
  const double u_gap = std::max(0.0, fit.gap_mm - usual_gap) / std::sqrt(12.0);
  // A corner that is rounded by a few micrometres begins that much earlier; drawn shoulders of every form showed both.
  constexpr double cell_share = 0.17, rounded_mm = 0.004;
  const double slope = std::max(fit.slope, rounded_mm);
  const double across_mm = columns.back().y_mm - columns.front().y_mm;
  const double u_slow = u_of_slow_error_mm(map.noise, across_mm, {kStretches_mm.at(chosen), kBark_mm[0]}, slope);
  double variance = square(cell_share * map.grid.cell_mm) + square(aligned.uncertainty.x_mm);
  for (const double part : {fit.at_mm.u, u_cut, u_bark, u_gap, u_slow, rounded_mm / slope}) variance += square(part);
  end.at_mm = {fit.at_mm.value, std::sqrt(variance)};
  const Shoulder shoulder = shoulder_of(columns, end);
  end.shoulder = shoulder.kind;
  // A wall as short as a cell's footprint leaves no cell that shows it clean; where it ends was off by up to 0.4 of a
  // cell on walls of 0.3 to 3 mm.
  constexpr double wall_share = 0.25;
  if (shoulder.kind == ShoulderKind::steep || shoulder.kind == ShoulderKind::stepped)
    end.at_mm.u = std::hypot(end.at_mm.u, wall_share * map.grid.cell_mm);
  end.climb_slope = shoulder.climb_slope;
  return end;
}

}  // namespace canewise
