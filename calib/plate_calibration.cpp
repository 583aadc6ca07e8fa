#include "calib/plate_calibration.h"

#include <Eigen/Geometry>
#include <Eigen/QR>
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "scanproc/core/error.h"
#include "scanproc/core/statistics.h"
#include "scanproc/core/units.h"
#include "scanproc/datum/plane_search.h"

namespace canewise {
namespace {

constexpr double kTile_mm = 2.0;
constexpr double kReach_mm = 30.0;  // As priors state the plate's form.

/// Sums of one scan in tiles.
struct Tiles {
  Eigen::ArrayXXd sum, count, mean;
};

Tiles tiles_of(const Cloud& cloud, const PlateForm& frame, double limit_mm) {
  Tiles tiles;
  tiles.sum = Eigen::ArrayXXd::Zero(frame.heights_um.rows(), frame.heights_um.cols());
  tiles.count = tiles.sum;
  const Eigen::Vector3d side = frame.normal.cross(frame.along);
  for (Eigen::Index i = 0; i < cloud.points_mm.cols(); ++i) {
    const Eigen::Vector3d p = cloud.points_mm.col(i) - frame.origin_mm;
    const double z = frame.normal.dot(p);
    if (std::abs(z) > limit_mm) continue;
    const auto c = static_cast<Eigen::Index>(std::lround(frame.along.dot(p) / frame.step_mm));
    const auto r = static_cast<Eigen::Index>(std::lround(side.dot(p) / frame.step_mm));
    if (r < 0 || c < 0 || r >= tiles.sum.rows() || c >= tiles.sum.cols()) continue;
    tiles.sum(r, c) += z;
    tiles.count(r, c) += 1.0;
  }
  constexpr double fewest = 5.0;
  tiles.mean = (tiles.count >= fewest).select(tiles.sum / tiles.count.max(1.0), std::nan(""));
  return tiles;
}

/// Takes a scan's own plane off its tiles: where the plate lay is no form.
void level(Eigen::ArrayXXd& heights) {
  std::vector<Eigen::Vector3d> rows;
  std::vector<double> values;
  for (Eigen::Index r = 0; r < heights.rows(); ++r) {
    for (Eigen::Index c = 0; c < heights.cols(); ++c) {
      if (std::isnan(heights(r, c))) continue;
      rows.emplace_back(1.0, static_cast<double>(c), static_cast<double>(r));
      values.push_back(heights(r, c));
    }
  }
  Eigen::MatrixXd design(static_cast<Eigen::Index>(rows.size()), 3);
  for (std::size_t i = 0; i < rows.size(); ++i) design.row(static_cast<Eigen::Index>(i)) = rows[i];
  const Eigen::Vector3d plane = design.colPivHouseholderQr().solve(
      Eigen::Map<const Eigen::VectorXd>(values.data(), static_cast<Eigen::Index>(values.size())));
  for (Eigen::Index r = 0; r < heights.rows(); ++r) {
    for (Eigen::Index c = 0; c < heights.cols(); ++c)
      heights(r, c) -= plane(0) + plane(1) * static_cast<double>(c) + plane(2) * static_cast<double>(r);
  }
}

/// Bow along, bow across and twist, each 30 mm from the middle, by least squares.
Eigen::Vector3d shapes_of(const Eigen::ArrayXXd& heights) {
  std::vector<Eigen::Matrix<double, 6, 1>> rows;
  std::vector<double> values;
  const double middle_c = 0.5 * static_cast<double>(heights.cols() - 1),
               middle_r = 0.5 * static_cast<double>(heights.rows() - 1);
  for (Eigen::Index r = 0; r < heights.rows(); ++r) {
    for (Eigen::Index c = 0; c < heights.cols(); ++c) {
      if (std::isnan(heights(r, c))) continue;
      const double x = (static_cast<double>(c) - middle_c) * kTile_mm / kReach_mm,
                   y = (static_cast<double>(r) - middle_r) * kTile_mm / kReach_mm;
      Eigen::Matrix<double, 6, 1> row;
      row << x * x, y * y, x * y, 1.0, x, y;
      rows.push_back(row);
      values.push_back(heights(r, c));
    }
  }
  Eigen::MatrixXd design(static_cast<Eigen::Index>(rows.size()), 6);
  for (std::size_t i = 0; i < rows.size(); ++i) design.row(static_cast<Eigen::Index>(i)) = rows[i].transpose();
  const Eigen::VectorXd fit = design.colPivHouseholderQr().solve(
      Eigen::Map<const Eigen::VectorXd>(values.data(), static_cast<Eigen::Index>(values.size())));
  return fit.head<3>();
}

/// Mean of each tile and its neighbours; missing tiles stay missing.
Eigen::ArrayXXd smoothed(const Eigen::ArrayXXd& heights) {
  Eigen::ArrayXXd out = heights;
  for (Eigen::Index r = 0; r < heights.rows(); ++r) {
    for (Eigen::Index c = 0; c < heights.cols(); ++c) {
      if (std::isnan(heights(r, c))) continue;
      double sum = 0, weight = 0;
      for (Eigen::Index i = -1; i <= 1; ++i) {
        for (Eigen::Index j = -1; j <= 1; ++j) {
          // Only with the partner opposite, so that a slope at the rim is no bow.
          const auto holds = [&](Eigen::Index a, Eigen::Index b) {
            return a >= 0 && b >= 0 && a < heights.rows() && b < heights.cols() && !std::isnan(heights(a, b));
          };
          if (!holds(r + i, c + j) || !holds(r - i, c - j)) continue;
          const double w = (i == 0 ? 2.0 : 1.0) * (j == 0 ? 2.0 : 1.0);
          sum += w * heights(r + i, c + j), weight += w;
        }
      }
      out(r, c) = sum / weight;
    }
  }
  return out;
}

/// Takes bow and twist off, which are stated by themselves.
void take_shapes(Eigen::ArrayXXd& heights) {
  const Eigen::Vector3d shapes = shapes_of(heights);
  const double middle_c = 0.5 * static_cast<double>(heights.cols() - 1),
               middle_r = 0.5 * static_cast<double>(heights.rows() - 1);
  for (Eigen::Index r = 0; r < heights.rows(); ++r) {
    for (Eigen::Index c = 0; c < heights.cols(); ++c) {
      const double x = (static_cast<double>(c) - middle_c) * kTile_mm / kReach_mm,
                   y = (static_cast<double>(r) - middle_r) * kTile_mm / kReach_mm;
      heights(r, c) -= shapes(0) * x * x + shapes(1) * y * y + shapes(2) * x * y;
    }
  }
  level(heights);
}

/// What neighbouring tiles share of a scan's difference from the mean of all, and how far it is alike; at least what
/// noise hides.
void find_slow(const std::vector<Eigen::ArrayXXd>& maps, const Eigen::ArrayXXd& mean, PlateCalibration& result) {
  constexpr Eigen::Index farthest = 15;
  std::array<double, farthest + 1> products{}, pairs{};
  for (const auto& map : maps) {
    Eigen::ArrayXXd own = map - mean;
    take_shapes(own);
    for (Eigen::Index lag = 1; lag <= farthest; ++lag) {
      const auto k = static_cast<std::size_t>(lag);
      for (Eigen::Index r = 0; r < own.rows(); ++r) {
        for (Eigen::Index c = 0; c < own.cols(); ++c) {
          if (std::isnan(own(r, c))) continue;
          if (c + lag < own.cols() && !std::isnan(own(r, c + lag)))
            products.at(k) += own(r, c) * own(r, c + lag), pairs.at(k) += 1.0;
          if (r + lag < own.rows() && !std::isnan(own(r + lag, c)))
            products.at(k) += own(r, c) * own(r + lag, c), pairs.at(k) += 1.0;
        }
      }
    }
  }
  // Noise alone makes some covariance by chance: twice its standard deviation is what could not be seen.
  double squares = 0.0, tiles = 0.0;
  for (const auto& map : maps) {
    const Eigen::ArrayXXd own = map - mean;
    for (Eigen::Index i = 0; i < own.size(); ++i)
      if (!std::isnan(own(i))) squares += square(own(i)), tiles += 1.0;
  }
  const double unseen = 2.0 * squares / std::max(1.0, tiles) / std::sqrt(std::max(1.0, pairs[1]));
  const auto of_next_scan = [&maps](double covariance) {
    // The mean of n took 1/n of it away; the next scan has its own, and the map 1/n more.
    const auto n = static_cast<double>(maps.size());
    return std::sqrt(covariance * n / (n - 1.0) * (1.0 + 1.0 / n));
  };
  result.slow_um = of_next_scan(unseen);
  result.slow_length_mm = Priors{}.smooth_length_mm;
  const double nearest = products[1] / std::max(1.0, pairs[1]);
  if (nearest < unseen) return;
  double area = 0.5 * nearest;
  constexpr double nothing_left = 0.05;
  for (std::size_t k = 1; k <= farthest && pairs.at(k) > 0.0; ++k) {
    const double covariance = products.at(k) / pairs.at(k);
    if (covariance < nothing_left * nearest) break;
    area += covariance;
  }
  result.slow_um = of_next_scan(nearest);
  result.slow_length_mm = 2.0 * kTile_mm * area / nearest;
}

}  // namespace

Eigen::Vector3d up_of(const Eigen::Vector3d& normal, double distance, const Rig& rig) {
  const bool from_camera = rig.camera || rig.depth;
  // Towards the camera at the origin, or along the file's z.
  const double side = from_camera ? -distance : normal.z();
  return side < 0.0 ? Eigen::Vector3d(-normal) : normal;
}

PlateCalibration calibrate_plate(const std::vector<Cloud>& scans, const Rig& rig) {
  if (scans.empty()) throw InputError({"plate_calib.no_scan"});
  PlateCalibration result;
  result.scans = scans.size();
  PlateForm& form = result.found;
  form.step_mm = kTile_mm;
  std::vector<double> noises;
  double limit_mm = 0.0;
  Plane reference;
  for (std::size_t i = 0; i < scans.size(); ++i) {
    constexpr std::size_t sample_size = 40000;
    constexpr double tolerance_mm = 0.2;
    const auto sample = subsample(scans[i].points_mm, sample_size);
    const auto found = find_plane(sample, tolerance_mm);
    if (!found) throw InputError({"plate_calib.no_plane", {{"scan", count(i + 1)}}});
    // What stands on the plate is no plate.
    std::size_t standing = 0;
    const double clear_mm = std::max(0.3, 8.0 * found->sigma_mm);
    for (const auto& p : sample) standing += std::abs(found->plane.height(p)) > clear_mm;
    constexpr double stray_share = 0.02;
    if (static_cast<double>(standing) > stray_share * static_cast<double>(sample.size())) {
      const double share = static_cast<double>(standing) / static_cast<double>(sample.size());
      throw InputError({"plate_calib.not_empty", {{"scan", count(i + 1)}, {"share", number(100.0 * share)}}});
    }
    noises.push_back(found->sigma_mm);
    limit_mm = std::max(limit_mm, clear_mm);
    if (i == 0) {
      reference = found->plane;
      continue;
    }
    constexpr double turned = 0.9986, moved_mm = 1.0;  // Cosine of three degrees.
    Eigen::Vector3d middle = Eigen::Vector3d::Zero();
    for (const auto& p : sample) middle += p / static_cast<double>(sample.size());
    if (std::abs(found->plane.normal.dot(reference.normal)) < turned || std::abs(reference.height(middle)) > moved_mm) {
      throw InputError({"plate_calib.moved", {{"scan", count(i + 1)}}});
    }
  }
  form.normal = up_of(reference.normal, reference.distance, rig);
  const Eigen::Vector3d axis = std::abs(form.normal.x()) < 0.9 ? Eigen::Vector3d::UnitX() : Eigen::Vector3d::UnitY();
  form.along = (axis - axis.dot(form.normal) * form.normal).normalized();
  const Eigen::Vector3d side = form.normal.cross(form.along), on_plane = reference.normal * reference.distance;
  Eigen::Vector2d low = Eigen::Vector2d::Constant(std::numeric_limits<double>::infinity()), high = -low;
  for (const Cloud& cloud : scans) {
    for (Eigen::Index i = 0; i < cloud.points_mm.cols(); ++i) {
      const Eigen::Vector3d p = cloud.points_mm.col(i) - on_plane;
      if (std::abs(form.normal.dot(p)) > limit_mm) continue;
      const Eigen::Vector2d at(form.along.dot(p), side.dot(p));
      low = low.cwiseMin(at), high = high.cwiseMax(at);
    }
  }
  const Eigen::Vector2d size = high - low;
  constexpr double largest_mm = 600.0;
  if (!(size.maxCoeff() < largest_mm && size.minCoeff() > 4.0 * kTile_mm)) {
    throw InputError({"plate_calib.size", {{"length", mm(size.x())}, {"width", mm(size.y())}}});
  }
  form.origin_mm = on_plane + low.x() * form.along + low.y() * side;
  form.heights_um = Eigen::ArrayXXd::Zero(static_cast<Eigen::Index>(size.y() / kTile_mm) + 1,
                                          static_cast<Eigen::Index>(size.x() / kTile_mm) + 1);
  std::vector<Eigen::ArrayXXd> maps;
  for (const Cloud& cloud : scans) {
    maps.push_back(um_from_mm(1.0) * tiles_of(cloud, form, limit_mm).mean);
    level(maps.back());
  }
  Eigen::ArrayXXd mean = Eigen::ArrayXXd::Zero(form.heights_um.rows(), form.heights_um.cols()), seen = mean;
  for (const auto& map : maps) {
    mean += map.isNaN().select(0.0, map);
    seen += map.isNaN().select(Eigen::ArrayXXd::Zero(map.rows(), map.cols()),
                               Eigen::ArrayXXd::Ones(map.rows(), map.cols()));
  }
  mean = (2.0 * seen >= static_cast<double>(maps.size())).select(mean / seen.max(1.0), std::nan(""));
  // Scatter from scan to scan of a tile, and of the long shapes.
  double squares = 0.0, degrees = 0.0, shape_squares = 0.0;
  for (const auto& map : maps) {
    for (Eigen::Index i = 0; i < map.size(); ++i) {
      if (std::isnan(map(i)) || std::isnan(mean(i))) continue;
      squares += square(map(i) - mean(i));
      degrees += 1.0 - 1.0 / static_cast<double>(maps.size());
    }
    shape_squares += (shapes_of(map) - shapes_of(mean)).squaredNorm() / 3.0;
  }
  const auto n = static_cast<double>(maps.size());
  form.heights_um = smoothed(mean);
  if (maps.size() > 1) {
    form.u_um = std::sqrt(squares / std::max(1.0, degrees) / n);
    // The next scan scatters by itself, the map by 1/n of it; few scans say little, as Student's law has it.
    const double freedom = 3.0 * (n - 1.0);
    result.left_over_um =
        std::sqrt(shape_squares / (n - 1.0) * (1.0 + 1.0 / n) * freedom / std::max(1.0, freedom - 2.0));
    find_slow(maps, mean, result);
  } else {
    result.slow_um = result.slow_length_mm = std::nan("");
    // From one scan only noise is known: what the smoothing took off is a measure of it.
    double off = 0.0, count = 0.0;
    for (Eigen::Index i = 0; i < mean.size(); ++i) {
      if (!std::isnan(mean(i))) off += square(mean(i) - form.heights_um(i)), count += 1.0;
    }
    form.u_um = std::sqrt(off / std::max(1.0, count));
    result.left_over_um = Priors{}.plate_form_um;
    result.remarks.push_back({"plate_calib.one_scan", {{"change", um(result.left_over_um)}}});
  }
  result.noise_um = um_from_mm(median(noises));
  double sum = 0.0, count = 0.0, lowest = std::numeric_limits<double>::infinity(), highest = -lowest;
  for (Eigen::Index i = 0; i < form.heights_um.size(); ++i) {
    const double h = form.heights_um(i);
    if (std::isnan(h)) continue;
    sum += square(h), count += 1.0, lowest = std::min(lowest, h), highest = std::max(highest, h);
  }
  if (count < 20.0) throw InputError({"plate_calib.too_little"});
  result.form_um = std::sqrt(sum / count);
  result.range_um = highest - lowest;
  constexpr double bent_um = 100.0;
  if (result.range_um > bent_um) result.remarks.push_back({"plate_calib.bent", {{"range", um(result.range_um)}}});
  return result;
}

}  // namespace canewise
