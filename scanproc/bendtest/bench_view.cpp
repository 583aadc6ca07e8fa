#include "scanproc/bendtest/bench_view.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "scanproc/compare/thickness_at.h"
#include "scanproc/core/error.h"
#include "scanproc/core/linear_fit.h"
#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

constexpr double kNotSeen = std::numeric_limits<double>::quiet_NaN();

/// Points of the block's top to the left and right of the reed.
std::vector<Eigen::Vector3d> block_points(const Eigen::Matrix3Xd& points, const Outline& outline, double from_mm,
                                          double to_mm) {
  std::vector<Eigen::Vector3d> block;
  constexpr double beside_mm = 1.0, farthest_mm = 9.0, near_mm = 0.4;
  for (Eigen::Index k = 0; k < points.cols(); ++k) {
    const Eigen::Vector3d p = points.col(k);
    if (std::abs(p.z()) > near_mm || p.x() < from_mm || p.x() > to_mm) continue;
    const double out = p.y() < 0.0 ? outline.left.at(p.x()) - p.y() : p.y() - outline.right.at(p.x());
    if (out > beside_mm && out < farthest_mm) block.push_back(p);
  }
  return block;
}

/// Where the block begins, from strips along the reed: stray points in the air do not make an edge. A bar that is flush
/// with the edge hides it and tells where it is.
void find_edge(const std::vector<Eigen::Vector3d>& block, const Outline& outline, BenchView& view) {
  constexpr double strip_mm = 1.0, bin_mm = 0.1, flush_mm = 0.3;
  view.edge_mm = view.clamp_from_mm;
  view.u_edge_mm = flush_mm;
  std::vector<double> y_of, x_of;
  const auto bins = static_cast<std::size_t>(outline.length_mm / bin_mm) + 1;
  for (double y = -25.0; y < 25.0; y += strip_mm) {
    std::vector<int> count(bins, 0);
    int all = 0;
    for (const auto& p : block) {
      if (p.y() < y || p.y() >= y + strip_mm) continue;
      ++count[static_cast<std::size_t>(p.x() / bin_mm)];
      ++all;
    }
    constexpr int fewest = 15;
    if (all < fewest) continue;
    // A few stray points may lie before it.
    constexpr int most_stray = 3;
    const int stray = std::min(all / 20, most_stray);
    int passed = 0;
    for (std::size_t k = 0; k < bins; ++k) {
      passed += count[k];
      if (passed <= stray) continue;
      y_of.push_back(y + 0.5 * strip_mm);
      x_of.push_back(static_cast<double>(k) * bin_mm);
      break;
    }
  }
  constexpr std::size_t fewest_strips = 4;
  if (x_of.size() < fewest_strips) return;
  const auto n = static_cast<Eigen::Index>(x_of.size());
  Eigen::MatrixXd design(n, 2);
  Eigen::VectorXd x(n);
  for (Eigen::Index k = 0; k < n; ++k) {
    design.row(k) << 1.0, y_of[static_cast<std::size_t>(k)];
    x(k) = x_of[static_cast<std::size_t>(k)];
  }
  view.edge_was_seen = true;
  if (y_of.front() * y_of.back() > 0.0) {  // One side alone says nothing of a slant.
    std::vector<double> values(x.data(), x.data() + n);
    view.edge_mm = median(values);
    view.u_edge_mm = 0.2;
    return;
  }
  const LinearFit fit = fit_linear_robust(design, x, 0.02);
  view.edge_mm = fit.coefficients(0);
  view.edge_skew = fit.coefficients(1);
  view.u_edge_mm = std::hypot(std::sqrt(fit.covariance(0, 0)), 0.05);
}

/// The rows of the map that the clamp hides: the longest stretch behind the vamp where hardly a cell is seen.
void find_clamp(const Result& reed, BenchView& view) {
  const Grid& grid = reed.map.grid;
  const double from_mm = 0.25 * reed.outline.length_mm;
  Eigen::Index begin = 0, best_begin = 0, best = 0;
  bool hidden_before = false;
  for (Eigen::Index r = 0; r < grid.rows; ++r) {
    int known = 0, seen = 0;
    for (Eigen::Index c = 0; c < grid.columns; ++c) {
      if (!reed.map.measured(r, c)) continue;
      ++known;
      seen += std::isnan(view.surface.height_mm(r, c)) ? 0 : 1;
    }
    const bool hidden = grid.x_mm(r) > from_mm && known > 0 && 2 * seen < known;
    if (hidden && !hidden_before) begin = r;
    if (hidden && r + 1 - begin > best) best_begin = begin, best = r + 1 - begin;
    hidden_before = hidden;
  }
  constexpr double narrowest_mm = 2.0;
  if (static_cast<double>(best) * grid.cell_mm < narrowest_mm) throw NotMeasurable({"bendtest.no_clamp"});
  view.clamp_from_mm = static_cast<double>(best_begin) * grid.cell_mm;
  view.clamp_to_mm = static_cast<double>(best_begin + best) * grid.cell_mm;
  if (reed.outline.length_mm - view.clamp_to_mm < kStockSeen_mm) {
    throw NotMeasurable(
        {"bendtest.little_stock",
         {{"seen", mm(std::max(0.0, reed.outline.length_mm - view.clamp_to_mm))}, {"needed", mm(kStockSeen_mm)}}});
  }
}

}  // namespace

BenchView view_bench(const Eigen::Matrix3Xd& points_mm, const Result& reed, const BenchSearch& search) {
  BenchView view;
  view.place = find_on_bench(points_mm, reed, search);
  Eigen::Matrix3Xd in_reed = view.place.reed_from_scan * points_mm;
  // The reed alone: what stands higher behind the vamp is the clamp, what lies far below is the bench.
  constexpr double vamp_mm = 15.0, higher_mm = 0.3, lower_mm = 3.0, tip_part_mm = 16.0;
  Eigen::Matrix3Xd reed_points(3, in_reed.cols()), tip(3, in_reed.cols());
  Eigen::Index kept = 0, at_tip = 0;
  for (Eigen::Index k = 0; k < in_reed.cols(); ++k) {
    const Eigen::Vector3d p = in_reed.col(k);
    if (!reed.outline.holds(p.x(), p.y())) continue;
    const double height = thickness_at(reed.map, p.x(), p.y());
    if (p.x() < tip_part_mm && std::isfinite(height) && p.z() > height - lower_mm) tip.col(at_tip++) = p;
    if (p.x() > vamp_mm && !(p.z() < height + higher_mm)) continue;
    if (p.z() < (std::isfinite(height) ? height : 0.0) - lower_mm) continue;
    reed_points.col(kept++) = p;
  }
  reed_points.conservativeResize(3, kept);
  tip.conservativeResize(3, at_tip);
  view.tip_points_mm = std::move(tip);
  constexpr double margin_mm = 0.1;
  view.surface = measure_surface(points_by_band(reed_points, {}, InnerOutline{reed.outline, margin_mm}, reed.map.grid),
                                 reed.map.grid);
  find_clamp(reed, view);
  constexpr double vamp_at_least_mm = 15.0;
  find_edge(block_points(in_reed, reed.outline, vamp_at_least_mm, view.clamp_from_mm), reed.outline, view);
  std::vector<double> heights;
  for (const auto& p : block_points(in_reed, reed.outline, view.clamp_to_mm, reed.outline.length_mm))
    heights.push_back(p.z());
  constexpr std::size_t fewest = 100;
  view.block_mm = heights.size() < fewest ? kNotSeen : median(heights);
  return view;
}

}  // namespace canewise
