#include "calib/touch.h"

#include <Eigen/Cholesky>
#include <Eigen/LU>
#include <algorithm>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>

#include "calib/touch_place.h"
#include "scanproc/core/budget.h"
#include "scanproc/core/error.h"
#include "scanproc/core/statistics.h"
#include "scanproc/core/units.h"

namespace canewise {
namespace {

/// What moves several differences together, a column for each independent effect of one standard deviation: how the
/// reed lay on the plate, its table's form, tip, plate, scale and frame, as the map states them; the tool's own error;
/// and how far the anvil presses in, which is as unsure as it is large. Light in the cane is what is looked for.
Eigen::MatrixXd shared_effects(const ThicknessMap& map, const std::vector<TouchPlace>& places, double u_tool_um) {
  std::vector<const CommonEffect*> used;
  for (const CommonEffect& effect : map.common) {
    if (effect.source != EffectSource::penetration) used.push_back(&effect);
  }
  const auto n = static_cast<Eigen::Index>(places.size()), m = static_cast<Eigen::Index>(used.size());
  Eigen::MatrixXd effects = Eigen::MatrixXd::Zero(n, m + 2);
  for (Eigen::Index i = 0; i < n; ++i) {
    const TouchPlace& place = places[static_cast<std::size_t>(i)];
    const auto row = std::clamp<Eigen::Index>(static_cast<Eigen::Index>(place.reading.x_mm / map.grid.cell_mm), 0,
                                              map.grid.rows - 1);
    const auto column = std::clamp<Eigen::Index>(
        static_cast<Eigen::Index>(place.reading.y_mm / map.grid.cell_mm + 0.5 * static_cast<double>(map.grid.columns)),
        0, map.grid.columns - 1);
    for (Eigen::Index k = 0; k < m; ++k) {
      const auto shift = static_cast<double>(used[static_cast<std::size_t>(k)]->shift_mm(row, column));
      if (std::isfinite(shift)) effects(i, k) = um_from_mm(shift);
    }
    effects(i, m) = u_tool_um;
    effects(i, m + 1) = place.indentation_um;
  }
  return effects;
}

/// Generalised least squares of the differences.
struct BiasFit {
  Eigen::VectorXd coefficients;
  Eigen::MatrixXd covariance;
  double scale = 1.0;  ///< Of the places' own variances.
  int degrees_of_freedom = 0;
};

struct Differences {
  Eigen::VectorXd d_um, own_um2;
  Eigen::MatrixXd effects_um;
};

/// With V = scale * own + effects effects': C = (A' V^-1 A)^-1. The places' own variances are scaled until the misfit
/// is what chance makes it, as many squares as degrees of freedom; never to less than a quarter: how the reed really
/// lay is no more than like the effects' shapes, and readings that seem to agree better would be trusted to tell them
/// apart (with a floor of a thousandth 83 % lie within U95, with a quarter 96). For the covariance they are widened for
/// the degrees of freedom ([JCGM101], 6.4.9).
BiasFit fit_bias(const Differences& differences, const Eigen::MatrixXd& design) {
  BiasFit fit;
  fit.degrees_of_freedom = static_cast<int>(design.rows() - design.cols());
  const auto solve = [&](double scale) {
    Eigen::MatrixXd v = differences.effects_um * differences.effects_um.transpose();
    v.diagonal() += scale * differences.own_um2;
    const Eigen::LLT<Eigen::MatrixXd> factor(v);
    const Eigen::MatrixXd white = factor.matrixL().solve(design);
    const Eigen::VectorXd right = factor.matrixL().solve(differences.d_um);
    fit.covariance = (white.transpose() * white).inverse();
    fit.coefficients = fit.covariance * (white.transpose() * right);
    return (right - white * fit.coefficients).squaredNorm();
  };
  double low = 0.25, high = 1e4;
  if (solve(low) > fit.degrees_of_freedom) {
    for (int round = 0; round < 60; ++round) {
      const double middle = std::sqrt(low * high);
      (solve(middle) > fit.degrees_of_freedom ? low : high) = middle;
    }
  }
  fit.scale = low;
  (void)solve(low);
  const Eigen::VectorXd coefficients = fit.coefficients;
  (void)solve(low * fit.degrees_of_freedom / std::max(1.0, fit.degrees_of_freedom - 2.0));
  fit.coefficients = coefficients;
  return fit;
}

double p_of(const BiasFit& fit, Eigen::Index k) {
  const double u = std::sqrt(fit.covariance(k, k));
  if (!(u > 0.0)) return 1.0;
  return 2.0 * boost::math::cdf(boost::math::complement(boost::math::students_t(fit.degrees_of_freedom),
                                                        std::abs(fit.coefficients(k)) / u));
}

/// The places' values side by side.
struct Columns {
  Eigen::VectorXd difference_um, variance_um2;
  Eigen::VectorXd thicker_mm, steeper;  ///< Than the mean of all.
  double middle_mm = 0.0, middle_slope = 0.0;
};

Columns columns_of(const std::vector<TouchPlace>& places) {
  const auto n = static_cast<Eigen::Index>(places.size());
  Eigen::VectorXd d(n), t(n), s(n), own(n);
  for (Eigen::Index i = 0; i < n; ++i) {
    const TouchPlace& place = places[static_cast<std::size_t>(i)];
    d(i) = place.difference_um, t(i) = place.thickness_mm, s(i) = place.slope, own(i) = square(place.u_um);
  }
  const double middle_mm = t.mean(), middle_slope = s.mean();
  return {d, own, t.array() - middle_mm, s.array() - middle_slope, middle_mm, middle_slope};
}

enum class Follows { nothing, thickness, slope };

/// How the bias depends on the place.
struct BiasModel {
  Follows follows = Follows::nothing;
  BiasFit fit;
  double p_thickness = 1.0, p_slope = 1.0;
};

/// The stronger of the two, or none: a dozen readings cannot carry both.
BiasModel choose_model(const Columns& columns, const Differences& differences) {
  const auto fit_with = [&](Follows follows) {
    Eigen::MatrixXd design(columns.difference_um.size(), follows == Follows::nothing ? 1 : 2);
    design.col(0).setOnes();
    if (follows == Follows::thickness) design.col(1) = columns.thicker_mm;
    if (follows == Follows::slope) design.col(1) = columns.steeper;
    return fit_bias(differences, design);
  };
  BiasModel model;
  if (columns.thicker_mm.cwiseAbs().maxCoeff() > 0.1) model.p_thickness = p_of(fit_with(Follows::thickness), 1);
  if (columns.steeper.cwiseAbs().maxCoeff() > 0.01) model.p_slope = p_of(fit_with(Follows::slope), 1);
  constexpr double level = 0.05;
  const bool by_thickness = model.p_thickness < level && model.p_thickness <= model.p_slope;
  model.follows = by_thickness ? Follows::thickness : model.p_slope < level ? Follows::slope : Follows::nothing;
  model.fit = fit_with(model.follows);
  return model;
}

LightDepth light_depth(const Columns& columns, const BiasModel& model, MoistureState state) {
  const BiasFit& fit = model.fit;
  LightDepth found;
  found.middle_mm = columns.middle_mm;
  found.state = state;
  found.scatter_um = std::sqrt(fit.scale * columns.variance_um2.mean());
  found.offset_um = fit.coefficients(0);
  found.covariance_um2(0, 0) = fit.covariance(0, 0);
  if (model.follows == Follows::thickness) {
    found.per_mm_um = fit.coefficients(1);
    found.covariance_um2(1, 1) = fit.covariance(1, 1);
    found.covariance_um2(0, 1) = found.covariance_um2(1, 0) = fit.covariance(0, 1);
  }
  if (model.follows == Follows::slope) {
    found.per_slope_um = fit.coefficients(1);
    found.offset_um -= found.per_slope_um * columns.middle_slope;
    found.covariance_um2(2, 2) = fit.covariance(1, 1);
    const double cross = fit.covariance(0, 1) - columns.middle_slope * fit.covariance(1, 1);
    found.covariance_um2(0, 2) = found.covariance_um2(2, 0) = cross;
    found.covariance_um2(0, 0) +=
        square(columns.middle_slope) * fit.covariance(1, 1) - 2.0 * columns.middle_slope * fit.covariance(0, 1);
  }
  return found;
}

Message bias_words(const TouchCheck& check, const BiasModel& model) {
  const double bias_um = model.fit.coefficients(0);
  return {"touch.bias",
          {{"bias", um(std::abs(bias_um), 1)},
           {"way", word(bias_um > 0 ? "thinner" : "thicker")},
           {"u95", um(kCoverage95 * std::sqrt(model.fit.covariance(0, 0)), 1)},
           {"follows", word(model.follows == Follows::thickness ? "thickness"
                            : model.follows == Follows::slope   ? "slope"
                                                                : "nothing")},
           {"per_mm", signed_um(check.found.per_mm_um, 1)},
           {"low", um(check.low_um)},
           {"high", um(check.high_um)}}};
}

void check_inputs(std::size_t readings, const TouchTool& tool) {
  if (readings < kFewestTouches)
    throw UsageError({"touch.too_few", {{"readings", count(readings)}, {"fewest", count(kFewestTouches)}}});
  if (!(tool.anvil_diameter_mm >= 0.3 && tool.anvil_diameter_mm <= 10.0)) throw UsageError({"touch.anvil"});
  if (!(tool.force_n >= 0.0 && tool.force_n <= 50.0)) throw UsageError({"touch.force"});
}

}  // namespace

TouchCheck check_touch(const Aligned& aligned, const ThicknessMap& map, const std::vector<TouchReading>& readings,
                       const TouchTool& tool) {
  check_inputs(readings.size(), tool);
  TouchCheck check;
  for (std::size_t i = 0; i < readings.size(); ++i)
    check.places.push_back(place_of({aligned, map}, readings[i], tool, i + 1));
  const Columns columns = columns_of(check.places);
  const Eigen::VectorXd& d = columns.difference_um;
  check.bias_um = d.mean();
  check.sd_um = std::sqrt((d.array() - check.bias_um).square().sum() / static_cast<double>(d.size() - 1));
  check.low_um = check.bias_um - kCoverage95 * check.sd_um;
  check.high_um = check.bias_um + kCoverage95 * check.sd_um;
  check.u_limit_um = std::sqrt(3.0 / static_cast<double>(d.size())) * check.sd_um;  // [BlandAltman1986].
  const BiasModel model =
      choose_model(columns, {d, columns.variance_um2, shared_effects(map, check.places, tool.u_reading_um)});
  check.p_thickness = model.p_thickness;
  check.p_slope = model.p_slope;
  check.found = light_depth(columns, model, tool.state);
  check.verdict.push_back(bias_words(check, model));
  // What the places share tells how much of the uncertainty is the way that the reed lay.
  const double lying_um = std::sqrt(std::max(0.0, model.fit.covariance(0, 0) - square(tool.u_reading_um)));
  constexpr double large_um = 4.0;
  if (aligned.datum == DatumMode::plate && lying_um > large_um) check.verdict.push_back({"touch.lying"});
  if (std::sqrt(columns.variance_um2.mean()) > 2.0 * std::max(0.1, check.sd_um))
    check.verdict.push_back({"touch.too_good"});
  return check;
}

}  // namespace canewise
