#include "calib/gauge_study.h"

#include <algorithm>
#include <boost/math/distributions/chi_squared.hpp>
#include <boost/math/distributions/fisher_f.hpp>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <stdexcept>

#include "scanproc/core/statistics.h"

namespace canewise {

GaugeStudy study_gauge(const std::vector<double>& values, std::size_t parts, std::size_t appraisers,
                       std::size_t trials) {
  if (parts < 2 || appraisers < 2 || trials < 2 || values.size() != parts * appraisers * trials)
    throw std::invalid_argument("study_gauge: two or more parts, appraisers and trials, all crossed");
  GaugeStudy s;
  s.parts = parts, s.appraisers = appraisers, s.trials = trials;
  const auto np = static_cast<double>(parts), na = static_cast<double>(appraisers), nt = static_cast<double>(trials);
  std::vector<double> part(parts, 0.0), appraiser(appraisers, 0.0), cell(parts * appraisers, 0.0);
  double all = 0.0;
  for (std::size_t i = 0; i < values.size(); ++i) {
    const std::size_t c = i / trials;
    cell[c] += values[i] / nt;
    part[c / appraisers] += values[i] / (na * nt);
    appraiser[c % appraisers] += values[i] / (np * nt);
    all += values[i] / (np * na * nt);
  }
  for (const double m : part) s.ss_part += na * nt * square(m - all);
  for (const double m : appraiser) s.ss_appraiser += np * nt * square(m - all);
  for (std::size_t c = 0; c < cell.size(); ++c)
    s.ss_interaction += nt * square(cell[c] - part[c / appraisers] - appraiser[c % appraisers] + all);
  for (std::size_t i = 0; i < values.size(); ++i) {
    s.ss_repeatability += square(values[i] - cell[i / trials]);
    s.ss_total += square(values[i] - all);
  }
  const double df_part = np - 1, df_appraiser = na - 1, df_interaction = df_part * df_appraiser,
               df_repeat = np * na * (nt - 1);
  const double ms_part = s.ss_part / df_part, ms_appraiser = s.ss_appraiser / df_appraiser,
               ms_interaction = s.ss_interaction / df_interaction, ms_repeat = s.ss_repeatability / df_repeat;
  if (ms_repeat > 0.0) {
    s.f_interaction = ms_interaction / ms_repeat;
    s.p_interaction =
        boost::math::cdf(boost::math::complement(boost::math::fisher_f(df_interaction, df_repeat), s.f_interaction));
  } else {
    s.p_interaction = ms_interaction > 0.0 ? 0.0 : 1.0;
  }
  constexpr double pooling_level = 0.25;
  s.pooled = s.p_interaction > pooling_level;
  // Mean square that parts and appraisers are held against.
  const double df_error = s.pooled ? df_interaction + df_repeat : df_repeat;
  const double ms_error = s.pooled ? (s.ss_interaction + s.ss_repeatability) / df_error : ms_repeat;
  const double ms_below = s.pooled ? ms_error : ms_interaction;
  const auto variance = [](double v) { return std::max(0.0, v); };
  const double repeat = ms_error;
  const double interaction = s.pooled ? 0.0 : variance((ms_interaction - ms_repeat) / nt);
  const double by_appraiser = variance((ms_appraiser - ms_below) / (np * nt));
  const double by_part = variance((ms_part - ms_below) / (na * nt));
  s.ev = std::sqrt(repeat);
  s.av = std::sqrt(by_appraiser + interaction);
  s.grr = std::sqrt(repeat + by_appraiser + interaction);
  s.pv = std::sqrt(by_part);
  s.tv = std::sqrt(square(s.grr) + square(s.pv));
  s.ndc_unrounded = s.grr > 0.0 ? 1.41 * s.pv / s.grr : 1e9;
  constexpr double most = 1000.0;
  s.ndc = std::max(1, static_cast<int>(std::floor(std::min(most, s.ndc_unrounded))));
  // Satterthwaite: the few appraisers decide how well grr is known. The coefficients are those of the mean squares.
  const double a = by_appraiser > 0.0 ? 1.0 / (np * nt) : 0.0;
  const double b = s.pooled ? 0.0 : (interaction > 0.0 ? 1.0 / nt : 0.0) - a;
  const double e = s.pooled ? 1.0 - a : 1.0 - (interaction > 0.0 ? 1.0 / nt : 0.0);
  const double bottom = square(a * ms_appraiser) / df_appraiser + square(b * ms_interaction) / df_interaction +
                        square(e * ms_error) / df_error;
  const double freedom = std::max(1.0, bottom > 0.0 ? square(square(s.grr)) / bottom : 1.0);
  const boost::math::chi_squared chi(freedom);
  constexpr double tail = 0.025;
  s.grr_low = s.grr * std::sqrt(freedom / boost::math::quantile(boost::math::complement(chi, tail)));
  s.grr_high = s.grr * std::sqrt(freedom / std::max(1e-12, boost::math::quantile(chi, tail)));
  return s;
}

TypeOne study_one(const std::vector<double>& values, double reference, double tolerance_width) {
  if (values.size() < 2) throw std::invalid_argument("study_one: two or more values");
  TypeOne s;
  s.count = values.size();
  const auto n = static_cast<double>(s.count);
  for (const double v : values) s.mean += v / n;
  double squares = 0.0;
  for (const double v : values) squares += square(v - s.mean);
  s.sd = std::sqrt(squares / (n - 1.0));
  s.bias = s.mean - reference;
  if (s.sd > 0.0) {
    s.cg = 0.2 * tolerance_width / (6.0 * s.sd);
    s.cgk = (0.1 * tolerance_width - std::abs(s.bias)) / (3.0 * s.sd);
    if (!std::isnan(s.bias)) {
      const double t = std::abs(s.bias) / (s.sd / std::sqrt(n));
      s.p_bias = 2.0 * boost::math::cdf(boost::math::complement(boost::math::students_t(n - 1.0), t));
    }
  } else {
    s.cg = s.cgk = 1e9;
  }
  return s;
}

}  // namespace canewise
