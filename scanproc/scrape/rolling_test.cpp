#include "scanproc/scrape/rolling_test.h"

#include <cmath>
#include <limits>
#include <numbers>

#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

double density(double z) { return std::isinf(z) ? 0.0 : std::exp(-0.5 * z * z) / std::sqrt(2.0 * std::numbers::pi); }
double below(double z) { return 0.5 * std::erfc(-z / std::numbers::sqrt2); }

}  // namespace

ImbalanceBelief believe(const ShapeImbalance& shape, RollingTest answer) {
  if (answer == RollingTest::not_done) return {shape.value, 0.0, 1.0};
  constexpr double infinity = std::numeric_limits<double>::infinity();
  const double from = answer == RollingTest::right  ? kNoticedImbalance
                      : answer == RollingTest::even ? -kNoticedImbalance
                                                    : -infinity;
  const double to = answer == RollingTest::left   ? -kNoticedImbalance
                    : answer == RollingTest::even ? kNoticedImbalance
                                                  : infinity;
  const double cane_part = square(shape.by_cane * shape.cane_sd);
  const double variance = square(shape.u) + cane_part, heard = std::sqrt(variance + square(kNoticedBlur));
  const double a = (from - shape.value) / heard, b = (to - shape.value) / heard;
  ImbalanceBelief belief;
  // The difference of the smaller tails, so that it does not drown in rounding.
  belief.probability = a > 0.0 ? below(-a) - below(-b) : below(b) - below(a);
  constexpr double unheard_of = 1e-12;
  const double shift = belief.probability > unheard_of ? heard * (density(a) - density(b)) / belief.probability
                                                       : (a > 0.0 ? a : b) * heard;
  belief.imbalance = shape.value + variance / square(heard) * shift;
  if (shape.by_cane != 0.0) belief.cane = cane_part / square(heard) * shift / shape.by_cane;
  return belief;
}

}  // namespace canewise
