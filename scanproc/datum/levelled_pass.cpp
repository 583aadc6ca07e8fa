#include "scanproc/datum/levelled_pass.h"

#include <Eigen/Eigenvalues>
#include <Eigen/LU>
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>
#include <utility>

#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

constexpr double kLeastShare = 0.88;  // The rest may be edges and strays.

}  // namespace

LongAxis long_axis_of(const std::vector<Eigen::Vector3d>& points) {
  LongAxis axis;
  for (const auto& p : points) axis.middle += p.head<2>() / static_cast<double>(points.size());
  Eigen::Matrix2d scatter = Eigen::Matrix2d::Zero();
  for (const auto& p : points) scatter += (p.head<2>() - axis.middle) * (p.head<2>() - axis.middle).transpose();
  axis.along = Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d>(scatter).eigenvectors().col(1);
  for (const auto& p : points)
    axis.half_length = std::max(axis.half_length, std::abs(axis.along.dot(p.head<2>() - axis.middle)));
  return axis;
}

LevelledPass::LevelledPass(const Eigen::Matrix3Xd& points, double plate_noise_mm)
    : noise_mm_(plate_noise_mm), reed_above_mm_(std::max(0.25, 5.0 * plate_noise_mm)) {
  // All but the outermost points, so that a far stray does not make the grid large.
  std::vector<double> xs, ys;
  const Eigen::Index step = std::max<Eigen::Index>(1, points.cols() / 20000);
  for (Eigen::Index i = 0; i < points.cols(); i += step) xs.push_back(points(0, i)), ys.push_back(points(1, i));
  std::sort(xs.begin(), xs.end());
  std::sort(ys.begin(), ys.end());
  const std::size_t trim = xs.size() / 1000;
  x_low_ = xs[trim] - kCell_mm;
  y_low_ = ys[trim] - kCell_mm;
  constexpr double largest_mm = 1000.0;
  rows_ = static_cast<Eigen::Index>(std::min(largest_mm, xs[xs.size() - 1 - trim] - x_low_) / kCell_mm) + 2;
  columns_ = static_cast<Eigen::Index>(std::min(largest_mm, ys[ys.size() - 1 - trim] - y_low_) / kCell_mm) + 2;
  std::vector<Cell> cells(static_cast<std::size_t>(rows_ * columns_));
  for (Eigen::Index i = 0; i < points.cols(); ++i) {
    const Eigen::Vector3d p = points.col(i);
    const double row = std::floor((p.x() - x_low_) / kCell_mm), column = std::floor((p.y() - y_low_) / kCell_mm);
    if (!(row >= 0 && column >= 0 && row < static_cast<double>(rows_) && column < static_cast<double>(columns_)))
      continue;
    if (std::abs(p.z()) > 12.0) continue;
    Cell& cell =
        cells[static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_) + static_cast<std::size_t>(column)];
    cell.moments.add(p.x() - x_low_ - (row + 0.5) * kCell_mm, p.y() - y_low_ - (column + 0.5) * kCell_mm, p.z());
    cell.low = std::min(cell.low, p.z());
    cell.high = std::max(cell.high, p.z());
  }
  heights_.assign(cells.size(), std::numeric_limits<float>::quiet_NaN());
  const double edge_mm = 0.3 + 8.0 * noise_mm_;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    Cell& cell = cells[i];
    const PlaneMoments& m = cell.moments;
    if (m.n < 1.0 || cell.high - cell.low > edge_mm) continue;
    const double x = x_low_ + (static_cast<double>(i / static_cast<std::size_t>(columns_)) + 0.5) * kCell_mm;
    const double y = y_low_ + (static_cast<double>(i % static_cast<std::size_t>(columns_)) + 0.5) * kCell_mm;
    means_.emplace_back(x + m.x / m.n, y + m.y / m.n, m.z / m.n);
    if (means_.back().z() > reed_above_mm_) reed_.push_back(means_.back());
    // At the middle of the cell, not at that of its points: on a slope they differ by more than is looked for.
    constexpr double fewest_for_slope = 6.0;
    heights_[i] = static_cast<float>(m.n >= fewest_for_slope ? m.fit().height : m.z / m.n);
  }
}

double LevelledPass::height_at(double x_mm, double y_mm) const {
  const double u = (x_mm - x_low_) / kCell_mm - 0.5, v = (y_mm - y_low_) / kCell_mm - 0.5;
  const double row = std::floor(u), column = std::floor(v);
  if (!(row >= 0 && column >= 0 && row + 1 < static_cast<double>(rows_) && column + 1 < static_cast<double>(columns_)))
    return std::nan("");
  const auto at = [&](double r, double c) {
    return static_cast<double>(
        heights_[static_cast<std::size_t>(r) * static_cast<std::size_t>(columns_) + static_cast<std::size_t>(c)]);
  };
  const double a = u - row, b = v - column;
  return (1 - a) * ((1 - b) * at(row, column) + b * at(row, column + 1)) +
         a * ((1 - b) * at(row + 1, column) + b * at(row + 1, column + 1));
}

Agreement agreement_of(const LevelledPass& first, const LevelledPass& second, const Eigen::Isometry3d& motion) {
  Agreement agreement;
  const double tolerance = 0.06 + 4.0 * std::hypot(first.noise_mm(), second.noise_mm());
  double agreed = 0.0, sum = 0.0, squares = 0.0;
  for (const auto& mean : second.means()) {
    const Eigen::Vector3d p = motion * mean;
    const double z = first.height_at(p.x(), p.y());
    if (std::isnan(z) || (z < first.reed_above_mm() && p.z() < second.reed_above_mm())) continue;
    agreement.places += 1.0;
    const double difference = p.z() - z;
    if (std::abs(difference) > tolerance) continue;
    agreed += 1.0;
    sum += difference;
    squares += square(difference);
  }
  if (agreed > 0.0) {
    agreement.share = agreed / agreement.places;
    agreement.mean_mm = sum / agreed;
    agreement.rms_mm = std::sqrt(squares / agreed);
  }
  return agreement;
}

