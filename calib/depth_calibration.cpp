#include "calib/depth_calibration.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "scanproc/core/error.h"
#include "scanproc/core/statistics.h"
#include "scanproc/core/units.h"
#include "scanproc/datum/plane_search.h"

namespace canewise {
namespace {

constexpr std::size_t kAcross = 24, kDown = 16;

/// Errors of the tiles of one view, row by row; NaN = plate not seen there.
struct TileErrors {
  std::vector<double> error_um = std::vector<double>(kAcross * kDown, std::nan(""));
  double depth_mm = 0.0, tilt_deg = 0.0;
};

TileErrors errors_of(const PlateView& view) {
  const DepthCamera& camera = view.folder.camera;
  const FusedDepth& fused = view.folder.fused;
  std::vector<Eigen::Vector3d> points;
  std::vector<std::size_t> pixels;
  const std::size_t stride = std::max<std::size_t>(1, fused.depth.size() / 200000);
  for (std::size_t i = 0; i < fused.depth.size(); i += stride) {
    if (std::isnan(fused.depth[i])) continue;
    const std::size_t row = i / fused.columns, column = i % fused.columns;
    const auto direction = direction_of(camera, static_cast<double>(column), static_cast<double>(row));
    if (!direction) continue;
    const double z = camera.depth_unit_mm * static_cast<double>(fused.depth[i]);
    points.emplace_back(z * direction->x(), z * direction->y(), z);
    pixels.push_back(i);
  }
  TileErrors tiles;
  const auto found = points.empty() ? std::nullopt : find_plane(points, 1.0);
  if (!found) throw InputError({"depth_calib.no_plate", {{"file", text(view.name)}}});
  const Plane& plane = found->plane;
  std::vector<std::vector<double>> errors(kAcross * kDown);
  for (std::size_t k = 0; k < points.size(); ++k) {
    // Along the axis of the ray's depth: where the plane is on this ray.
    const Eigen::Vector3d d = points[k] / points[k].z();
    const double error = points[k].z() - plane.distance / plane.normal.dot(d);
    if (std::abs(error) > std::max(1.0, 8.0 * found->sigma_mm)) continue;
    const std::size_t column = pixels[k] % fused.columns, row = pixels[k] / fused.columns;
    errors[(row * kDown / fused.rows) * kAcross + column * kAcross / fused.columns].push_back(um_from_mm(error));
  }
  std::size_t seen = 0;
  for (std::size_t t = 0; t < errors.size(); ++t) {
    constexpr std::size_t fewest = 10;
    if (errors[t].size() < fewest) continue;
    tiles.error_um[t] = median(std::move(errors[t]));
    ++seen;
  }
  constexpr double enough = 0.6;
  if (static_cast<double>(seen) < enough * kAcross * kDown) {
    throw InputError(
        {"depth_calib.small_plate",
         {{"file", text(view.name)}, {"share", number(100.0 * static_cast<double>(seen) / (kAcross * kDown))}}});
  }
  tiles.depth_mm = plane.distance / plane.normal.z();
  tiles.tilt_deg = std::acos(std::min(1.0, std::abs(plane.normal.z()))) * 180.0 / std::numbers::pi;
  return tiles;
}

/// Tiles that were not seen take the mean of their neighbours that were.
std::vector<double> filled(std::vector<double> errors) {
  for (int round = 0; round < static_cast<int>(kAcross); ++round) {
    std::vector<double> next = errors;
    bool missing = false;
    for (std::size_t r = 0; r < kDown; ++r) {
      for (std::size_t c = 0; c < kAcross; ++c) {
        if (!std::isnan(errors[r * kAcross + c])) continue;
        missing = true;
        double sum = 0, count = 0;
        for (int i = -1; i <= 1; ++i) {
          for (int j = -1; j <= 1; ++j) {
            const auto a = static_cast<long>(r) + i, b = static_cast<long>(c) + j;
            if (a < 0 || b < 0 || a >= static_cast<long>(kDown) || b >= static_cast<long>(kAcross)) continue;
            const double v = errors[static_cast<std::size_t>(a) * kAcross + static_cast<std::size_t>(b)];
            if (!std::isnan(v)) sum += v, count += 1.0;
          }
        }
        if (count > 0) next[r * kAcross + c] = sum / count;
      }
    }
    errors = std::move(next);
    if (!missing) break;
  }
  return errors;
}

double root_mean_square(const std::vector<double>& values) {
  double sum = 0, count = 0;
  for (const double v : values) {
    if (!std::isnan(v)) sum += square(v), count += 1.0;
  }
  return count > 0 ? std::sqrt(sum / count) : 0.0;
}

void check_view(const PlateView& view, const DepthCamera& first) {
  const DepthCamera& camera = view.folder.camera;
  if (camera.width != first.width || camera.height != first.height)
    throw InputError({"depth_calib.other_size", {{"file", text(view.name)}}});
  constexpr std::size_t few = 3;
  if (view.folder.frames < few) {
    throw InputError({"depth_calib.few_frames", {{"file", text(view.name)}, {"frames", count(view.folder.frames)}}});
  }
}

/// Errors of all tiles at one distance.
struct Distance {
  double depth_mm = 0.0;
  std::vector<double> errors_um;
};

/// The nearest first. Throws where two of them, or all, lie too close together.
std::vector<Distance> apart(std::vector<Distance> distances) {
  std::sort(distances.begin(), distances.end(),
            [](const Distance& a, const Distance& b) { return a.depth_mm < b.depth_mm; });
  for (std::size_t i = 1; i < distances.size(); ++i) {
    if (distances[i].depth_mm - distances[i - 1].depth_mm < 0.05) throw InputError({"depth_calib.same_height"});
  }
  const double span = distances.back().depth_mm - distances.front().depth_mm;
  constexpr double least_span_mm = 0.5;
  if (span < least_span_mm) throw InputError({"depth_calib.close_heights"});
  return distances;
}

double rms_of_all_um(const std::vector<Distance>& distances) {
  double squares = 0.0;
  for (const Distance& distance : distances) squares += square(root_mean_square(distance.errors_um));
  return std::sqrt(squares / static_cast<double>(distances.size()));
}

/// Root mean square error of each inner distance foretold by its neighbours; NaN for fewer than three distances.
double foretold_rms_um(const std::vector<Distance>& distances) {
  double left = 0.0, count = 0.0;
  for (std::size_t k = 1; k + 1 < distances.size(); ++k) {
    const Distance &before = distances[k - 1], &own = distances[k], &after = distances[k + 1];
    const double share = (own.depth_mm - before.depth_mm) / (after.depth_mm - before.depth_mm);
    for (std::size_t t = 0; t < kAcross * kDown; ++t) {
      const double foretold = (1.0 - share) * before.errors_um[t] + share * after.errors_um[t];
      left += square(own.errors_um[t] - foretold), count += 1.0;
    }
  }
  return count > 0.0 ? std::sqrt(left / count) : std::nan("");
}

/// Standard uncertainty of an error. Of two distances only their difference shows what single ones are worth.
double u_of_error_um(const std::vector<Distance>& distances, double foretold_rms_um) {
  if (distances.size() > 2) return foretold_rms_um / std::sqrt(1.5);
  double difference = 0.0;
  for (std::size_t t = 0; t < kAcross * kDown; ++t)
    difference += square(distances.back().errors_um[t] - distances.front().errors_um[t]) / (2.0 * kAcross * kDown);
  return std::sqrt(difference);
}

/// Noise against depth, a straight line.
struct NoiseLine {
  double middle_mm = 0.0, noise_um = 0.0;  ///< The mean depth, and the noise there.
  double per_depth_um = 0.0;
};

NoiseLine noise_line(const std::vector<DepthCalibration::View>& views) {
  double sx = 0, sy = 0, sxx = 0, sxy = 0;
  const auto n = static_cast<double>(views.size());
  for (const auto& view : views)
    sx += view.depth_mm, sy += view.noise_um, sxx += square(view.depth_mm), sxy += view.depth_mm * view.noise_um;
  return {sx / n, sy / n, (sxy - sx * sy / n) / std::max(1e-9, sxx - sx * sx / n)};
}

/// Frames of memory r: variance of the mean of m is about noise^2/m (1 + r)/(1 - r). A cell averages about ten pixels.
std::size_t frames_worth_taking(const DepthCorrection& found) {
  constexpr double pixels_a_cell = 10.0;
  const double wanted = std::max(0.5 * found.u_um, 0.5);
  const double variance =
      square(found.noise_um) / pixels_a_cell * (1.0 + found.frame_correlation) / (1.0 - found.frame_correlation);
  return static_cast<std::size_t>(std::clamp(std::ceil(variance / square(wanted)), 1.0, 1000.0));
}

}  // namespace

DepthCalibration calibrate_depth(const std::vector<PlateView>& views) {
  constexpr std::size_t fewest = 2;
  if (views.size() < fewest) throw InputError({"depth_calib.one_distance"});
  const DepthCamera& camera = views.front().folder.camera;
  DepthCalibration result;
  std::vector<Distance> distances;
  std::vector<double> correlations;
  for (const PlateView& view : views) {
    check_view(view, camera);
    const TileErrors tiles = errors_of(view);
    const double noise_um = um_from_mm(view.folder.camera.depth_unit_mm * view.folder.fused.frame_sd);
    result.views.push_back({view.name, tiles.depth_mm, tiles.tilt_deg, noise_um, root_mean_square(tiles.error_um)});
    correlations.push_back(view.folder.fused.frame_correlation);
    distances.push_back({tiles.depth_mm, filled(tiles.error_um)});
  }
  distances = apart(std::move(distances));
  result.before_um = rms_of_all_um(distances);
  result.after_um = foretold_rms_um(distances);

  DepthCorrection& found = result.found;
  found.width = camera.width, found.height = camera.height;
  found.columns = kAcross, found.rows = kDown;
  for (const auto& [depth_mm, errors_um] : distances) {
    found.depths_mm.push_back(depth_mm);
    found.errors_um.insert(found.errors_um.end(), errors_um.begin(), errors_um.end());
  }
  found.u_um = u_of_error_um(distances, result.after_um);
  const NoiseLine noise = noise_line(result.views);
  found.noise_um = noise.noise_um;
  found.noise_per_depth_um = noise.per_depth_um;
  found.frame_correlation = std::clamp(median(correlations), 0.0, 0.95);
  found.advised_frames = frames_worth_taking(found);
  result.advice = Message{"depth_calib.frames_to_take",
                          {{"noise", um(found.noise_um)},
                           {"depth", mm(noise.middle_mm)},
                           {"frames", number(static_cast<double>(found.advised_frames))}}};
  return result;
}

}  // namespace canewise
