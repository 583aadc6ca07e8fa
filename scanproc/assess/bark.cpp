#include "scanproc/assess/bark.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <vector>

#include "scanproc/core/error.h"
#include "scanproc/core/linear_fit.h"
#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

constexpr Eigen::Index kTerms = 3;

struct Sample {
  double y_mm, height_mm;
};

/// Every second cell in each direction, with the crown's rise taken off.
std::vector<Sample> samples_of(const ThicknessMap& map, double slope, const Stretch& stretch) {
  std::vector<Sample> samples;
  for (Eigen::Index r = 0; r < map.grid.rows; r += 2) {
    const double x = map.grid.x_mm(r);
    if (!stretch.holds(x)) continue;
    for (Eigen::Index c = 0; c < map.grid.columns; c += 2) {
      if (map.measured(r, c))
        samples.push_back({map.grid.y_mm(c), map.thickness_mm(r, c) - slope * (x - stretch.origin_mm)});
    }
  }
  return samples;
}

/// The fit's covariance if ridges run along the bark: strips of the reed are the independent pieces (the sandwich of
/// [Huber1967], clustered).
Eigen::Matrix3d covariance_by_strips(const std::vector<Sample>& samples, const Eigen::MatrixXd& design,
                                     const Eigen::VectorXd& rest) {
  constexpr double strip_mm = 1.0;
  std::map<long, Eigen::Vector3d> strips;
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const auto row = static_cast<Eigen::Index>(i);
    const auto [strip, is_new] = strips.try_emplace(std::lround(samples[i].y_mm / strip_mm), Eigen::Vector3d::Zero());
    strip->second += rest(row) * design.row(row).transpose();
  }
  Eigen::Matrix3d scatter = Eigen::Matrix3d::Zero();
  for (const auto& [place, sum] : strips) scatter += sum * sum.transpose();
  const double pieces = static_cast<double>(strips.size());
  const Eigen::Matrix3d inverse = (design.transpose() * design).inverse();
  return pieces / std::max(1.0, pieces - static_cast<double>(kTerms)) * (inverse * scatter * inverse);
}

}  // namespace

double Bark::at(double x_mm, double y_mm) const {
  const double radius = radius_mm.value, y = y_mm - crown_y_mm.value;
  return height_mm.value + slope * (x_mm - from_x_mm) -
         (radius - std::sqrt(std::max(0.1 * radius * radius, radius * radius - y * y)));
}

Bark fit_bark(const ThicknessMap& map, double slope, const Stretch& stretch) {
  const std::vector<Sample> samples = samples_of(map, slope, stretch);
  constexpr std::size_t fewest = 50;
  if (samples.size() < fewest) throw NotMeasurable({"features.little_stock"});
  // h = crown - (R - sqrt(R^2 - (y - y0)^2)): linear in 1, y and y^2 with the circle's further terms from the last R
  // and y0.
  double radius = 12.5, crown_y = 0.0;
  Eigen::MatrixXd design(static_cast<Eigen::Index>(samples.size()), kTerms);
  Eigen::VectorXd z(design.rows());
  LinearFit fit;
  for (int iteration = 0; iteration < 6; ++iteration) {
    for (Eigen::Index i = 0; i < design.rows(); ++i) {
      const auto& [y, height] = samples[static_cast<std::size_t>(i)];
      const double off = y - crown_y, sag = radius - std::sqrt(std::max(1.0, radius * radius - off * off));
      design.row(i) << 1.0, y, y * y;
      z(i) = height + (sag - 0.5 * off * off / radius);
    }
    fit = fit_linear_robust(design, z, 1e-3);
    radius = 0.5 / std::clamp(-fit.coefficients(2), 0.015, 0.1);
    crown_y = radius * fit.coefficients(1);
  }
  const Eigen::Matrix3d covariance =
      fit.covariance + covariance_by_strips(samples, design, z - design * fit.coefficients);
  Bark bark;
  bark.slope = slope;
  bark.from_x_mm = stretch.origin_mm;
  bark.height_mm = {fit.coefficients(0) + 0.5 * square(crown_y) / radius, std::sqrt(covariance(0, 0))};
  bark.radius_mm = {radius, 2.0 * radius * radius * std::sqrt(covariance(2, 2))};
  bark.crown_y_mm = {crown_y, radius * std::sqrt(covariance(1, 1))};
  return bark;
}

UncutSurface::UncutSurface(const ThicknessMap& map, const Bark& bark, double vamp_length_mm) : map_(&map), bark_(bark) {
  const Grid& grid = map.grid;
  // Behind the corner, and before filing fades. It is deepest next to the cut, so the lowest stretch counts.
  constexpr double from_mm = 0.75, stretch_mm = 0.5;
  constexpr int stretches = 5;
  below_bark_mm_ = Eigen::ArrayXd::Zero(grid.columns);
  for (Eigen::Index c = 0; c < grid.columns; ++c) {
    for (int k = 0; k < stretches; ++k) {
      const double begin = vamp_length_mm + from_mm + stretch_mm * k;
      double below = 0.0, cells = 0.0;
      for (Eigen::Index r = 0; r < grid.rows; ++r) {
        const double x = grid.x_mm(r);
        if (x < begin || x >= begin + stretch_mm || !map.measured(r, c)) continue;
        below += bark.at(x, grid.y_mm(c)) - static_cast<double>(map.thickness_mm(r, c));
        cells += 1.0;
      }
      if (cells > 0.0) below_bark_mm_(c) = std::max(below_bark_mm_(c), below / cells);
    }
  }
}

bool UncutSurface::is_uncut(Eigen::Index row, Eigen::Index column) const {
  const Grid& grid = map_->grid;
  return static_cast<double>(map_->thickness_mm(row, column)) >
         bark_.at(grid.x_mm(row), grid.y_mm(column)) - below_bark_mm_(column) - kClearance_mm;
}

CellMask uncut_cells(const ThicknessMap& map, const UncutSurface& surface) {
  const Grid& grid = map.grid;
  CellMask shown = CellMask::Constant(grid.rows, grid.columns, false), uncut = shown;
  for (Eigen::Index c = 0; c < grid.columns; ++c) {
    for (Eigen::Index r = 0; r < grid.rows; ++r)
      shown(r, c) = surface.is_uncut(r, c) || surface.is_uncut(r, grid.mirrored(c));
  }
  constexpr Eigen::Index footprint = 1;  // A cell's plane reaches one cell to every side.
  for (Eigen::Index c = 0; c < grid.columns; ++c) {
    for (Eigen::Index r = 0; r < grid.rows; ++r) {
      const Eigen::Index top = std::max<Eigen::Index>(0, r - footprint),
                         left = std::max<Eigen::Index>(0, c - footprint);
      const Eigen::Index rows = std::min(grid.rows - 1, r + footprint) - top + 1,
                         columns = std::min(grid.columns - 1, c + footprint) - left + 1;
      uncut(r, c) = shown.block(top, left, rows, columns).any();
    }
  }
  return uncut;
}

}  // namespace canewise
