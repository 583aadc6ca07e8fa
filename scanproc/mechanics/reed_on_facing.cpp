#include "scanproc/mechanics/reed_on_facing.h"

#include <Eigen/LU>
#include <utility>

namespace canewise {
namespace {

/// S = I + K C: what the places' forces answer to forces of their own.
Eigen::PartialPivLU<Eigen::MatrixXd> answer_of(const ContactRow& row, const Pressed& pressed) {
  const Eigen::Index n = row.compliance.rows();
  return Eigen::PartialPivLU<Eigen::MatrixXd>(Eigen::MatrixXd::Identity(n, n) +
                                              pressed.stiffness_n_per_mm * row.compliance);
}

}  // namespace

ReedOnFacing::ReedOnFacing(const Plate& plate, RailPlaces places, const RailContact& contact)
    : plate_(&plate), places_(std::move(places)) {
  const Eigen::Index n = places_.places_mm.cols();
  Eigen::MatrixXd loads(3 * plate.model().mesh.nodes(), n);
  for (Eigen::Index k = 0; k < n; ++k)
    loads.col(k) = plate.load_of({places_.places_mm.col(k), Eigen::VectorXd::Ones(1)});
  moved_ = plate.solve(loads);
  loads_ = loads.sparseView();
  const Eigen::MatrixXd compliance = loads_.transpose() * moved_;
  row_.compliance = 0.5 * (compliance + compliance.transpose());
  row_.interpolation = places_.interpolation;
  row_.length_mm = places_.length_mm;
  row_.law = contact;
}

Eigen::MatrixXd ReedOnFacing::at_places(const Eigen::MatrixXd& displacements) const {
  return loads_.transpose() * displacements;
}

Pressed ReedOnFacing::press(const Eigen::VectorXd& free_mm, const Eigen::VectorXd& gap_mm, double stiffness_ratio,
                            const Eigen::VectorXd& start) const {
  if (stiffness_ratio == 1.0) return canewise::press(row_, free_mm, gap_mm, start);
  ContactRow row = row_;
  row.compliance /= stiffness_ratio;
  return canewise::press(row, free_mm / stiffness_ratio, gap_mm, start);
}

Eigen::VectorXd ReedOnFacing::lying(const Pressed& pressed, const Eigen::VectorXd& free) const {
  return free - moved_ * pressed.force_n;
}

Eigen::MatrixXd ReedOnFacing::further(const Pressed& pressed, const Eigen::MatrixXd& free) const {
  return free - moved_ * answer_of(row_, pressed).solve(pressed.stiffness_n_per_mm * at_places(free));
}

Stiffening ReedOnFacing::stiffening(const Pressed& pressed) const {
  return {loads_, moved_, answer_of(row_, pressed).solve(pressed.stiffness_n_per_mm)};
}

std::vector<PlateDerivative> ReedOnFacing::compliance_derivatives(const Pressed& pressed,
                                                                  const Eigen::VectorXd& lying_mm,
                                                                  const Eigen::MatrixXd& further_mm) const {
  // c = f' u with (K + G) u = f, where G is the rails' stiffness in this state: dc = -u' dK u - u' dG u. A cane that
  // changes moves the state by dW with (K + G) dW = -dK W, and a rail's stiffness follows its depth: u' dG u = -l' dK W
  // with (K + G) l = q, where q presses each sample by its change times the square of its further depth.
  const Eigen::MatrixXd depths = row_.interpolation * at_places(further_mm);
  const Eigen::MatrixXd squares = pressed.change_n_per_mm2.asDiagonal() * depths.cwiseAbs2();
  const Eigen::MatrixXd adjoint = moved_ * answer_of(row_, pressed).solve(row_.interpolation.transpose() * squares);
  // l' dK W from squares alone: that of the sum less that of the difference, over four, both made of like size.
  const Eigen::Index count = further_mm.cols();
  Eigen::MatrixXd all(further_mm.rows(), 3 * count);
  Eigen::VectorXd scale(count);
  const double size = lying_mm.norm();
  for (Eigen::Index k = 0; k < count; ++k) {
    const double length = adjoint.col(k).norm();
    scale(k) = length > 0.0 && size > 0.0 ? size / length : 0.0;
    all.col(k) = further_mm.col(k);
    all.col(count + k) = scale(k) * adjoint.col(k) + lying_mm;
    all.col(2 * count + k) = scale(k) * adjoint.col(k) - lying_mm;
  }
  std::vector<PlateDerivative> derivatives = plate_->compliance_derivatives(all);
  for (Eigen::Index k = 0; k < count; ++k) {
    if (scale(k) == 0.0) continue;
    const auto i = static_cast<std::size_t>(k);
    const PlateDerivative &sum = derivatives[i + static_cast<std::size_t>(count)],
                          &difference = derivatives[i + static_cast<std::size_t>(2 * count)];
    // What compliance_derivatives gives is minus u' dK u.
    const double quarter = 0.25 / scale(k);
    derivatives[i].by_thickness -= quarter * (sum.by_thickness - difference.by_thickness);
    derivatives[i].by_cane -= quarter * (sum.by_cane - difference.by_cane);
  }
  derivatives.resize(static_cast<std::size_t>(count));
  return derivatives;
}

}  // namespace canewise
