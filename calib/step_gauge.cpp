#include "calib/step_gauge.h"

#include <Eigen/Eigenvalues>
#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <map>
#include <numbers>

#include "calib/plate_calibration.h"
#include "scanproc/core/budget.h"
#include "scanproc/core/error.h"
#include "scanproc/core/linear_fit.h"
#include "scanproc/core/statistics.h"
#include "scanproc/core/units.h"
#include "scanproc/datum/clusters.h"
#include "scanproc/datum/plane_search.h"
#include "scanproc/datum/plate.h"
#include "scanproc/datum/points.h"
#include "scanproc/datum/spheres.h"
#include "scanproc/words/decimals.h"

namespace canewise {
namespace {

double range_of_inner(std::vector<double> values, double share) {
  if (values.empty()) return std::nan("");
  std::sort(values.begin(), values.end());
  const auto drop = static_cast<std::size_t>(0.5 * (1.0 - share) * static_cast<double>(values.size()));
  return values[values.size() - 1 - drop] - values[drop];
}

double mean_of(const std::vector<double>& values) {
  double sum = 0.0;
  for (const double v : values) sum += v;
  return sum / static_cast<double>(values.size());
}

double sd_of(const std::vector<double>& values) {
  const double mean = mean_of(values);
  double squares = 0.0;
  for (const double v : values) squares += square(v - mean);
  return values.size() > 1 ? std::sqrt(squares / static_cast<double>(values.size() - 1)) : std::nan("");
}

/// The strip's axes on the plate: its middle, direction along and half sizes.
struct Strip {
  Eigen::Vector2d middle, along;
  double length_mm = 0.0, width_mm = 0.0;
};

Strip find_strip(const Eigen::Matrix3Xd& points, double nominal_mm, const std::string& name) {
  // Points nearer to the strip's height than to the plate.
  std::vector<Eigen::Vector2d> on;
  for (Eigen::Index i = 0; i < points.cols(); ++i) {
    if (points(2, i) > 0.5 * nominal_mm && points(2, i) < 1.5 * nominal_mm) on.emplace_back(points(0, i), points(1, i));
  }
  constexpr std::size_t fewest = 200;
  if (on.size() < fewest)
    throw InputError({"gauge.no_strip", {{"file", text(name)}, {"height", um(um_from_mm(nominal_mm))}}});
  // Cells of half a millimetre that are full of such points: noise on a bare plate fills none.
  Eigen::Vector2d low = on.front(), high = on.front();
  for (const auto& p : on) low = low.cwiseMin(p), high = high.cwiseMax(p);
  constexpr double cell_mm = 0.5;
  const Eigen::Vector2i size = ((high - low) / cell_mm).array().floor().cast<int>() + 1;
  Eigen::ArrayXXi strip = Eigen::ArrayXXi::Zero(size.y(), size.x()), all = strip;
  const auto cell_of = [&](double x, double y) {
    return Eigen::Vector2i(static_cast<int>(std::floor((x - low.x()) / cell_mm)),
                           static_cast<int>(std::floor((y - low.y()) / cell_mm)));
  };
  const auto inside = [&](const Eigen::Vector2i& c) {
    return c.x() >= 0 && c.y() >= 0 && c.x() < size.x() && c.y() < size.y();
  };
  for (Eigen::Index i = 0; i < points.cols(); ++i) {
    const Eigen::Vector2i c = cell_of(points(0, i), points(1, i));
    if (inside(c)) ++all(c.y(), c.x());
  }
  for (const auto& p : on) {
    const Eigen::Vector2i c = cell_of(p.x(), p.y());
    if (inside(c)) ++strip(c.y(), c.x());
  }
  std::vector<Eigen::Vector2d> core;
  for (const auto& p : on) {
    const Eigen::Vector2i c = cell_of(p.x(), p.y());
    if (inside(c) && 10 * strip(c.y(), c.x()) >= 7 * all(c.y(), c.x())) core.push_back(p);
  }
  if (core.size() < fewest) throw InputError({"gauge.no_flat_top", {{"file", text(name)}}});
  Eigen::Vector2d mean = Eigen::Vector2d::Zero();
  for (const auto& p : core) mean += p / static_cast<double>(core.size());
  Eigen::Matrix2d scatter = Eigen::Matrix2d::Zero();
  for (const auto& p : core) scatter += (p - mean) * (p - mean).transpose();
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d> eigen(scatter);
  Strip found;
  found.along = eigen.eigenvectors().col(1);
  const Eigen::Vector2d across(-found.along.y(), found.along.x());
  std::vector<double> s, t;
  for (const auto& p : core) s.push_back(found.along.dot(p - mean)), t.push_back(across.dot(p - mean));
  std::sort(s.begin(), s.end());
  std::sort(t.begin(), t.end());
  const auto at = [](const std::vector<double>& v, double share) {
    return v[static_cast<std::size_t>(share * static_cast<double>(v.size() - 1))];
  };
  // All but a hundredth at each end of an even density: the true ends lie a hundredth further out.
  constexpr double cut = 0.01;
  const double s0 = at(s, cut), s1 = at(s, 1 - cut), t0 = at(t, cut), t1 = at(t, 1 - cut);
  found.length_mm = (s1 - s0) / (1.0 - 2.0 * cut);
  found.width_mm = (t1 - t0) / (1.0 - 2.0 * cut);
  found.middle = mean + 0.5 * (s0 + s1) * found.along + 0.5 * (t0 + t1) * across;
  return found;
}

}  // namespace

std::optional<StepHeight> step_height_a1(const std::vector<double>& x_mm, const std::vector<double>& z_mm,
                                         double centre_mm, double width_mm) {
  std::vector<Eigen::Vector3d> rows;
  std::vector<double> heights;
  std::array<std::size_t, 3> counts{};
  for (std::size_t i = 0; i < x_mm.size(); ++i) {
    const double x = x_mm[i] - centre_mm, far = std::abs(x) / width_mm;
    double delta = 0.0;
    if (far <= 1.0 / 6.0) {
      delta = -1.0;
      ++counts[1];
    } else if (far >= 0.5 + 1.0 / 3.0 && far <= 1.5) {
      delta = 1.0;
      ++counts.at(x < 0.0 ? 0 : 2);
    } else {
      continue;
    }
    rows.emplace_back(x, 1.0, delta);
    heights.push_back(z_mm[i]);
  }
  constexpr std::size_t fewest = 2;
  if (*std::min_element(counts.begin(), counts.end()) < fewest || rows.size() < 6) return std::nullopt;
  Eigen::MatrixXd design(static_cast<Eigen::Index>(rows.size()), 3);
  for (std::size_t i = 0; i < rows.size(); ++i) design.row(static_cast<Eigen::Index>(i)) = rows[i];
  const LinearFit fit =
      fit_linear(design, Eigen::Map<const Eigen::VectorXd>(heights.data(), static_cast<Eigen::Index>(heights.size())));
  return StepHeight{-2.0 * fit.coefficients(2), fit.residual_sd, rows.size()};
}

GaugeScan measure_gauge(const Cloud& cloud, double nominal_um, const Rig& rig, const std::string& name) {
  GaugeScan result;
  Eigen::Matrix3Xd points = cloud.points_mm;
  const double nominal_mm = mm_from_um(nominal_um);
  // The plate as the plane with most points; a wide strip must not be taken for it, so it has to lie lower.
  PlateGuess plate;
  try {
    plate = find_plate(points);
  } catch (const Error& error) {
    throw InputError({"in_file", {{"file", text(name)}, {"what", part(error.message())}}});
  }
  const Plane plane{plate.plate_from_scan.linear().row(2).transpose(), -plate.plate_from_scan.translation().z()};
  const Eigen::Vector3d up = up_of(plane.normal, plane.distance, rig);
  Eigen::Isometry3d frame = plate.plate_from_scan;
  if (up.dot(plane.normal) < 0.0) frame = Eigen::AngleAxisd(std::numbers::pi, Eigen::Vector3d::UnitX()) * frame;
  transform_in_place(points, frame);
  result.up = up;
  const Strip strip = find_strip(points, nominal_mm, name);
  result.width_mm = strip.width_mm;
  constexpr double shortest_mm = 5.0, narrowest_mm = 1.0;
  if (strip.length_mm < shortest_mm || strip.width_mm < narrowest_mm) {
    throw InputError({"gauge.small_strip",
                      {{"file", text(name)}, {"length", mm(strip.length_mm, 1)}, {"width", mm(strip.width_mm, 1)}}});
  }
  const Eigen::Vector2d across(-strip.along.y(), strip.along.x());
  const double half = 0.5 * strip.length_mm - 1.0;
  const auto profiles = static_cast<std::size_t>(std::floor(2.0 * half));
  std::vector<std::vector<double>> x(profiles), z(profiles);
  std::vector<double> plate_heights;
  constexpr double bin_mm = 3.0;
  for (Eigen::Index i = 0; i < points.cols(); ++i) {
    const Eigen::Vector2d p = points.col(i).head<2>() - strip.middle;
    const double s = strip.along.dot(p), t = across.dot(p);
    if (std::abs(points(2, i)) > 0.5 * nominal_mm + 8.0 * plate.noise_mm &&
        std::abs(points(2, i) - nominal_mm) > 0.5 * nominal_mm + 8.0 * plate.noise_mm)
      continue;  // Stray points.
    if (std::abs(t) > 0.5 * strip.width_mm + 0.5) plate_heights.push_back(um_from_mm(points(2, i)));
    const double k = std::floor(s + half);
    if (k < 0 || k >= static_cast<double>(profiles)) continue;
    x[static_cast<std::size_t>(k)].push_back(t);
    z[static_cast<std::size_t>(k)].push_back(points(2, i));
  }
  for (std::size_t k = 0; k < profiles; ++k) {
    if (const auto step = step_height_a1(x[k], z[k], 0.0, strip.width_mm))
      result.profile_um.push_back(um_from_mm(step->height_mm));
  }
  constexpr std::size_t fewest_profiles = 4;
  if (result.profile_um.size() < fewest_profiles)
    throw InputError({"gauge.little_plate", {{"file", text(name)}, {"width", mm(strip.width_mm, 1)}}});
  result.height_um = mean_of(result.profile_um);
  result.u_um = sd_of(result.profile_um) / std::sqrt(static_cast<double>(result.profile_um.size()));
  result.flatness_um = range_of_inner(plate_heights, 0.95);
  // Single points are noise; means over 3 mm are form.
  std::map<std::pair<long, long>, std::array<double, 2>> tiles;
  for (Eigen::Index i = 0; i < points.cols(); ++i) {
    const Eigen::Vector2d p = points.col(i).head<2>() - strip.middle;
    if (std::abs(across.dot(p)) < 0.5 * strip.width_mm + 0.5 || std::abs(points(2, i)) > 0.5 * nominal_mm) continue;
    auto& tile = tiles[{std::lround(p.x() / bin_mm), std::lround(p.y() / bin_mm)}];
    tile[0] += um_from_mm(points(2, i)), tile[1] += 1.0;
  }
  std::vector<double> means;
  for (const auto& [at, tile] : tiles) {
    if (tile[1] >= 20.0) means.push_back(tile[0] / tile[1]);
  }
  result.flatness_all_um = range_of_inner(means, 1.0);
  return result;
}

BallCheck check_ball(const Cloud& cloud, double diameter_mm, double u_diameter_um, const std::string& name) {
  BallCheck check;
  check.diameter_mm = diameter_mm, check.u_diameter_um = u_diameter_um;
  // The ball touches the plate: without it, it stands alone.
  Eigen::Matrix3Xd points = cloud.points_mm;
  constexpr std::size_t sample_size = 40000;
  if (const auto plate = find_plane(subsample(points, sample_size), 0.2)) {
    keep_points(points,
                [&](const Eigen::Vector3d& p) { return std::abs(plate->plane.height(p)) > 0.15 * diameter_mm; });
  }
  constexpr double gap_mm = 1.5;
  const auto parts = find_clusters(points, gap_mm, 100);
  const auto spheres = find_spheres(points, parts, diameter_mm);
  if (spheres.empty()) {
    throw InputError(
        {"gauge.no_ball", {{"file", text(name)}, {"diameter", mm(diameter_mm, decimals_of(diameter_mm))}}});
  }
  const Sphere& ball = spheres.front();
  check.size_error_um = um_from_mm(2.0 * ball.radius_mm - diameter_mm);
  std::vector<double> radial;
  std::map<std::pair<long, long>, std::array<double, 2>> places;
  const double near = std::max(0.1, 8.0 * ball.residual_mm);
  for (Eigen::Index i = 0; i < points.cols(); ++i) {
    const Eigen::Vector3d d = points.col(i) - ball.centre_mm;
    const double off = d.norm() - ball.radius_mm;
    if (std::abs(off) > near) continue;
    radial.push_back(um_from_mm(off));
    const double step = 0.25 * ball.radius_mm;
    auto& place = places[{std::lround(d.x() / step), std::lround(d.y() / step)}];
    place[0] += um_from_mm(off), place[1] += 1.0;
  }
  check.points = radial.size();
  check.form_95_um = range_of_inner(radial, 0.95);
  std::vector<std::pair<double, double>> fullest;
  for (const auto& [at, place] : places) fullest.emplace_back(place[1], place[0] / place[1]);
  std::sort(fullest.rbegin(), fullest.rend());
  constexpr std::size_t representative = 25;
  std::vector<double> means;
  for (std::size_t i = 0; i < std::min(representative, fullest.size()); ++i) means.push_back(fullest[i].second);
  check.form_25_um = range_of_inner(means, 1.0);
  return check;
}

namespace {

/// How much wider a standard uncertainty from few repeats must be for 1.96 of it to cover 95 %: Student's factor over
/// the normal law's ([GUM], G.3.2).
double widened_for(double degrees_of_freedom) {
  constexpr double both_sides = 0.975;
  return boost::math::quantile(boost::math::students_t(degrees_of_freedom), both_sides) / kCoverage95;
}

}  // namespace

GaugeCheck evaluate_gauge(std::vector<GaugeStep> steps, std::vector<BallCheck> balls) {
  GaugeCheck check;
  check.steps = std::move(steps);
  check.balls = std::move(balls);
  double squares = 0.0, degrees = 0.0;
  for (const GaugeStep& step : check.steps) {
    if (step.scans.empty()) throw InputError({"gauge.step_without_scan"});
    double mean = 0.0;
    for (const auto& scan : step.scans) mean += scan.height_um / static_cast<double>(step.scans.size());
    for (const auto& scan : step.scans) squares += square(scan.height_um - mean);
    degrees += static_cast<double>(step.scans.size()) - 1.0;
  }
  if (check.steps.empty()) throw InputError({"gauge.no_step"});
  check.repeatability_um = degrees > 0.0 ? std::sqrt(squares / degrees) : std::nan("");
  double wmm = 0.0, wmn = 0.0;
  std::vector<std::pair<double, double>> means;  // Measured, its standard uncertainty.
  for (const GaugeStep& step : check.steps) {
    double mean = 0.0, own = 0.0;
    for (const auto& scan : step.scans)
      mean += scan.height_um / static_cast<double>(step.scans.size()), own += square(scan.u_um);
    const auto n = static_cast<double>(step.scans.size());
    const double repeat = std::isnan(check.repeatability_um)
                              ? std::sqrt(own) / n
                              : widened_for(degrees) * check.repeatability_um / std::sqrt(n);
    const double u = std::sqrt(square(repeat) + square(step.u_nominal_um));
    const double w = 1.0 / square(std::max(1e-3, u));
    wmm += w * square(step.nominal_um), wmn += w * step.nominal_um * mean;
    means.emplace_back(mean, u);
  }
  check.scale = wmn / wmm;
  check.u_scale = 1.0 / std::sqrt(wmm);
  for (std::size_t i = 0; i < means.size(); ++i) {
    const double off = means[i].first - check.scale * check.steps[i].nominal_um;
    // The strip pulled the line towards itself.
    const double u =
        std::sqrt(std::max(0.0, square(means[i].second) - square(check.u_scale * check.steps[i].nominal_um)));
    if (std::abs(off) <= std::abs(check.linearity_um)) continue;
    check.linearity_um = off;
    check.odd_strip = i;
    check.u_linearity_um = u;
  }
  check.is_linear = means.size() < 2 || std::abs(check.linearity_um) <= std::max(1.0, 2.5 * check.u_linearity_um);
  check.scale_is_off = std::abs(check.scale - 1.0) > kCoverage95 * check.u_scale;
  check.correction.factor = 1.0 / check.scale;
  check.correction.u_rel = check.u_scale / check.scale;
  Eigen::Vector3d up = Eigen::Vector3d::Zero();
  for (const auto& step : check.steps) {
    for (const auto& scan : step.scans) up += scan.up;
  }
  check.correction.up = up.normalized();
  const double at_reed_um = 3000.0 * std::abs(check.scale - 1.0);
  check.verdict.push_back({"gauge.scale",
                           {{"off", number(100.0 * std::abs(check.scale - 1.0), 2)},
                            {"way", word(check.scale > 1.0 ? "large" : "small")},
                            {"u95", number(100.0 * kCoverage95 * check.u_scale, 2)},
                            {"at_stock", um(at_reed_um)},
                            {"is_off", word(check.scale_is_off ? "yes" : "no")}}});
  if (!check.is_linear) check.verdict.push_back({"gauge.odd_strip", {{"off", um(check.linearity_um, 1)}}});
  return check;
}

}  // namespace canewise
