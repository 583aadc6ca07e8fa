#pragma once

#include <string_view>

namespace canewise {

enum class Verdict { cannot_tell, within, outside };  ///< What is not computed cannot be told.
[[nodiscard]] std::string_view name_of(Verdict verdict);

/// Conformance probability that both other than 'cannot tell' need. Source: [ISO14253-1], default of the 2017 edition.
inline constexpr double kConformanceProbability = 0.95;
/// Quantile of the normal law for it: the guard band in standard uncertainties where u is small against the tolerance.
inline constexpr double kGuardBand = 1.6448536269514722;
/// Smallest true difference that shows in 95 % of scans, with 5 % false alarms: 2 * 1.645 u. Source: [ISO11843-1].
inline constexpr double kVisible = 2.0 * kGuardBand;

/// Probability that a quantity estimated as `value` with standard uncertainty `u` (normal) lies in [lower, upper].
[[nodiscard]] double conformance_probability(double value, double u, double lower, double upper);

/// 'within' only if at least 95 % sure over both limits together, 'outside' only if at least 95 % sure beyond one of
/// them; NaN gives 'cannot tell'.
[[nodiscard]] Verdict judge(double value, double u, double lower, double upper);

/// A verdict 'outside' names a side, and the wrong one sends the tool to the sound one. So the side has to be surer
/// than the tolerance: a difference of so many standard uncertainties, which chance gives the wrong sign once in
/// 30,000.
inline constexpr double kSureSide = 4.0;
/// Left against right: 'outside' only where the side is sure too.
[[nodiscard]] Verdict judge_sides(double difference, double u, double tolerance);
/// Smallest true difference that is called outside in 95 % of scans.
[[nodiscard]] double surely_outside(double u, double tolerance);

/// Whether 'within +-tolerance' can be proved at all with this uncertainty: u <= tolerance / 1.96.
[[nodiscard]] bool can_prove_within(double u, double tolerance);

}  // namespace canewise
