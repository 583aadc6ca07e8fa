#include "scanproc/mechanics/reed_plate.h"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>

#include "scanproc/core/error.h"

namespace canewise {
namespace {

/// Tip edge, right side, end at the ligature, left side: counter-clockwise with x towards the butt and y to the right.
PlateOutline plate_outline(const Outline& outline, const Mouthpiece& mouthpiece, const ReedPlateOptions& options) {
  PlateOutline plate;
  const double clip = options.clip_mm, end = mouthpiece.ligature_mm + clip, support = mouthpiece.window_end_mm + clip;
  const double left = outline.left.at(clip), right = outline.right.at(clip);
  const auto pieces = static_cast<int>(std::ceil((right - left) / options.spacing_mm));
  const auto corner = [&](double x, double y) { plate.polygon_mm.emplace_back(x, y); };
  const bool supported = end - support > 0.5 * options.spacing_mm;
  // Along the tip from right to left.
  for (int k = 0; k <= pieces; ++k) {
    const double y = right + (left - right) * k / pieces;
    corner(outline.tip_edge_at(y) + clip, y);
  }
  // The sides lean; corners come down to where they stand.
  plate.polygon_mm.front().y() = outline.right.at(plate.polygon_mm.front().x());
  plate.polygon_mm.back().y() = outline.left.at(plate.polygon_mm.back().x());
  if (supported) corner(support, outline.left.at(support));
  corner(end, outline.left.at(end));
  corner(end, outline.right.at(end));
  if (supported) {
    corner(support, outline.right.at(support));
    plate.lines_mm.push_back(
        {Eigen::Vector2d(support, outline.left.at(support)), Eigen::Vector2d(support, outline.right.at(support))});
  }
  // The mesh wants it counter-clockwise.
  double area = 0.0;
  const auto& p = plate.polygon_mm;
  for (std::size_t i = 0, j = p.size() - 1; i < p.size(); j = i++) area += p[j].x() * p[i].y() - p[i].x() * p[j].y();
  if (area < 0.0) std::reverse(plate.polygon_mm.begin(), plate.polygon_mm.end());
  return plate;
}

/// Weights of the cells about one point; false if there are too few.
class LocalFit {
 public:
  LocalFit(const ThicknessMap& map, std::vector<Eigen::Triplet<double>>& weights) : map_(&map), weights_(&weights) {}

  bool add(Eigen::Index point, const Eigen::Vector2d& at) {
    const double cell = map_->grid.cell_mm;
    const double nearest = std::max(1.0, 3.0 * cell);
    for (const double widening : {1.0, 1.5, 2.2}) {
      if (fit(point, at, widening * nearest)) return true;
    }
    return false;
  }

 private:
  bool fit(Eigen::Index point, const Eigen::Vector2d& at, double radius) {
    const Grid& grid = map_->grid;
    const double cell = grid.cell_mm;
    const auto row_of = [&](double x) { return static_cast<Eigen::Index>(std::floor(x / cell)); };
    const auto column_of = [&](double y) {
      return static_cast<Eigen::Index>(std::floor(y / cell + 0.5 * static_cast<double>(grid.columns)));
    };
    cells_.clear();
    Eigen::Matrix<double, 6, 6> normal = Eigen::Matrix<double, 6, 6>::Zero();
    for (Eigen::Index c = std::max<Eigen::Index>(0, column_of(at.y() - radius));
         c <= std::min(grid.columns - 1, column_of(at.y() + radius)); ++c) {
      for (Eigen::Index r = std::max<Eigen::Index>(0, row_of(at.x() - radius));
           r <= std::min(grid.rows - 1, row_of(at.x() + radius)); ++r) {
        if (!map_->measured(r, c)) continue;
        const double dx = (grid.x_mm(r) - at.x()) / radius, dy = (grid.y_mm(c) - at.y()) / radius;
        const double distance = dx * dx + dy * dy;
        if (distance >= 1.0) continue;
        Cell entry{c * grid.rows + r, (1.0 - distance) * (1.0 - distance), {}};
        entry.basis << 1.0, dx, dy, dx * dx, dx * dy, dy * dy;
        normal.noalias() += entry.weight * entry.basis * entry.basis.transpose();
        cells_.push_back(entry);
      }
    }
    constexpr std::size_t fewest = 12;
    if (cells_.size() < fewest) return false;
    // A quadratic beyond the last cells swings; so little of it is held back that inside nothing changes.
    constexpr double damping = 2e-3;
    const double scale = normal(0, 0);
    for (int k = 3; k < 6; ++k) normal(k, k) += damping * scale;
    for (int k = 1; k < 3; ++k) normal(k, k) += 0.05 * damping * scale;
    const Eigen::LDLT<Eigen::Matrix<double, 6, 6>> solver(normal);
    const Eigen::Matrix<double, 6, 1> value = solver.solve(Eigen::Matrix<double, 6, 1>::Unit(0));
    double sum = 0.0, squares = 0.0;
    for (const Cell& entry : cells_) {
      const double weight = entry.weight * value.dot(entry.basis);
      sum += weight;
      squares += weight * weight;
    }
    // Beyond the cells' reach the value is a guess.
    constexpr double most_noise_gain = 2.5;
    if (!(std::abs(sum - 1.0) < 1e-6) || squares > most_noise_gain) return false;
    for (const Cell& entry : cells_) weights_->emplace_back(point, entry.index, entry.weight * value.dot(entry.basis));
    return true;
  }

