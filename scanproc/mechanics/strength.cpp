#include "scanproc/mechanics/strength.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "scanproc/core/budget.h"
#include "scanproc/core/statistics.h"

namespace canewise {

StrengthScale strength_scale(const std::vector<KnownReed>& known, double between_reeds_rel) {
  StrengthScale scale;
  scale.step = std::log(kStiffnessPerHalf);
  scale.u_step = kStiffnessPerHalfSpread;
  scale.between_reeds_rel = between_reeds_rel;
  scale.reeds = static_cast<int>(known.size());
  if (known.empty()) return scale;
  const auto n = static_cast<Eigen::Index>(known.size());
  const auto fit = [&](double spread) {
    // Unknowns: logarithm of the reference's stiffness, step. The last row is the step's prior.
    Eigen::MatrixXd a(n + 1, 2);
    Eigen::VectorXd y(n + 1);
    for (Eigen::Index k = 0; k < n; ++k) {
      a.row(k) << 1.0 / spread, known[static_cast<std::size_t>(k)].halves / spread;
      y(k) = std::log(known[static_cast<std::size_t>(k)].stiffness_n_per_mm) / spread;
    }
    a.row(n) << 0.0, 1.0 / kStiffnessPerHalfSpread;
    y(n) = std::log(kStiffnessPerHalf) / kStiffnessPerHalfSpread;
    const Eigen::Matrix2d covariance = (a.transpose() * a).inverse();
    const Eigen::Vector2d found = covariance * a.transpose() * y;
    scale.reference_n_per_mm = std::exp(found(0));
    scale.step = found(1);
    scale.u_reference_rel = std::sqrt(covariance(0, 0));
    scale.u_step = std::sqrt(covariance(1, 1));
    scale.reference_with_step = covariance(0, 1);
    return ((a * found - y).head(n) * spread).squaredNorm();
  };
  const double squares = fit(between_reeds_rel);
  // The assumed spread counts as much as so many reeds.
  constexpr double weight_of_assumption = 4.0;
  const double free = std::max(0.0, static_cast<double>(n) - 1.0);
  scale.between_reeds_rel = std::sqrt((weight_of_assumption * between_reeds_rel * between_reeds_rel + squares) /
                                      (weight_of_assumption + free));
  fit(scale.between_reeds_rel);
  scale.has_reference = true;
  // A half strength that is nearly nothing, or less, is none to count in.
  constexpr double least_share = 0.4;
  if (scale.step < least_share * std::log(kStiffnessPerHalf)) {
    scale.marks_contradict = true;
    scale.step = std::log(kStiffnessPerHalf);
    scale.u_step = kStiffnessPerHalfSpread;
    scale.reference_with_step = 0.0;
    double sum = 0.0;
    for (const KnownReed& reed : known) sum += std::log(reed.stiffness_n_per_mm) - reed.halves * scale.step;
    scale.reference_n_per_mm = std::exp(sum / static_cast<double>(n));
  }
  return scale;
}

Strength place_on_scale(const StrengthScale& scale, double stiffness_n_per_mm, double u_scan_rel,
                        const Player& player) {
  Strength strength;
  if (!scale.has_reference) {
    strength.sentence = {Message{"strength.no_reference", {{"stiffness", number(stiffness_n_per_mm, 2)}}}};
    strength.advice = {"strength.mark_one"};
    return strength;
  }
  strength.known = true;
  const double log_ratio = std::log(stiffness_n_per_mm / scale.reference_n_per_mm);
  strength.halves = log_ratio / scale.step;
  // halves = (ln k - reference) / step; reference and step come from the same reeds and are correlated.
  const double of_scale = square(scale.u_reference_rel) + 2.0 * strength.halves * scale.reference_with_step +
                          square(strength.halves * scale.u_step);
  strength.u_halves =
      std::sqrt(square(u_scan_rel) + square(scale.between_reeds_rel) + std::max(0.0, of_scale)) / scale.step;
  const double low = strength.halves - kCoverage95 * strength.u_halves,
               high = strength.halves + kCoverage95 * strength.u_halves;
  const Message about = halves_words(strength.halves);
  strength.sentence = {Message{"strength.about",
                               {{"direction", about.arguments.at("direction")},
                                {"halves", part(about)},
                                {"low", part(halves_words(low))},
                                {"high", part(halves_words(high))}}}};
  if (scale.marks_contradict) strength.sentence.push_back({"strength.marks_contradict"});
  if (scale.reeds == 1) strength.sentence.push_back({"strength.step_assumed"});
  const double wanted = player.wanted_halves.value_or(0.0), off = strength.halves - wanted;
  constexpr double quarter = 0.5;
  // Common practice: too soft drops out or goes flat up high, too hard is airy and slow.
  if (std::abs(off) <= quarter) {
    strength.advice = {"strength.as_wanted"};
  } else if (off > 0.0) {
    strength.advice = {"strength.too_hard"};
  } else {
    strength.advice = {"strength.too_soft"};
  }
  return strength;
}

}  // namespace canewise
