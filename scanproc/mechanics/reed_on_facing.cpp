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
    : places_(std::move(places)) {
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

Eigen::MatrixXd ReedOnFacing::further(const Pressed& pressed, const Eigen::MatrixXd& free) const {
  return free - moved_ * answer_of(row_, pressed).solve(pressed.stiffness_n_per_mm * at_places(free));
}

Eigen::MatrixXd ReedOnFacing::further_at_places(const Pressed& pressed, const Eigen::MatrixXd& free) const {
  return free - row_.compliance * answer_of(row_, pressed).solve(pressed.stiffness_n_per_mm * free);
}

}  // namespace canewise