bool shapes_differ(const LevelledPass& first, const LevelledPass& second, const Eigen::Isometry3d& motion) {
  struct Patch {
    double n = 0, sum = 0, squares = 0;
  };
  std::map<std::pair<int, int>, Patch> patches;
  constexpr double patch_mm = 2.0, edge_mm = 0.3;
  for (const auto& mean : second.means()) {
    const Eigen::Vector3d p = motion * mean;
    const double z = first.height_at(p.x(), p.y());
    // Both must see the reed here: what one takes for plate is the rim's business.
    if (std::isnan(z) || z < first.reed_above_mm() || p.z() < second.reed_above_mm()) continue;
    const double difference = p.z() - z;
    if (std::abs(difference) > edge_mm) continue;
    Patch& patch =
        patches[{static_cast<int>(std::floor(p.x() / patch_mm)), static_cast<int>(std::floor(p.y() / patch_mm))}];
    patch.n += 1.0;
    patch.sum += difference;
    patch.squares += square(difference);
  }
  // A reed that was laid down anew may lie tilted: that is its seating's business, not its shape's.
  constexpr double fewest = 8.0;
  Eigen::Matrix3d normal = 1e-9 * Eigen::Matrix3d::Identity();
  Eigen::Vector3d right = Eigen::Vector3d::Zero();
  const auto basis = [](const std::pair<int, int>& place) {
    return Eigen::Vector3d(1.0, static_cast<double>(place.first), static_cast<double>(place.second));
  };
  for (const auto& [place, patch] : patches) {
    if (patch.n < fewest) continue;
    normal += basis(place) * basis(place).transpose();
    right += patch.sum / patch.n * basis(place);
  }
  Eigen::Vector3d tilt = normal.ldlt().solve(right);
  constexpr double most_tilt_mm = 0.06;  // From end to end; more is not what lies under a reed.
  double low = 1e300, high = -1e300;
  for (const auto& [place, patch] : patches)
    low = std::min(low, tilt.dot(basis(place))), high = std::max(high, tilt.dot(basis(place)));
  if (high - low > most_tilt_mm) tilt.setZero();
  double asked = 0.0, unlike = 0.0;
  for (const auto& [place, patch] : patches) {
    constexpr double least_mm = 0.012, sure = 3.0, shared = 2.0;
    if (patch.n < fewest) continue;
    const double average = patch.sum / patch.n - tilt.dot(basis(place));
    const double variance = std::max(0.0, patch.squares / patch.n - square(patch.sum / patch.n));
    asked += 1.0;
    unlike += std::abs(average) > least_mm + sure * std::sqrt(shared * variance / patch.n);
  }
  constexpr double one_of = 30.0;
  return unlike >= 3.0 && unlike * one_of > asked;
}

bool slides(const LevelledPass& first, const LevelledPass& second, const Eigen::Isometry3d& motion) {
  std::vector<Eigen::Vector3d> shared;
  const auto disagreement = [&](const Eigen::Isometry3d& moved, std::vector<Eigen::Vector3d>* places) {
    constexpr double cap_mm = 0.3;
    double sum = 0.0, count = 0.0;
    for (const auto& mean : second.means()) {
      const Eigen::Vector3d p = moved * mean;
      const double z = first.height_at(p.x(), p.y());
      if (std::isnan(z) || (z < first.reed_above_mm() && p.z() < second.reed_above_mm())) continue;
      sum += std::min(square(cap_mm), square(p.z() - z));
      count += 1.0;
      if (places != nullptr) places->push_back(p);
    }
    return count > 0.0 ? sum / count : square(cap_mm);
  };
  const double here = disagreement(motion, &shared);
  if (shared.size() < 10) return true;
  // The reed's own axis, not that of what is shared, which may be wider than long.
  const LongAxis axis = long_axis_of(first.reed().size() > second.reed().size() ? first.reed() : [&] {
    std::vector<Eigen::Vector3d> moved;
    for (const auto& p : second.reed()) moved.push_back(motion * p);
    return moved;
  }());
  const Eigen::Vector3d along(axis.along.x(), axis.along.y(), 0.0), across(-axis.along.y(), axis.along.x(), 0.0);
  Eigen::Vector3d middle = Eigen::Vector3d::Zero();
  for (const auto& p : shared) middle += p / static_cast<double>(shared.size());
  constexpr double rise = 2.0, across_mm = 0.5, turn_rad = 0.0175;
  for (const double sign : {-1.0, 1.0}) {
    const std::array<Eigen::Isometry3d, 5> steps{Eigen::Isometry3d(Eigen::Translation3d(sign * along)),
                                                 Eigen::Isometry3d(Eigen::Translation3d(sign * 2.0 * along)),
                                                 Eigen::Isometry3d(Eigen::Translation3d(sign * 3.0 * along)),
                                                 Eigen::Isometry3d(Eigen::Translation3d(sign * across_mm * across)),
                                                 Eigen::Translation3d(middle) *
                                                     Eigen::AngleAxisd(sign * turn_rad, Eigen::Vector3d::UnitZ()) *
                                                     Eigen::Translation3d(-middle)};
    for (const auto& step : steps) {
      if (disagreement(step * motion, nullptr) < rise * here) return true;
    }
  }
  return false;
}

bool agrees(const Agreement& agreement) { return agreement.places >= kFewestPlaces && agreement.share >= kLeastShare; }

}  // namespace canewise
