#pragma once

#include <string>
#include <vector>

namespace canewise {

/// Crossed gauge study: every part measured several times by every appraiser (a person, or a day).
struct GaugeStudy {
  std::size_t parts = 0, appraisers = 0, trials = 0;
  double ss_part = 0, ss_appraiser = 0, ss_interaction = 0, ss_repeatability = 0, ss_total = 0;
  double f_interaction = 0, p_interaction = 1;
  bool pooled = false;  ///< The interaction showed nothing (p above 0.25) and was added to repeatability.
  /// Standard deviations: repeatability (equipment), appraiser (with interaction where it was kept), both together,
  /// parts, everything.
  double ev = 0, av = 0, grr = 0, pv = 0, tv = 0;
  double grr_low = 0, grr_high = 0;  ///< 95 % interval of grr by Satterthwaite's degrees of freedom.
  double ndc_unrounded = 0;          ///< 1.41 pv / grr.
  int ndc = 0;                       ///< Rounded down: groups of parts that the gauge can keep apart.
};

/// Analysis of variance of a balanced crossed study, random effects. Source: [AIAG-MSA], chapter III, section B.
/// `values` is parts x appraisers x trials, trials fastest. Negative variance components count as nought. Throws
/// std::invalid_argument for fewer than two of anything or a wrong number of values.
[[nodiscard]] GaugeStudy study_gauge(const std::vector<double>& values, std::size_t parts, std::size_t appraisers,
                                     std::size_t trials);

/// One thing measured many times by one person (type-1 study).
struct TypeOne {
  std::size_t count = 0;
  double mean = 0, sd = 0;
  double bias = 0;    ///< mean - reference; NaN without a reference.
  double p_bias = 1;  ///< Of Student's test that there is none.
  double cg = 0;      ///< 0.2 T / (6 sd), T the tolerance's full width; from memory, common in industry.
  double cgk = 0;     ///< (0.1 T - |bias|) / (3 sd); likewise. NaN without a reference.
};
/// Throws std::invalid_argument for fewer than two values.
[[nodiscard]] TypeOne study_one(const std::vector<double>& values, double reference, double tolerance_width);

}  // namespace canewise
