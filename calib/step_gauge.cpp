#include "calib/step_gauge.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numbers>

#include "calib/gauge_strip.h"
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

namespace {

/// A gauge's scan in the plate's axes, z up from the plate.
struct OnPlate {
  Eigen::Matrix3Xd points_mm;
  Eigen::Vector3d up;  ///< In the scanner's axes.
  double noise_mm = 0.0;
};

/// The plate as the plane with most points; a wide strip must not be taken for it, so it has to lie lower.
OnPlate on_plate(const Cloud& cloud, const Rig& rig, const std::string& name) {
  PlateGuess plate;
  try {
    plate = find_plate(cloud.points_mm);
  } catch (const Error& error) {
    throw InputError({"in_file", {{"file", text(name)}, {"what", part(error.message())}}});
  }
  const Plane plane{plate.plate_from_scan.linear().row(2).transpose(), -plate.plate_from_scan.translation().z()};
  const Eigen::Vector3d up = up_of(plane.normal, plane.distance, rig);
  Eigen::Isometry3d frame = plate.plate_from_scan;
  if (up.dot(plane.normal) < 0.0) frame = Eigen::AngleAxisd(std::numbers::pi, Eigen::Vector3d::UnitX()) * frame;
  OnPlate on{cloud.points_mm, up, plate.noise_mm};
  transform_in_place(on.points_mm, frame);
  return on;
}

/// Neither on the plate nor on the strip.
bool is_stray(double z_mm, double nominal_mm, double noise_mm) {
  return std::abs(z_mm) > 0.5 * nominal_mm + 8.0 * noise_mm &&
         std::abs(z_mm - nominal_mm) > 0.5 * nominal_mm + 8.0 * noise_mm;
}

/// Steps of profiles across the strip, one each millimetre along it.
std::vector<double> profile_steps_um(const OnPlate& scan, const GaugeStrip& strip, double nominal_mm) {
  const Eigen::Vector2d across = strip.across();
  const double half = 0.5 * strip.length_mm - 1.0;
  const auto profiles = static_cast<std::size_t>(std::floor(2.0 * half));
  std::vector<std::vector<double>> x(profiles), z(profiles);
  for (Eigen::Index i = 0; i < scan.points_mm.cols(); ++i) {
    const double height = scan.points_mm(2, i);
    if (is_stray(height, nominal_mm, scan.noise_mm)) continue;
    const Eigen::Vector2d p = scan.points_mm.col(i).head<2>() - strip.middle;
    const double k = std::floor(strip.along.dot(p) + half);
    if (k < 0 || k >= static_cast<double>(profiles)) continue;
    x[static_cast<std::size_t>(k)].push_back(across.dot(p));
    z[static_cast<std::size_t>(k)].push_back(height);
  }
  std::vector<double> steps_um;
  for (std::size_t k = 0; k < profiles; ++k) {
    if (const auto step = step_height_a1(x[k], z[k], 0.0, strip.width_mm))
      steps_um.push_back(um_from_mm(step->height_mm));
  }
  return steps_um;
}

/// Heights of single points of the plate beside the strip.
std::vector<double> heights_beside_um(const OnPlate& scan, const GaugeStrip& strip, double nominal_mm) {
  const Eigen::Vector2d across = strip.across();
  std::vector<double> heights_um;
  for (Eigen::Index i = 0; i < scan.points_mm.cols(); ++i) {
    if (is_stray(scan.points_mm(2, i), nominal_mm, scan.noise_mm)) continue;
    const Eigen::Vector2d p = scan.points_mm.col(i).head<2>() - strip.middle;
    if (std::abs(across.dot(p)) > 0.5 * strip.width_mm + 0.5) heights_um.push_back(um_from_mm(scan.points_mm(2, i)));
  }
  return heights_um;
}

/// The same as means over 3 mm: single points are noise, these are form.
std::vector<double> means_beside_um(const OnPlate& scan, const GaugeStrip& strip, double nominal_mm) {
  const Eigen::Vector2d across = strip.across();
  constexpr double bin_mm = 3.0;
  std::map<std::pair<long, long>, std::array<double, 2>> tiles;
  for (Eigen::Index i = 0; i < scan.points_mm.cols(); ++i) {
    const double height = scan.points_mm(2, i);
    const Eigen::Vector2d p = scan.points_mm.col(i).head<2>() - strip.middle;
    if (std::abs(across.dot(p)) < 0.5 * strip.width_mm + 0.5 || std::abs(height) > 0.5 * nominal_mm) continue;
    auto& tile = tiles[{std::lround(p.x() / bin_mm), std::lround(p.y() / bin_mm)}];
    tile[0] += um_from_mm(height), tile[1] += 1.0;
  }
  std::vector<double> means;
  for (const auto& [at, tile] : tiles) {
    if (tile[1] >= 20.0) means.push_back(tile[0] / tile[1]);
  }
  return means;
}

}  // namespace

