#include "scanproc/mechanics/strength.h"

#include <fmt/format.h>

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
    strength.sentence = fmt::format(
        "{:.2f} N/mm under the lip. How hard that plays cannot be said: cane differs, and you have named no "
        "reed of yours to compare with.",
        stiffness_n_per_mm);
    strength.advice =
        "Measure a reed that suits you and mark it with 'canewise player mark'; from then on every reed is placed "
        "against it.";
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
  const auto than = [](double halves) {
    const std::string words = words_from_halves(halves);
    return words == "like the reference" ? std::string("like your reference") : words + " than your reference";
  };
  strength.sentence = fmt::format("By its shape about {}; with what cane can do, {} to {}.", than(strength.halves),
                                  words_from_halves(low), words_from_halves(high));
  if (scale.marks_contradict) {
    strength.sentence +=
        " Your marked reeds contradict each other: what you call harder is not stiffer. The size of a half strength is "
        "assumed instead.";
  }
  if (scale.reeds == 1) strength.sentence += " The size of a half strength is assumed until you mark more reeds.";
  const double wanted = player.wanted_halves.value_or(0.0), off = strength.halves - wanted;
  constexpr double quarter = 0.5;
  // Common practice: too soft drops out or goes flat up high, too hard is airy and slow.
  if (std::abs(off) <= quarter) {
    strength.advice = "That is where you want it, as far as shape can tell.";
  } else if (off > 0.0) {
    strength.advice =
        "Harder than you want: if it plays airy and slow to speak, it can be taken down, or take the next softer step.";
  } else {
    strength.advice =
        "Softer than you want: if it drops out or goes flat up high, scraping makes it worse. Clip it a little, or "
        "take "
        "the next harder step.";
  }
  return strength;
}

}  // namespace canewise
