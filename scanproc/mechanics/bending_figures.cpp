#include "scanproc/mechanics/bending_figures.h"

#include <cmath>
#include <stdexcept>
#include <utility>
#include <vector>

#include "scanproc/core/parallel.h"

namespace canewise {
namespace {

/// Of the six loads: tip left, centre, right, lip, lip left, lip right.
struct LoadStiffness {
  std::array<double, 6> n_per_mm{};
  std::vector<PlateDerivative> derivative;  ///< Six, or none.
};
constexpr std::array kClosedPart{TipPart::left,  TipPart::whole, TipPart::right,
                                 TipPart::whole, TipPart::left,  TipPart::right};

struct Pair {
  BendingFigure figure;
  std::size_t left, right;  ///< Of the six.
};
constexpr std::array kPairs{Pair{BendingFigure::imbalance_tip, 0, 2}, Pair{BendingFigure::imbalance_lip, 4, 5}};

BendingValues figures_from(LoadStiffness stiffness) {
  BendingValues figures;
  for (std::size_t k = 0; k < 4; ++k) figures.value.at(k) = stiffness.n_per_mm.at(k);
  for (const auto& [figure, left, right] : kPairs) {
    const double l = stiffness.n_per_mm.at(left), r = stiffness.n_per_mm.at(right), sum = l + r;
    figures.value.at(index_of(figure)) = 2.0 * (r - l) / sum;
    if (stiffness.derivative.empty()) continue;
    const PlateDerivative& by_l = stiffness.derivative.at(left);
    const PlateDerivative& by_r = stiffness.derivative.at(right);
    const double by_right = 4.0 * l / (sum * sum), by_left = -4.0 * r / (sum * sum);
    figures.derivative.at(index_of(figure)) = {by_right * by_r.by_thickness + by_left * by_l.by_thickness,
                                               by_right * by_r.by_cane + by_left * by_l.by_cane};
  }
  if (!stiffness.derivative.empty())
    for (std::size_t k = 0; k < 4; ++k) figures.derivative.at(k) = std::move(stiffness.derivative.at(k));
  return figures;
}

/// Minus left' dK right of the six, times these factors.
std::vector<PlateDerivative> scaled_work(const Plate& plate, const Eigen::MatrixXd& left, const Eigen::MatrixXd& right,
                                         const std::array<double, 6>& factors) {
  std::vector<PlateDerivative> derivatives = plate.work_derivatives(left, right);
  for (std::size_t k = 0; k < derivatives.size(); ++k) {
    derivatives[k].by_thickness *= factors.at(k);
    derivatives[k].by_cane *= factors.at(k);
  }
  return derivatives;
}

Mouthpiece even(Mouthpiece mouthpiece) {
  mouthpiece.left = mouthpiece.right = mean_of(mouthpiece.left, mouthpiece.right);
  return mouthpiece;
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

BendingFigures::BendingFigures(ReedPlate reed, const Outline& outline, const Embouchure& embouchure)
    : reed_(std::move(reed)),
      plate_(reed_.model),
      places_(rail_places(outline, embouchure.mouthpiece, reed_.tip_x_mm)),
      even_(even(embouchure.mouthpiece)) {
  const Lip& lip = embouchure.lip;
  const double tip = reed_.tip_x_mm + lip.tip_patch_at_mm, at = reed_.tip_x_mm + lip.at_mm;
  const double aside = kTipPatchAside * outline.half_width_mm(lip.tip_patch_at_mm), half = outline.half_width_mm(at);
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
  return on(even_, plate, ReedOnFacing(plate, places_), with_derivatives);
}

BendingValues BendingFigures::on(const Mouthpiece& mouthpiece, const Plate& plate, const ReedOnFacing& reed,
                                 bool with_derivatives) const {
  const Eigen::MatrixXd free = plate.solve(loads_);
  const Eigen::VectorXd gap_mm = gaps_at(reed.places(), mouthpiece.left, mouthpiece.right);
  std::vector<HalfClosed> closed(kClosedPart.size());
  run_parts([&](std::size_t part) {
    for (std::size_t k = part; k < closed.size(); k += kParallelParts) {
      const auto column = static_cast<Eigen::Index>(k);
      closed[k] = half_closed(reed, gap_mm, {loads_.col(column), free.col(column), kClosedPart.at(k)});
    }
  });
  LoadStiffness stiffness;
  Eigen::MatrixXd adjoint(free.rows(), free.cols()), moved(free.rows(), free.cols());
  std::array<double, 6> factors{};
  for (std::size_t k = 0; k < closed.size(); ++k) {
    stiffness.n_per_mm.at(k) = closed[k].stiffness_n_per_mm;
    factors.at(k) = -closed[k].stiffness_n_per_mm;
    adjoint.col(static_cast<Eigen::Index>(k)) = closed[k].adjoint;
    moved.col(static_cast<Eigen::Index>(k)) = closed[k].moved_mm;
  }
  if (with_derivatives) stiffness.derivative = scaled_work(plate, adjoint, moved, factors);
  return figures_from(std::move(stiffness));
}

double BendingFigures::stiffness_lip(const Plate& plate) const {
  return closed_by_lip(even_, plate, ReedOnFacing(plate, places_)).stiffness_n_per_mm;
}

HalfClosed BendingFigures::closed_by_lip(const Mouthpiece& mouthpiece, const Plate& plate,
                                         const ReedOnFacing& reed) const {
  const Eigen::VectorXd load = loads_.col(kLipLoad), free = plate.solve(load);
  return half_closed(reed, gaps_at(reed.places(), mouthpiece.left, mouthpiece.right), {load, free, TipPart::whole});
}

BendingValues BendingFigures::free_of(const Plate& plate, bool with_derivatives) const {
  const Eigen::MatrixXd moved = plate.solve(loads_);
  LoadStiffness stiffness;
  std::array<double, 6> factors{};
  for (std::size_t k = 0; k < factors.size(); ++k) {
    const auto column = static_cast<Eigen::Index>(k);
    const double by_a_newton = loads_.col(column).dot(moved.col(column));
    stiffness.n_per_mm.at(k) = 1.0 / by_a_newton;
    factors.at(k) = -1.0 / (by_a_newton * by_a_newton);
  }
  if (with_derivatives) stiffness.derivative = scaled_work(plate, moved, moved, factors);
  return figures_from(std::move(stiffness));
}

}  // namespace canewise
