#include "scanproc/assess/conformity.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "scanproc/core/budget.h"

namespace canewise {
namespace {

/// Probability of the normal law above `z`; keeps its digits far out.
double upper_tail(double z) { return 0.5 * std::erfc(z / std::numbers::sqrt2); }

}  // namespace

std::string_view name_of(Verdict verdict) {
  switch (verdict) {
    case Verdict::within:
      return "within";
    case Verdict::outside:
      return "outside";
    case Verdict::cannot_tell:
      break;
  }
  return "cannot tell";
}

double conformance_probability(double value, double u, double lower, double upper) {
  if (!(u > 0.0)) return value >= lower && value <= upper ? 1.0 : 0.0;
  return 1.0 - upper_tail((upper - value) / u) - upper_tail((value - lower) / u);
}

Verdict judge(double value, double u, double lower, double upper) {
  if (std::isnan(value) || std::isnan(u)) return Verdict::cannot_tell;
  if (conformance_probability(value, u, lower, upper) >= kConformanceProbability) return Verdict::within;
  if (!(u > 0.0)) return Verdict::outside;
  // Beyond one limit, not 'somewhere else': a hopeless uncertainty leaves little probability between the limits too.
  const double beyond = std::max(upper_tail((upper - value) / u), upper_tail((value - lower) / u));
  return beyond >= kConformanceProbability ? Verdict::outside : Verdict::cannot_tell;
}

Verdict judge_sides(double difference, double u, double tolerance) {
  const Verdict verdict = judge(difference, u, -tolerance, tolerance);
  return verdict == Verdict::outside && std::abs(difference) < kSureSide * u ? Verdict::cannot_tell : verdict;
}

double surely_outside(double u, double tolerance) {
  return std::max(tolerance + kVisible * u, (kSureSide + kGuardBand) * u);
}

bool can_prove_within(double u, double tolerance) { return u <= tolerance / kCoverage95; }

}  // namespace canewise
