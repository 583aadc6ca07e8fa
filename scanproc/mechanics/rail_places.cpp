#include "scanproc/mechanics/rail_places.h"

#include <algorithm>
#include <cmath>

namespace canewise {
namespace {

constexpr Eigen::Index kSamplesBetween = 4;

}  // namespace

RailPlaces rail_places(const Outline& outline, const Mouthpiece& mouthpiece, double tip_x_mm) {
  constexpr double along_mm = 0.8, across_mm = 1.0, first_mm = 2.0, tip_rail_mm = 0.25;
  const double half_rail = 0.5 * mouthpiece.rail_width_mm;
  const auto on_rail = std::max<Eigen::Index>(
      4, static_cast<Eigen::Index>(std::floor((mouthpiece.window_end_mm - first_mm) / along_mm)));
  const double reach = outline.half_width_mm(tip_x_mm) - half_rail;
  const auto on_tip = std::max<Eigen::Index>(4, static_cast<Eigen::Index>(std::ceil(2.0 * reach / across_mm)));
  const double tip_step = 2.0 * reach / static_cast<double>(on_tip);
  RailPlaces rails;
  rails.rail_samples = kSamplesBetween * on_rail;
  const Eigen::Index places = 2 * on_rail + on_tip, samples = kSamplesBetween * places;
  rails.places_mm.resize(2, places);
  Eigen::MatrixXd weights = Eigen::MatrixXd::Zero(samples, places);
  rails.length_mm.resize(samples);
  const auto count = [](Eigen::Index k) { return static_cast<double>(k); };
  for (Eigen::Index row = 0; row < 2; ++row) {
    const double sign = row == 0 ? -1.0 : 1.0;
    for (Eigen::Index k = 0; k < on_rail; ++k) {
      const double x = tip_x_mm + first_mm + along_mm * (count(k) + 0.5);
      rails.places_mm.col(row * on_rail + k) << x, sign * (outline.half_width_mm(x) - half_rail);
    }
  }
  for (Eigen::Index k = 0; k < on_tip; ++k) {
    const double y = -reach + tip_step * (count(k) + 0.5);
    rails.places_mm.col(2 * on_rail + k) << std::max(outline.tip_edge_at(y), 0.0) + tip_x_mm + tip_rail_mm, y;
  }
  const Eigen::MatrixXd along = row_interpolation(on_rail, kSamplesBetween);
  weights.topLeftCorner(along.rows(), on_rail) = along;
  weights.block(along.rows(), on_rail, along.rows(), on_rail) = along;
  weights.bottomRightCorner(kSamplesBetween * on_tip, on_tip) = row_interpolation(on_tip, kSamplesBetween);
  rails.interpolation = weights.sparseView();
  rails.length_mm.head(2 * along.rows()).setConstant(along_mm / kSamplesBetween);
  rails.length_mm.tail(kSamplesBetween * on_tip).setConstant(tip_step / kSamplesBetween);
  rails.distance_mm = (rails.interpolation * rails.places_mm.row(0).transpose()).array() - tip_x_mm;
  rails.side.resize(samples);
  rails.side.head(along.rows()).setConstant(-1.0);
  rails.side.segment(along.rows(), along.rows()).setConstant(1.0);
  rails.side.tail(kSamplesBetween * on_tip) =
      ((rails.interpolation * rails.places_mm.row(1).transpose()).array() / reach).tail(kSamplesBetween * on_tip);
  return rails;
}

Eigen::VectorXd gaps_at(const RailPlaces& places, const FacingCurve& left, const FacingCurve& right) {
  Eigen::VectorXd gap(places.side.size());
  for (Eigen::Index q = 0; q < gap.size(); ++q) {
    const double share = std::clamp(0.5 * (1.0 + places.side(q)), 0.0, 1.0), x = places.distance_mm(q);
    gap(q) = (1.0 - share) * left.gap_mm(x) + share * right.gap_mm(x);
  }
  return gap;
}

Resting resting_of(const RailPlaces& places, const Pressed& pressed, double window_end_mm) {
  const auto first = [&](Eigen::Index from) {
    const Eigen::VectorXd force = pressed.sample_force_n.segment(from, places.rail_samples);
    const double hardest = force.maxCoeff();
    for (Eigen::Index q = 0; q < force.size() && hardest > 0.0; ++q)
      if (force(q) >= 0.5 * hardest) return places.distance_mm(from + q);
    return window_end_mm;
  };
  return {first(0), first(places.rail_samples)};
}

}  // namespace canewise
