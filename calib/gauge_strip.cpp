#include "calib/gauge_strip.h"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "scanproc/core/error.h"
#include "scanproc/core/units.h"

namespace canewise {
namespace {

using Places = std::vector<Eigen::Vector2d>;

/// Points nearer to the strip's height than to the plate.
Places at_height(const Eigen::Matrix3Xd& points, double nominal_mm) {
  Places on;
  for (Eigen::Index i = 0; i < points.cols(); ++i) {
    if (points(2, i) > 0.5 * nominal_mm && points(2, i) < 1.5 * nominal_mm) on.emplace_back(points(0, i), points(1, i));
  }
  return on;
}

/// Cells of half a millimetre over the box of some places.
struct Cells {
  Eigen::Vector2d low;
  Eigen::Vector2i size;

  static constexpr double kSide_mm = 0.5;
  [[nodiscard]] Eigen::Vector2i of(double x, double y) const {
    return {static_cast<int>(std::floor((x - low.x()) / kSide_mm)),
            static_cast<int>(std::floor((y - low.y()) / kSide_mm))};
  }
  [[nodiscard]] bool hold(const Eigen::Vector2i& c) const {
    return c.x() >= 0 && c.y() >= 0 && c.x() < size.x() && c.y() < size.y();
  }
};

Cells cells_over(const Places& places) {
  Eigen::Vector2d low = places.front(), high = places.front();
  for (const auto& p : places) low = low.cwiseMin(p), high = high.cwiseMax(p);
  return {low, ((high - low) / Cells::kSide_mm).array().floor().cast<int>() + 1};
}

/// Those in cells that are full of points at the strip's height: noise on a bare plate fills none.
Places in_full_cells(const Places& on, const Eigen::Matrix3Xd& points) {
  const Cells cells = cells_over(on);
  Eigen::ArrayXXi strip = Eigen::ArrayXXi::Zero(cells.size.y(), cells.size.x()), all = strip;
  for (Eigen::Index i = 0; i < points.cols(); ++i) {
    const Eigen::Vector2i c = cells.of(points(0, i), points(1, i));
    if (cells.hold(c)) ++all(c.y(), c.x());
  }
  for (const auto& p : on) {
    const Eigen::Vector2i c = cells.of(p.x(), p.y());
    if (cells.hold(c)) ++strip(c.y(), c.x());
  }
  Places core;
  for (const auto& p : on) {
    const Eigen::Vector2i c = cells.of(p.x(), p.y());
    if (cells.hold(c) && 10 * strip(c.y(), c.x()) >= 7 * all(c.y(), c.x())) core.push_back(p);
  }
  return core;
}

/// Where places begin and end along a direction.
struct Stretch {
  double begin = 0.0, end = 0.0;
};

constexpr double kCut = 0.01;

/// All but a hundredth at each end.
Stretch most_of(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  const auto at = [&](double share) {
    return values[static_cast<std::size_t>(share * static_cast<double>(values.size() - 1))];
  };
  return {at(kCut), at(1 - kCut)};
}

/// The rectangle that the places fill evenly.
GaugeStrip rectangle_of(const Places& core) {
  Eigen::Vector2d mean = Eigen::Vector2d::Zero();
  for (const auto& p : core) mean += p / static_cast<double>(core.size());
  Eigen::Matrix2d scatter = Eigen::Matrix2d::Zero();
  for (const auto& p : core) scatter += (p - mean) * (p - mean).transpose();
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d> eigen(scatter);
  GaugeStrip found;
  found.along = eigen.eigenvectors().col(1);
  const Eigen::Vector2d across = found.across();
  std::vector<double> s, t;
  for (const auto& p : core) s.push_back(found.along.dot(p - mean)), t.push_back(across.dot(p - mean));
  const Stretch length = most_of(std::move(s)), width = most_of(std::move(t));
  // Of an even density the true ends lie a hundredth further out.
  found.length_mm = (length.end - length.begin) / (1.0 - 2.0 * kCut);
  found.width_mm = (width.end - width.begin) / (1.0 - 2.0 * kCut);
  found.middle = mean + 0.5 * (length.begin + length.end) * found.along + 0.5 * (width.begin + width.end) * across;
  return found;
}

}  // namespace

GaugeStrip find_strip(const Eigen::Matrix3Xd& points, double nominal_mm, const std::string& name) {
  const Places on = at_height(points, nominal_mm);
  constexpr std::size_t fewest = 200;
  if (on.size() < fewest)
    throw InputError({"gauge.no_strip", {{"file", text(name)}, {"height", um(um_from_mm(nominal_mm))}}});
  const Places core = in_full_cells(on, points);
  if (core.size() < fewest) throw InputError({"gauge.no_flat_top", {{"file", text(name)}}});
  return rectangle_of(core);
}

}  // namespace canewise
