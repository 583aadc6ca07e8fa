#include "calib/plate_calibration.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <utility>

#include "calib/plate_tiles.h"
#include "scanproc/core/error.h"
#include "scanproc/core/statistics.h"
#include "scanproc/core/units.h"
#include "scanproc/datum/plane_search.h"

namespace canewise {
namespace {

/// One scan's look at the empty plate.
struct EmptyPlate {
  Plane plane;
  Eigen::Vector3d middle;
  double noise_mm = 0.0;
  double clear_mm = 0.0;  ///< What is farther from the plane stands on the plate.
};

EmptyPlate empty_plate(const Cloud& scan, std::size_t which) {
  constexpr std::size_t sample_size = 40000;
  constexpr double tolerance_mm = 0.2;
  const auto sample = subsample(scan.points_mm, sample_size);
  const auto found = find_plane(sample, tolerance_mm);
  if (!found) throw InputError({"plate_calib.no_plane", {{"scan", count(which)}}});
  EmptyPlate plate{found->plane, Eigen::Vector3d::Zero(), found->sigma_mm, std::max(0.3, 8.0 * found->sigma_mm)};
  // What stands on the plate is no plate.
  std::size_t standing = 0;
  for (const auto& p : sample) standing += std::abs(plate.plane.height(p)) > plate.clear_mm;
  constexpr double stray_share = 0.02;
  if (static_cast<double>(standing) > stray_share * static_cast<double>(sample.size())) {
    const double share = static_cast<double>(standing) / static_cast<double>(sample.size());
    throw InputError({"plate_calib.not_empty", {{"scan", count(which)}, {"share", number(100.0 * share)}}});
  }
  for (const auto& p : sample) plate.middle += p / static_cast<double>(sample.size());
  return plate;
}

/// All scans must show the plate where the first one does.
std::vector<EmptyPlate> empty_plates(const std::vector<Cloud>& scans) {
  std::vector<EmptyPlate> plates;
  for (std::size_t i = 0; i < scans.size(); ++i) {
    plates.push_back(empty_plate(scans[i], i + 1));
    if (i == 0) continue;
    const Plane& reference = plates.front().plane;
    constexpr double turned = 0.9986, moved_mm = 1.0;  // Cosine of three degrees.
    if (std::abs(plates[i].plane.normal.dot(reference.normal)) < turned ||
        std::abs(reference.height(plates[i].middle)) > moved_mm) {
      throw InputError({"plate_calib.moved", {{"scan", count(i + 1)}}});
    }
  }
  return plates;
}

/// Raster over all that the scans show of the plate, still flat.
PlateForm flat_raster(const std::vector<Cloud>& scans, const Plane& plane, const Eigen::Vector3d& up, double limit_mm) {
  PlateForm form;
  form.step_mm = kTile_mm;
  form.normal = up;
  const Eigen::Vector3d axis = std::abs(form.normal.x()) < 0.9 ? Eigen::Vector3d::UnitX() : Eigen::Vector3d::UnitY();
  form.along = (axis - axis.dot(form.normal) * form.normal).normalized();
  const Eigen::Vector3d side = form.normal.cross(form.along), on_plane = plane.normal * plane.distance;
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
  return form;
}

/// Mean of the maps; missing where fewer than half of them saw the tile.
Eigen::ArrayXXd mean_of(const std::vector<Eigen::ArrayXXd>& maps) {
  Eigen::ArrayXXd mean = Eigen::ArrayXXd::Zero(maps.front().rows(), maps.front().cols()), seen = mean;
  for (const auto& map : maps) {
    mean += map.isNaN().select(0.0, map);
    seen += map.isNaN().select(Eigen::ArrayXXd::Zero(map.rows(), map.cols()),
                               Eigen::ArrayXXd::Ones(map.rows(), map.cols()));
  }
  return (2.0 * seen >= static_cast<double>(maps.size())).select(mean / seen.max(1.0), std::nan(""));
}

/// How well the map holds for the next scan.
struct Repeats {
  double u_um = 0.0;          ///< Of a tile.
  double left_over_um = 0.0;  ///< Of bow and twist.
};

/// Scatter from scan to scan of a tile, and of the long shapes. For two scans or more.
Repeats repeats_of(const std::vector<Eigen::ArrayXXd>& maps, const Eigen::ArrayXXd& mean) {
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
  // The next scan scatters by itself, the map by 1/n of it; few scans say little, as Student's law has it.
  const double freedom = 3.0 * (n - 1.0);
  return {std::sqrt(squares / std::max(1.0, degrees) / n),
          std::sqrt(shape_squares / (n - 1.0) * (1.0 + 1.0 / n) * freedom / std::max(1.0, freedom - 2.0))};
}

/// From one scan only noise is known: what the smoothing took off is a measure of it.
double noise_of_one_um(const Eigen::ArrayXXd& mean, const Eigen::ArrayXXd& smooth) {
  double off = 0.0, count = 0.0;
  for (Eigen::Index i = 0; i < mean.size(); ++i) {
    if (!std::isnan(mean(i))) off += square(mean(i) - smooth(i)), count += 1.0;
  }
  return std::sqrt(off / std::max(1.0, count));
}

constexpr Eigen::Index kFarthestLag = 15;

/// Sums over pairs of tiles of one scan, so many tiles apart along or across.
struct LagProducts {
  std::array<double, kFarthestLag + 1> products{}, pairs{};
};

LagProducts lag_products(const std::vector<Eigen::ArrayXXd>& maps, const Eigen::ArrayXXd& mean) {
  LagProducts sums;
  for (const auto& map : maps) {
    const Eigen::ArrayXXd own = without_shapes(map - mean);
    for (Eigen::Index lag = 1; lag <= kFarthestLag; ++lag) {
      const auto k = static_cast<std::size_t>(lag);
      for (Eigen::Index r = 0; r < own.rows(); ++r) {
        for (Eigen::Index c = 0; c < own.cols(); ++c) {
          if (std::isnan(own(r, c))) continue;
          if (c + lag < own.cols() && !std::isnan(own(r, c + lag)))
            sums.products.at(k) += own(r, c) * own(r, c + lag), sums.pairs.at(k) += 1.0;
          if (r + lag < own.rows() && !std::isnan(own(r + lag, c)))
            sums.products.at(k) += own(r, c) * own(r + lag, c), sums.pairs.at(k) += 1.0;
        }
      }
    }
  }
  return sums;
}

/// Mean square of single tiles about the mean of all scans.
double tile_variance(const std::vector<Eigen::ArrayXXd>& maps, const Eigen::ArrayXXd& mean) {
  double squares = 0.0, tiles = 0.0;
  for (const auto& map : maps) {
    const Eigen::ArrayXXd own = map - mean;
    for (Eigen::Index i = 0; i < own.size(); ++i)
      if (!std::isnan(own(i))) squares += square(own(i)), tiles += 1.0;
  }
  return squares / std::max(1.0, tiles);
}

/// What neighbouring tiles share of a scan's difference from the mean of all, and how far it is alike.
struct SlowDrift {
  double um = std::nan(""), length_mm = um;
};

/// At least what noise hides. For two scans or more.
SlowDrift slow_drift(const std::vector<Eigen::ArrayXXd>& maps, const Eigen::ArrayXXd& mean) {
  const auto of_next_scan = [&maps](double covariance) {
    // The mean of n took 1/n of it away; the next scan has its own, and the map 1/n more.
    const auto n = static_cast<double>(maps.size());
    return std::sqrt(covariance * n / (n - 1.0) * (1.0 + 1.0 / n));
  };
  const auto [products, pairs] = lag_products(maps, mean);
  // Noise alone makes some covariance by chance: twice its standard deviation is what could not be seen.
  const double unseen = 2.0 * tile_variance(maps, mean) / std::sqrt(std::max(1.0, pairs[1]));
  const double nearest = products[1] / std::max(1.0, pairs[1]);
  if (nearest < unseen) return {of_next_scan(unseen), Priors{}.smooth_length_mm};
  double area = 0.5 * nearest;
  constexpr double nothing_left = 0.05;
  for (std::size_t k = 1; k <= kFarthestLag && pairs.at(k) > 0.0; ++k) {
    const double covariance = products.at(k) / pairs.at(k);
    if (covariance < nothing_left * nearest) break;
    area += covariance;
  }
  return {of_next_scan(nearest), 2.0 * kTile_mm * area / nearest};
}

/// Root mean square of the form, and from its lowest to its highest tile.
struct FormSize {
  double rms_um = 0.0, range_um = 0.0;
};

FormSize size_of(const Eigen::ArrayXXd& heights_um) {
  double sum = 0.0, count = 0.0, lowest = std::numeric_limits<double>::infinity(), highest = -lowest;
  for (Eigen::Index i = 0; i < heights_um.size(); ++i) {
    const double h = heights_um(i);
    if (std::isnan(h)) continue;
    sum += square(h), count += 1.0, lowest = std::min(lowest, h), highest = std::max(highest, h);
  }
  if (count < 20.0) throw InputError({"plate_calib.too_little"});
  return {std::sqrt(sum / count), highest - lowest};
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
  const std::vector<EmptyPlate> plates = empty_plates(scans);
  std::vector<double> noises_mm;
  double limit_mm = 0.0;
  for (const EmptyPlate& plate : plates) {
    noises_mm.push_back(plate.noise_mm);
    limit_mm = std::max(limit_mm, plate.clear_mm);
  }
  const Plane& plane = plates.front().plane;
  PlateCalibration result;
  result.scans = scans.size();
  result.noise_um = um_from_mm(median(noises_mm));
  PlateForm& form = result.found;
  form = flat_raster(scans, plane, up_of(plane.normal, plane.distance, rig), limit_mm);
  std::vector<Eigen::ArrayXXd> maps;
  for (const Cloud& cloud : scans) maps.push_back(levelled(um_from_mm(1.0) * tile_means_mm(cloud, form, limit_mm)));
  const Eigen::ArrayXXd mean = mean_of(maps);
  form.heights_um = smoothed(mean);
  SlowDrift slow;
  if (maps.size() > 1) {
    const Repeats repeats = repeats_of(maps, mean);
    form.u_um = repeats.u_um;
    result.left_over_um = repeats.left_over_um;
    slow = slow_drift(maps, mean);
  } else {
    form.u_um = noise_of_one_um(mean, form.heights_um);
    result.left_over_um = Priors{}.plate_form_um;
    result.remarks.push_back({"plate_calib.one_scan", {{"change", um(result.left_over_um)}}});
  }
  result.slow_um = slow.um;
  result.slow_length_mm = slow.length_mm;
  const FormSize size = size_of(form.heights_um);
  result.form_um = size.rms_um;
  result.range_um = size.range_um;
  constexpr double bent_um = 100.0;
  if (result.range_um > bent_um) result.remarks.push_back({"plate_calib.bent", {{"range", um(result.range_um)}}});
  return result;
}

}  // namespace canewise