  struct Cell {
    Eigen::Index index;
    double weight;
    Eigen::Matrix<double, 6, 1> basis;
  };
  const ThicknessMap* map_;
  std::vector<Eigen::Triplet<double>>* weights_;
  std::vector<Cell> cells_;
};

}  // namespace

Eigen::VectorXd ReedPlate::thickness_from(const Field& thickness_mm) const {
  const Eigen::VectorXd cells =
      Eigen::Map<const Eigen::ArrayXf>(thickness_mm.data(), thickness_mm.size())
          .isNaN()
          .select(0.0F, Eigen::Map<const Eigen::ArrayXf>(thickness_mm.data(), thickness_mm.size()))
          .matrix()
          .cast<double>();
  return (from_cells * cells).cwiseMax(kThinnestPlate_mm);
}

Field ReedPlate::by_cells(const Eigen::VectorXd& by_thickness) const {
  const Eigen::VectorXd cells = from_cells.transpose() * by_thickness;
  return Eigen::Map<const Eigen::ArrayXXd>(cells.data(), grid.rows, grid.columns).cast<float>();
}

ReedPlate reed_plate(const ReedPlateInputs& inputs, const ReedPlateOptions& options) {
  const auto& [map, outline, bark, mouthpiece, cane, left_right] = inputs;
  ReedPlate reed;
  reed.grid = map.grid;
  reed.tip_x_mm = options.clip_mm;
  PlateModel& model = reed.model;
  model.cane = cane;
  model.left_right = left_right;
  model.mesh = mesh_plate(plate_outline(outline, mouthpiece, options), options.spacing_mm);
  const Eigen::Matrix2Xd points = model.mesh.thickness_points_mm();

  std::vector<Eigen::Triplet<double>> weights;
  weights.reserve(static_cast<std::size_t>(points.cols()) * 50);
  LocalFit fit(map, weights);
  for (Eigen::Index p = 0; p < points.cols(); ++p) {
    if (fit.add(p, points.col(p))) continue;
    throw NotMeasurable({"bending.hole", {{"from_tip", mm(points(0, p))}}});
  }
  reed.from_cells.resize(points.cols(), map.grid.rows * map.grid.columns);
  reed.from_cells.setFromTriplets(weights.begin(), weights.end());
  model.thickness_mm = reed.thickness_from(map.thickness_mm);
  reed.shallow_share = static_cast<double>((model.thickness_mm.array() <= kThinnestPlate_mm).count()) /
                       static_cast<double>(points.cols());
  constexpr double too_many = 0.01;
  if (reed.shallow_share > too_many) {
    throw NotMeasurable({"bending.no_tip"});
  }
  const bool bark_known = std::isfinite(bark.height_mm.value) && std::isfinite(bark.radius_mm.value);
  if (bark_known) model.bark_mm.resize(points.cols());
  model.side.resize(points.cols());
  for (Eigen::Index p = 0; p < points.cols(); ++p) {
    const double x = points(0, p), y = points(1, p);
    // Never less than the cane itself.
    if (bark_known) model.bark_mm(p) = std::max(bark.at(x, y), model.thickness_mm(p));
    constexpr double seam = 0.25;  // Of the half width, where left becomes right.
    model.side(p) = std::clamp(y / (seam * outline.half_width_mm(x)), -1.0, 1.0);
  }
  model.fixed.assign(static_cast<std::size_t>(3 * model.mesh.nodes()), 0);
  constexpr double on_line_mm = 1e-6;
  for (Eigen::Index n = 0; n < model.mesh.nodes(); ++n) {
    const double x = model.mesh.nodes_mm(0, n) - options.clip_mm;
    const auto first = static_cast<std::size_t>(3 * n);
    if (x > mouthpiece.ligature_mm - on_line_mm) {
      for (std::size_t k = 0; k < 3; ++k) model.fixed[first + k] = 1;
    } else if (std::abs(x - mouthpiece.window_end_mm) < on_line_mm) {
      model.fixed[first] = 1;      // Held up by the table's edge...
      model.fixed[first + 2] = 1;  // ...which is straight.
    }
  }
  return reed;
}

}  // namespace canewise
