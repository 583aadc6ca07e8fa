#include "scanproc/mechanics/half_closed.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <tuple>
#include <utility>

namespace canewise {
namespace {

/// Weights of a mean over the tip's samples of one part; the rails' count for nothing.
Eigen::VectorXd weights_of(const RailPlaces& places, TipPart part) {
  Eigen::VectorXd weights = Eigen::VectorXd::Zero(places.side.size());
  for (Eigen::Index q = places.first_of_tip(); q < weights.size(); ++q) {
    const double side = places.side(q);
    if (part == TipPart::whole || (part == TipPart::left ? side < 0.0 : side > 0.0)) weights(q) = places.length_mm(q);
  }
  return weights / weights.sum();
}

/// One load over one pair of rails.
class ClosingPress {
 public:
  ClosingPress(const ReedOnFacing& reed, const Eigen::VectorXd& gap_mm, const ClosingLoad& load)
      : reed_(reed),
        gap_mm_(gap_mm),
        at_places_(reed.at_places(load.free)),
        weights_(weights_of(reed.places(), load.part)),
        goal_mm_(kOpeningLeft * weights_.dot(gap_mm)) {}

  [[nodiscard]] const Eigen::VectorXd& weights() const { return weights_; }

  struct State {
    Pressed pressed;
    double over_mm = 0.0;          ///< Opening beyond the goal; falls as the force grows.
    double change_mm_per_n = 0.0;  ///< Of the opening, negative.
  };
  [[nodiscard]] State at(double force_n, const Eigen::VectorXd& start) const {
    State state{reed_.press(force_n * at_places_, gap_mm_, 1.0, start), 0.0, 0.0};
    state.over_mm = -weights_.dot(state.pressed.depth_mm) - goal_mm_;
    const Eigen::VectorXd further = reed_.further_at_places(state.pressed, at_places_);
    state.change_mm_per_n = -weights_.dot(reed_.places().interpolation * further);
    return state;
  }

  /// Newton steps from the free reed's force on, which is at most the one sought for: rails only help against it. A
  /// step that leaves what is known to hold the root is replaced by its middle.
  [[nodiscard]] std::pair<double, Pressed> solve() const {
    const double free_mm = weights_.dot(reed_.places().interpolation * at_places_);
    if (!(free_mm > 0.0)) throw std::runtime_error("the load does not close the tip");
    double force = (weights_.dot(gap_mm_) - goal_mm_) / free_mm;
    double low = 0.0, high = std::numeric_limits<double>::infinity();
    Eigen::VectorXd start;
    constexpr int most_steps = 60;
    for (int step = 0; step < most_steps; ++step) {
      State state = at(force, start);
      constexpr double exact_mm = 1e-10;
      if (std::abs(state.over_mm) <= exact_mm) return {force, std::move(state.pressed)};
      (state.over_mm > 0.0 ? low : high) = force;
      double next = force - state.over_mm / state.change_mm_per_n;
      if (!(next > low && next < high)) next = std::isfinite(high) ? 0.5 * (low + high) : 2.0 * force;
      if (next == force) return {force, std::move(state.pressed)};
      force = next;
      start = state.pressed.force_n;
    }
    throw std::runtime_error("the load that half closes the reed was not found");
  }

 private:
  const ReedOnFacing& reed_;
  const Eigen::VectorXd& gap_mm_;
  Eigen::VectorXd at_places_, weights_;
  double goal_mm_;
};

}  // namespace

HalfClosed half_closed(const ReedOnFacing& reed, const Eigen::VectorXd& gap_mm, const ClosingLoad& load) {
  const ClosingPress press(reed, gap_mm, load);
  HalfClosed half;
  std::tie(half.force_n, half.pressed) = press.solve();
  const Eigen::VectorXd held = reed.by_places(half.pressed.force_n);
  half.moved_mm = half.force_n * load.free - held;
  // In this order, so that nothing is lost where nothing is touched.
  const double by_a_newton = load.load.dot(load.free) - load.load.dot(held) / half.force_n;
  half.stiffness_n_per_mm = 1.0 / by_a_newton;
  // With u = moved, a the mean over the tip, l the load, T = K + the rails' stiffness, m = T^-1 l and b = T^-1 a:
  // a'du = 0 and T du = -dK u + l dF give dF = b'dK u / (b'l), l'du = -m'dK u + m'l dF; the stiffness is F/(l'u).
  const Eigen::VectorXd b =
      reed.further(half.pressed, reed.by_places(reed.places().interpolation.transpose() * press.weights()));
  const Eigen::VectorXd m = reed.further(half.pressed, load.free);
  const double deflection = by_a_newton * half.force_n;
  half.adjoint = b * ((1.0 / half.force_n - load.load.dot(m) / deflection) / b.dot(load.load)) + m / deflection;
  return half;
}

}  // namespace canewise
