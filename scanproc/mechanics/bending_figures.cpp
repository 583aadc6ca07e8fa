#include "scanproc/mechanics/bending_figures.h"

#include <cmath>
#include <stdexcept>

namespace canewise {

Message title_of(BendingFigure figure) {
  switch (figure) {
    case BendingFigure::stiffness_left:
      return {"bending.stiffness_left"};
    case BendingFigure::stiffness_centre:
      return {"bending.stiffness_centre"};
    case BendingFigure::stiffness_right:
      return {"bending.stiffness_right"};
    case BendingFigure::stiffness_lip:
      return {"bending.stiffness_lip"};
    case BendingFigure::imbalance_tip:
      return {"bending.imbalance_tip"};
    case BendingFigure::imbalance_lip:
      break;
  }
  return {"bending.imbalance_lip"};
}

BendingFigures::BendingFigures(ReedPlate reed, const Outline& outline, const Lip& lip)
    : reed_(std::move(reed)), plate_(reed_.model), half_width_mm_(outline.half_width_mm(lip.tip_patch_at_mm)) {
  const double tip = reed_.tip_x_mm + lip.tip_patch_at_mm, at = reed_.tip_x_mm + lip.at_mm;
  const double aside = kTipPatchAside * half_width_mm_, half = outline.half_width_mm(at);
  loads_.resize(3 * reed_.model.mesh.nodes(), 6);
  loads_.col(0) = patch(tip, -aside, kTipPatch_mm, kTipPatch_mm);
  loads_.col(1) = patch(tip, 0.0, kTipPatch_mm, kTipPatch_mm);
  loads_.col(2) = patch(tip, aside, kTipPatch_mm, kTipPatch_mm);
  loads_.col(3) = patch(at, 0.0, lip.length_mm, 2.0 * half);
  loads_.col(4) = patch(at, -0.5 * half, lip.length_mm, half);
  loads_.col(5) = patch(at, 0.5 * half, lip.length_mm, half);
}

Eigen::VectorXd BendingFigures::patch(double x_mm, double y_mm, double length_mm, double width_mm) const {
  constexpr double step_mm = 0.2;
  const auto along = static_cast<Eigen::Index>(std::ceil(length_mm / step_mm));
  const auto across = static_cast<Eigen::Index>(std::ceil(width_mm / step_mm));
  PointLoads loads;
  loads.points_mm.resize(2, along * across);
  loads.weights.setOnes(along * across);
  for (Eigen::Index i = 0; i < along; ++i) {
    for (Eigen::Index j = 0; j < across; ++j) {
      loads.points_mm.col(i * across + j)
          << x_mm + length_mm * ((static_cast<double>(i) + 0.5) / static_cast<double>(along) - 0.5),
          y_mm + width_mm * ((static_cast<double>(j) + 0.5) / static_cast<double>(across) - 0.5);
    }
  }
  Eigen::VectorXd load = plate_.load_of(loads);
  // What of the patch lies beside the reed carries nothing; the rest carries 1 N.
  double total = 0.0;
  for (Eigen::Index n = 0; n < load.size(); n += 3) total += load(n);
  if (!(total > 0.0)) throw std::logic_error("a patch lies on the reed");
  return load / total;
}

Plate BendingFigures::plate_with(const Eigen::VectorXd& thickness_mm) const {
  PlateModel model = reed_.model;
  model.thickness_mm = thickness_mm;
  return Plate(std::move(model));
}

BendingValues BendingFigures::of(const Plate& plate, bool with_derivatives) const {
  const Eigen::MatrixXd moved = plate.solve(loads_);
  std::array<double, 6> stiffness{};
  std::vector<PlateDerivative> slope;
  if (with_derivatives) slope = plate.compliance_derivatives(moved);
  for (Eigen::Index k = 0; k < 6; ++k) {
    const auto i = static_cast<std::size_t>(k);
    stiffness.at(i) = 1.0 / loads_.col(k).dot(moved.col(k));
    if (!with_derivatives) continue;
    const double factor = -stiffness.at(i) * stiffness.at(i);
    slope.at(i).by_thickness *= factor;
    slope.at(i).by_cane *= factor;
  }
  BendingValues values;
  const auto set_imbalance = [&](BendingFigure figure, std::size_t left, std::size_t right) {
    const double l = stiffness.at(left), r = stiffness.at(right), sum = l + r;
    values.value.at(index_of(figure)) = 2.0 * (r - l) / sum;
    if (!with_derivatives) return;
    const double by_right = 4.0 * l / (sum * sum), by_left = -4.0 * r / (sum * sum);
    values.derivative.at(index_of(figure)) = {
        by_right * slope.at(right).by_thickness + by_left * slope.at(left).by_thickness,
        by_right * slope.at(right).by_cane + by_left * slope.at(left).by_cane};
  };
  set_imbalance(BendingFigure::imbalance_tip, 0, 2);
  set_imbalance(BendingFigure::imbalance_lip, 4, 5);
  for (std::size_t k = 0; k < 4; ++k) {
    values.value.at(k) = stiffness.at(k);
    if (with_derivatives) values.derivative.at(k) = std::move(slope.at(k));
  }
  return values;
}

}  // namespace canewise
