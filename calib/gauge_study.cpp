#include "calib/gauge_study.h"

#include <algorithm>
#include <boost/math/distributions/chi_squared.hpp>
#include <boost/math/distributions/fisher_f.hpp>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <stdexcept>

#include "scanproc/core/statistics.h"

namespace canewise {

namespace {

/// How many of each, as numbers to reckon with.
struct Sizes {
  double parts, appraisers, trials;
};

struct Means {
  std::vector<double> part, appraiser, cell;
  double all = 0.0;
};

Means means_of(const std::vector<double>& values, const GaugeStudy& s, const Sizes& n) {
  Means means;
  means.part.resize(s.parts, 0.0), means.appraiser.resize(s.appraisers, 0.0);
  means.cell.resize(s.parts * s.appraisers, 0.0);
  for (std::size_t i = 0; i < values.size(); ++i) {
    const std::size_t c = i / s.trials;
    means.cell[c] += values[i] / n.trials;
    means.part[c / s.appraisers] += values[i] / (n.appraisers * n.trials);
    means.appraiser[c % s.appraisers] += values[i] / (n.parts * n.trials);
    means.all += values[i] / (n.parts * n.appraisers * n.trials);
  }
  return means;
}

/// The study with its sums of squares.
GaugeStudy with_squares(GaugeStudy s, const std::vector<double>& values, const Sizes& n) {
  const Means means = means_of(values, s, n);
  for (const double m : means.part) s.ss_part += n.appraisers * n.trials * square(m - means.all);
  for (const double m : means.appraiser) s.ss_appraiser += n.parts * n.trials * square(m - means.all);
  for (std::size_t c = 0; c < means.cell.size(); ++c) {
    s.ss_interaction +=
        n.trials * square(means.cell[c] - means.part[c / s.appraisers] - means.appraiser[c % s.appraisers] + means.all);
  }
  for (std::size_t i = 0; i < values.size(); ++i) {
    s.ss_repeatability += square(values[i] - means.cell[i / s.trials]);
    s.ss_total += square(values[i] - means.all);
  }
  return s;
}

/// A number for each cause of scatter.
struct ByCause {
  double part, appraiser, interaction, repeat;
};

/// The study with Fisher's test of the interaction, which decides whether it is pooled with repeatability.
GaugeStudy with_interaction_test(GaugeStudy s, const ByCause& ms, const ByCause& df) {
  if (ms.repeat > 0.0) {
    s.f_interaction = ms.interaction / ms.repeat;
    s.p_interaction =
        boost::math::cdf(boost::math::complement(boost::math::fisher_f(df.interaction, df.repeat), s.f_interaction));
  } else {
    s.p_interaction = ms.interaction > 0.0 ? 0.0 : 1.0;
  }
  constexpr double pooling_level = 0.25;
  s.pooled = s.p_interaction > pooling_level;
  return s;
}

/// Mean square of repeats, the interaction in it if it was pooled, and its degrees of freedom.
struct ErrorSquare {
  double mean_square, degrees_of_freedom;
};

ErrorSquare error_of(const GaugeStudy& s, const ByCause& ms, const ByCause& df) {
  const double freedom = s.pooled ? df.interaction + df.repeat : df.repeat;
  return {s.pooled ? (s.ss_interaction + s.ss_repeatability) / freedom : ms.repeat, freedom};
}

/// Negative ones count as nought.
ByCause variances_of(const GaugeStudy& s, const ByCause& ms, const Sizes& n, double ms_error) {
  const auto variance = [](double v) { return std::max(0.0, v); };
  // Mean square that parts and appraisers are held against.
  const double ms_below = s.pooled ? ms_error : ms.interaction;
  return {variance((ms.part - ms_below) / (n.appraisers * n.trials)),
          variance((ms.appraiser - ms_below) / (n.parts * n.trials)),
          s.pooled ? 0.0 : variance((ms.interaction - ms.repeat) / n.trials), ms_error};
}

/// The study with its standard deviations and groups.
GaugeStudy with_deviations(GaugeStudy s, const ByCause& variance) {
  s.ev = std::sqrt(variance.repeat);
  s.av = std::sqrt(variance.appraiser + variance.interaction);
  s.grr = std::sqrt(variance.repeat + variance.appraiser + variance.interaction);
  s.pv = std::sqrt(variance.part);
  s.tv = std::sqrt(square(s.grr) + square(s.pv));
  s.ndc_unrounded = s.grr > 0.0 ? 1.41 * s.pv / s.grr : 1e9;
  constexpr double most = 1000.0;
  s.ndc = std::max(1, static_cast<int>(std::floor(std::min(most, s.ndc_unrounded))));
  return s;
}

/// The study with the interval of grr.
GaugeStudy with_interval(GaugeStudy s, double degrees_of_freedom) {
  const boost::math::chi_squared chi(degrees_of_freedom);
  constexpr double tail = 0.025;
  s.grr_low = s.grr * std::sqrt(degrees_of_freedom / boost::math::quantile(boost::math::complement(chi, tail)));
  s.grr_high = s.grr * std::sqrt(degrees_of_freedom / std::max(1e-12, boost::math::quantile(chi, tail)));
  return s;
}

}  // namespace

GaugeStudy study_gauge(const std::vector<double>& values, std::size_t parts, std::size_t appraisers,
                       std::size_t trials) {
  if (parts < 2 || appraisers < 2 || trials < 2 || values.size() != parts * appraisers * trials)
    throw std::invalid_argument("study_gauge: two or more parts, appraisers and trials, all crossed");
  const Sizes n{static_cast<double>(parts), static_cast<double>(appraisers), static_cast<double>(trials)};
  GaugeStudy s;
  s.parts = parts, s.appraisers = appraisers, s.trials = trials;
  s = with_squares(s, values, n);
  const ByCause df{n.parts - 1, n.appraisers - 1, (n.parts - 1) * (n.appraisers - 1),
                   n.parts * n.appraisers * (n.trials - 1)};
  const ByCause ms{s.ss_part / df.part, s.ss_appraiser / df.appraiser, s.ss_interaction / df.interaction,
                   s.ss_repeatability / df.repeat};
  s = with_interaction_test(s, ms, df);
  const ErrorSquare error = error_of(s, ms, df);
  const ByCause variance = variances_of(s, ms, n, error.mean_square);
  s = with_deviations(s, variance);
  // Satterthwaite: the few appraisers decide how well grr is known. The coefficients are those of the mean squares.
  const double a = variance.appraiser > 0.0 ? 1.0 / (n.parts * n.trials) : 0.0;
  const double kept = variance.interaction > 0.0 ? 1.0 / n.trials : 0.0;
  const double b = s.pooled ? 0.0 : kept - a, e = s.pooled ? 1.0 - a : 1.0 - kept;
  const double bottom = square(a * ms.appraiser) / df.appraiser + square(b * ms.interaction) / df.interaction +
                        square(e * error.mean_square) / error.degrees_of_freedom;
  return with_interval(s, std::max(1.0, bottom > 0.0 ? square(square(s.grr)) / bottom : 1.0));
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
