#include "scanproc/mechanics/bending_figures.h"

#include <cmath>
#include <stdexcept>
#include <utility>
#include <vector>

namespace canewise {
namespace {

using Six = std::array<double, 6>;  ///< Tip left, centre, right, lip, lip left, lip right.

Six compliances(const Eigen::MatrixXd& loads, const Eigen::MatrixXd& moved) {
  Six compliance{};
  for (Eigen::Index k = 0; k < loads.cols(); ++k)
    compliance.at(static_cast<std::size_t>(k)) = loads.col(k).dot(moved.col(k));
  return compliance;
}

struct Pair {
  BendingFigure figure;
  std::size_t left, right;  ///< Of the six.
};
constexpr std::array kPairs{Pair{BendingFigure::imbalance_tip, 0, 2}, Pair{BendingFigure::imbalance_lip, 4, 5}};

std::array<double, kBendingFigureCount> figures_from(const Six& compliance) {
  std::array<double, kBendingFigureCount> figures{};
  for (std::size_t k = 0; k < 4; ++k) figures.at(k) = 1.0 / compliance.at(k);
  for (const Pair& pair : kPairs) {
    const double left = 1.0 / compliance.at(pair.left), right = 1.0 / compliance.at(pair.right);
    figures.at(index_of(pair.figure)) = 2.0 * (right - left) / (right + left);
  }
  return figures;
}

/// `by` of the six compliances.
std::array<PlateDerivative, kBendingFigureCount> derivatives_from(const Six& compliance,
                                                                  std::vector<PlateDerivative> by) {
  for (std::size_t k = 0; k < compliance.size(); ++k) {
    const double factor = -1.0 / (compliance.at(k) * compliance.at(k));
    by.at(k).by_thickness *= factor;
    by.at(k).by_cane *= factor;
  }
  std::array<PlateDerivative, kBendingFigureCount> derivatives;
  for (const auto& [figure, left, right] : kPairs) {
    const double l = 1.0 / compliance.at(left), r = 1.0 / compliance.at(right), sum = l + r;
    const double by_right = 4.0 * l / (sum * sum), by_left = -4.0 * r / (sum * sum);
    derivatives.at(index_of(figure)) = {by_right * by.at(right).by_thickness + by_left * by.at(left).by_thickness,
                                        by_right * by.at(right).by_cane + by_left * by.at(left).by_cane};
  }
  for (std::size_t k = 0; k < 4; ++k) derivatives.at(k) = std::move(by.at(k));
  return derivatives;
}

}  // namespace

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

std::array<double, kBendingFigureCount> BendingFigures::from(const Eigen::MatrixXd& moved) const {
  return figures_from(compliances(loads_, moved));
}

BendingValues BendingFigures::of(const Plate& plate, bool with_derivatives) const {
  const Eigen::MatrixXd moved = plate.solve(loads_);
  const Six compliance = compliances(loads_, moved);
  BendingValues values{figures_from(compliance), {}};
  if (with_derivatives) values.derivative = derivatives_from(compliance, plate.compliance_derivatives(moved));
  return values;
}

}  // namespace canewise