GaugeScan measure_gauge(const Cloud& cloud, double nominal_um, const Rig& rig, const std::string& name) {
  const double nominal_mm = mm_from_um(nominal_um);
  const OnPlate scan = on_plate(cloud, rig, name);
  const GaugeStrip strip = find_strip(scan.points_mm, nominal_mm, name);
  constexpr double shortest_mm = 5.0, narrowest_mm = 1.0;
  if (strip.length_mm < shortest_mm || strip.width_mm < narrowest_mm) {
    throw InputError({"gauge.small_strip",
                      {{"file", text(name)}, {"length", mm(strip.length_mm, 1)}, {"width", mm(strip.width_mm, 1)}}});
  }
  GaugeScan result;
  result.up = scan.up;
  result.width_mm = strip.width_mm;
  result.profile_um = profile_steps_um(scan, strip, nominal_mm);
  constexpr std::size_t fewest_profiles = 4;
  if (result.profile_um.size() < fewest_profiles)
    throw InputError({"gauge.little_plate", {{"file", text(name)}, {"width", mm(strip.width_mm, 1)}}});
  result.height_um = mean_of(result.profile_um);
  result.u_um = sd_of(result.profile_um) / std::sqrt(static_cast<double>(result.profile_um.size()));
  result.flatness_um = range_of_inner(heights_beside_um(scan, strip, nominal_mm), 0.95);
  result.flatness_all_um = range_of_inner(means_beside_um(scan, strip, nominal_mm), 1.0);
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

/// Standard deviation of single scans about their strip's mean; NaN without repeats.
struct Repeatability {
  double sd_um = std::nan("");
  double degrees_of_freedom = 0.0;
};

double mean_um(const GaugeStep& step) {
  double mean = 0.0;
  for (const auto& scan : step.scans) mean += scan.height_um / static_cast<double>(step.scans.size());
  return mean;
}

Repeatability repeatability_of(const std::vector<GaugeStep>& steps) {
  double squares = 0.0, degrees = 0.0;
  for (const GaugeStep& step : steps) {
    if (step.scans.empty()) throw InputError({"gauge.step_without_scan"});
    const double mean = mean_um(step);
    for (const auto& scan : step.scans) squares += square(scan.height_um - mean);
    degrees += static_cast<double>(step.scans.size()) - 1.0;
  }
  return {degrees > 0.0 ? std::sqrt(squares / degrees) : std::nan(""), degrees};
}

/// Standard uncertainty of a strip's mean, and of what it is held against.
double u_mean_um(const GaugeStep& step, const Repeatability& repeatability) {
  double own = 0.0;
  for (const auto& scan : step.scans) own += square(scan.u_um);
  const auto n = static_cast<double>(step.scans.size());
  const double repeat = std::isnan(repeatability.sd_um) ? std::sqrt(own) / n
                                                        : students_over_normal(repeatability.degrees_of_freedom) *
                                                              repeatability.sd_um / std::sqrt(n);
  return std::sqrt(square(repeat) + square(step.u_nominal_um));
}

/// A strip as measured.
struct StripMean {
  double um = 0.0, u_um = 0.0;
};

/// The check with the scale that fits all strips best.
GaugeCheck with_scale(GaugeCheck check, const std::vector<StripMean>& means) {
  double wmm = 0.0, wmn = 0.0;
  for (std::size_t i = 0; i < means.size(); ++i) {
    const double nominal_um = check.steps[i].nominal_um, w = 1.0 / square(std::max(1e-3, means[i].u_um));
    wmm += w * square(nominal_um), wmn += w * nominal_um * means[i].um;
  }
  check.scale = wmn / wmm;
  check.u_scale = 1.0 / std::sqrt(wmm);
  check.scale_is_off = std::abs(check.scale - 1.0) > kCoverage95 * check.u_scale;
  return check;
}

/// The check with the strip that lies farthest from the line.
GaugeCheck with_odd_strip(GaugeCheck check, const std::vector<StripMean>& means) {
  for (std::size_t i = 0; i < means.size(); ++i) {
    const double nominal_um = check.steps[i].nominal_um, off = means[i].um - check.scale * nominal_um;
    if (std::abs(off) <= std::abs(check.linearity_um)) continue;
    check.linearity_um = off;
    check.odd_strip = i;
    // The strip pulled the line towards itself.
    check.u_linearity_um = std::sqrt(std::max(0.0, square(means[i].u_um) - square(check.u_scale * nominal_um)));
  }
  check.is_linear = means.size() < 2 || std::abs(check.linearity_um) <= std::max(1.0, 2.5 * check.u_linearity_um);
  return check;
}

/// What makes the heights right.
HeightScale correction_of(const GaugeCheck& check) {
  Eigen::Vector3d up = Eigen::Vector3d::Zero();
  for (const auto& step : check.steps) {
    for (const auto& scan : step.scans) up += scan.up;
  }
  return {1.0 / check.scale, check.u_scale / check.scale, up.normalized()};
}

Messages verdict_of(const GaugeCheck& check) {
  const double at_reed_um = 3000.0 * std::abs(check.scale - 1.0);
  Messages verdict{{"gauge.scale",
                    {{"off", number(100.0 * std::abs(check.scale - 1.0), 2)},
                     {"way", word(check.scale > 1.0 ? "large" : "small")},
                     {"u95", number(100.0 * kCoverage95 * check.u_scale, 2)},
                     {"at_stock", um(at_reed_um)},
                     {"is_off", word(check.scale_is_off ? "yes" : "no")}}}};
  if (!check.is_linear) verdict.push_back({"gauge.odd_strip", {{"off", um(check.linearity_um, 1)}}});
  return verdict;
}

}  // namespace

GaugeCheck evaluate_gauge(std::vector<GaugeStep> steps, std::vector<BallCheck> balls) {
  GaugeCheck check;
  check.steps = std::move(steps);
  check.balls = std::move(balls);
  const Repeatability repeatability = repeatability_of(check.steps);
  if (check.steps.empty()) throw InputError({"gauge.no_step"});
  check.repeatability_um = repeatability.sd_um;
  std::vector<StripMean> means;
  for (const GaugeStep& step : check.steps) means.push_back({mean_um(step), u_mean_um(step, repeatability)});
  check = with_scale(std::move(check), means);
  check = with_odd_strip(std::move(check), means);
  check.correction = correction_of(check);
  check.verdict = verdict_of(check);
  return check;
}

}  // namespace canewise
