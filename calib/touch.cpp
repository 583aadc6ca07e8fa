#include "calib/touch.h"

#include <Eigen/Cholesky>
#include <Eigen/LU>
#include <algorithm>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <numbers>

#include "scanproc/core/budget.h"
#include "scanproc/core/error.h"
#include "scanproc/core/linear_fit.h"
#include "scanproc/core/statistics.h"
#include "scanproc/core/units.h"
#include "scanproc/words/decimals.h"

namespace canewise {
namespace {

constexpr double kRadialModulus_mpa = 400.0;
constexpr double kRestsOn_sd = 2.0;

TouchPlace place_of(const Aligned& aligned, const ThicknessMap& map, const TouchReading& reading, const TouchTool& tool,
                    std::size_t which) {
  TouchPlace place;
  place.reading = reading;
  const double radius = 0.5 * tool.anvil_diameter_mm;
  const Arguments where{{"reading", count(which)},
                        {"x", mm(reading.x_mm, decimals_of(reading.x_mm))},
                        {"y", mm(reading.y_mm, decimals_of(reading.y_mm))}};
  if (!aligned.outline.holds(reading.x_mm, reading.y_mm, std::min(radius, 0.4)))
    throw UsageError({"touch.off_reed", where});
  std::vector<Eigen::Vector3d> rows;
  std::vector<double> heights;
  for (Eigen::Index i = 0; i < aligned.points_mm.cols(); ++i) {
    const Eigen::Vector3d p = aligned.points_mm.col(i);
    const double dx = p.x() - reading.x_mm, dy = p.y() - reading.y_mm;
    if (dx * dx + dy * dy > square(radius)) continue;
    rows.emplace_back(1.0, dx, dy);
    heights.push_back(p.z());
  }
  constexpr std::size_t fewest = 12;
  if (rows.size() < fewest) throw UsageError({"touch.few_points", {{"reading", count(which)}}});
  // As many powers as the points carry: what is left must be texture, not form.
  constexpr std::size_t enough_for_quartic = 80;
  const int order = rows.size() > enough_for_quartic ? 4 : 2;
  const auto powers = [&](double x, double y) {
    Eigen::VectorXd terms((order + 1) * (order + 2) / 2);
    Eigen::Index at = 0;
    for (int sum = 0; sum <= order; ++sum) {
      for (int i = 0; i <= sum; ++i) terms(at++) = std::pow(x / radius, sum - i) * std::pow(y / radius, i);
    }
    return terms;
  };
  Eigen::MatrixXd design(static_cast<Eigen::Index>(rows.size()), powers(0.0, 0.0).size());
  for (std::size_t i = 0; i < rows.size(); ++i)
    design.row(static_cast<Eigen::Index>(i)) = powers(rows[i].y(), rows[i].z()).transpose();
  const LinearFit fit = fit_linear_robust(
      design, Eigen::Map<const Eigen::VectorXd>(heights.data(), static_cast<Eigen::Index>(heights.size())), 1e-4);
  const Eigen::VectorXd& k = fit.coefficients;
  place.thickness_mm = k(0);
  place.mean_um = um_from_mm(place.thickness_mm);
  place.slope = std::hypot(k(1), k(2)) / radius;
  double highest_mm = 0.0;  // Of the smooth surface under the anvil, over its middle.
  constexpr int rings = 6, around = 24;
  for (int i = 1; i <= rings; ++i) {
    for (int j = 0; j < around; ++j) {
      const double r = radius * i / rings, angle = 2.0 * std::numbers::pi * j / around;
      const double x = r * std::cos(angle), y = r * std::sin(angle);
      if (!aligned.outline.holds(reading.x_mm + x, reading.y_mm + y)) continue;
      highest_mm = std::max(highest_mm, k.dot(powers(x, y)) - k(0));
    }
  }
  const double texture_um =
      um_from_mm(std::sqrt(std::max(0.0, square(fit.residual_sd) - square(aligned.plate_noise_mm))));
  place.peaks_um = kRestsOn_sd * texture_um + um_from_mm(highest_mm);
  const double pressure_mpa = tool.force_n / (std::numbers::pi * square(radius));
  place.indentation_um = um_from_mm(pressure_mpa / kRadialModulus_mpa * place.thickness_mm);
  place.difference_um = um_from_mm(reading.reading_mm) - place.mean_um - place.peaks_um + place.indentation_um;
  const auto row = static_cast<Eigen::Index>(reading.x_mm / map.grid.cell_mm);
  const auto column =
      static_cast<Eigen::Index>(reading.y_mm / map.grid.cell_mm + 0.5 * static_cast<double>(map.grid.columns));
  double local_um = um_from_mm(fit.residual_sd) / std::sqrt(static_cast<double>(rows.size()));
  if (row >= 0 && column >= 0 && row < map.grid.rows && column < map.grid.columns && map.measured(row, column))
    local_um = um_from_mm(static_cast<double>(map.u_local_mm(row, column)));
  place.u_um = std::sqrt(square(local_um) + square(0.5 * texture_um) + square(place.indentation_um) +
                         square(um_from_mm(tool.u_place_mm * place.slope)) + square(0.03 * um_from_mm(highest_mm)));
  constexpr double no_thickness = 0.5;
  if (std::abs(reading.reading_mm - place.thickness_mm) > std::max(0.15, no_thickness * place.thickness_mm)) {
    Arguments with = where;
    with["says"] = mm(reading.reading_mm, decimals_of(reading.reading_mm));
    with["shows"] = mm(place.thickness_mm, 3);
    throw UsageError({"touch.no_thickness", std::move(with)});
  }
  return place;
}

/// What moves several differences together, a column for each independent effect of one standard deviation: how the
/// reed lay on the plate, its table's form, tip, plate, scale and frame, as the map states them; the tool's own error;
/// and how far the anvil presses in, which is as unsure as it is large. Light in the cane is what is looked for.
Eigen::MatrixXd shared_effects(const ThicknessMap& map, const std::vector<TouchPlace>& places, double u_tool_um) {
  std::vector<const CommonEffect*> used;
  for (const CommonEffect& effect : map.common) {
    if (effect.source != Source::penetration) used.push_back(&effect);
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

}  // namespace

TouchCheck check_touch(const Aligned& aligned, const ThicknessMap& map, const std::vector<TouchReading>& readings,
                       const TouchTool& tool) {
  if (readings.size() < kFewestTouches) {
    throw UsageError({"touch.too_few", {{"readings", count(readings.size())}, {"fewest", count(kFewestTouches)}}});
  }
  if (!(tool.anvil_diameter_mm >= 0.3 && tool.anvil_diameter_mm <= 10.0)) throw UsageError({"touch.anvil"});
  if (!(tool.force_n >= 0.0 && tool.force_n <= 50.0)) throw UsageError({"touch.force"});
  TouchCheck check;
  for (std::size_t i = 0; i < readings.size(); ++i)
    check.places.push_back(place_of(aligned, map, readings[i], tool, i + 1));
  const auto n = static_cast<Eigen::Index>(check.places.size());
  Eigen::VectorXd d(n), t(n), s(n), own(n);
  for (Eigen::Index i = 0; i < n; ++i) {
    const TouchPlace& place = check.places[static_cast<std::size_t>(i)];
    d(i) = place.difference_um, t(i) = place.thickness_mm, s(i) = place.slope, own(i) = square(place.u_um);
  }
  check.found.middle_mm = t.mean();
  check.found.state = tool.state;
  check.bias_um = d.mean();
  check.sd_um = std::sqrt((d.array() - check.bias_um).square().sum() / static_cast<double>(n - 1));
  check.low_um = check.bias_um - kCoverage95 * check.sd_um;
  check.high_um = check.bias_um + kCoverage95 * check.sd_um;
  check.u_limit_um = std::sqrt(3.0 / static_cast<double>(n)) * check.sd_um;  // [BlandAltman1986].
  const Eigen::VectorXd thick = t.array() - check.found.middle_mm;
  const double middle_slope = s.mean();
  const Differences differences{d, own, shared_effects(map, check.places, tool.u_reading_um)};
  const auto fit_with = [&](bool with_thickness, bool with_slope) {
    Eigen::MatrixXd design(n, 1 + with_thickness + with_slope);
    design.col(0).setOnes();
    if (with_thickness) design.col(1) = thick;
    if (with_slope) design.col(1 + with_thickness) = s.array() - middle_slope;
    return fit_bias(differences, design);
  };
  const double spread_t = thick.cwiseAbs().maxCoeff(), spread_s = (s.array() - middle_slope).abs().maxCoeff();
  if (spread_t > 0.1) check.p_thickness = p_of(fit_with(true, false), 1);
  if (spread_s > 0.01) check.p_slope = p_of(fit_with(false, true), 1);
  // The stronger of the two, or none: a dozen readings cannot carry both.
  constexpr double level = 0.05;
  const bool by_thickness = check.p_thickness < level && check.p_thickness <= check.p_slope;
  const bool by_slope = !by_thickness && check.p_slope < level;
  const BiasFit fit = fit_with(by_thickness, by_slope);
  LightDepth& found = check.found;
  found.scatter_um = std::sqrt(fit.scale * own.mean());
  found.offset_um = fit.coefficients(0);
  found.covariance_um2(0, 0) = fit.covariance(0, 0);
  if (by_thickness) {
    found.per_mm_um = fit.coefficients(1);
    found.covariance_um2(1, 1) = fit.covariance(1, 1);
    found.covariance_um2(0, 1) = found.covariance_um2(1, 0) = fit.covariance(0, 1);
  }
  if (by_slope) {
    found.per_slope_um = fit.coefficients(1);
    found.offset_um -= found.per_slope_um * middle_slope;
    found.covariance_um2(2, 2) = fit.covariance(1, 1);
    const double cross = fit.covariance(0, 1) - middle_slope * fit.covariance(1, 1);
    found.covariance_um2(0, 2) = found.covariance_um2(2, 0) = cross;
    found.covariance_um2(0, 0) +=
        square(middle_slope) * fit.covariance(1, 1) - 2.0 * middle_slope * fit.covariance(0, 1);
  }
  const double u95 = kCoverage95 * std::sqrt(fit.covariance(0, 0));
  check.verdict.push_back({"touch.bias",
                           {{"bias", um(std::abs(fit.coefficients(0)), 1)},
                            {"way", word(fit.coefficients(0) > 0 ? "thinner" : "thicker")},
                            {"u95", um(u95, 1)},
                            {"follows", word(by_thickness ? "thickness"
                                             : by_slope   ? "slope"
                                                          : "nothing")},
                            {"per_mm", signed_um(found.per_mm_um, 1)},
                            {"low", um(check.low_um)},
                            {"high", um(check.high_um)}}});
  // What the places share tells how much of the uncertainty is the way that the reed lay.
  const double lying_um = std::sqrt(std::max(0.0, fit.covariance(0, 0) - square(tool.u_reading_um)));
  constexpr double large_um = 4.0;
  if (aligned.datum == DatumMode::plate && lying_um > large_um) check.verdict.push_back({"touch.lying"});
  if (std::sqrt(own.mean()) > 2.0 * std::max(0.1, check.sd_um)) check.verdict.push_back({"touch.too_good"});
  return check;
}

}  // namespace canewise
