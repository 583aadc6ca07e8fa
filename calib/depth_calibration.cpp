#include "calib/depth_calibration.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>

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
void fill(std::vector<double>& errors) {
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
    if (!missing) return;
  }
}

double root_mean_square(const std::vector<double>& values) {
  double sum = 0, count = 0;
  for (const double v : values) {
    if (!std::isnan(v)) sum += square(v), count += 1.0;
  }
  return count > 0 ? std::sqrt(sum / count) : 0.0;
}

}  // namespace

DepthCalibration calibrate_depth(const std::vector<PlateView>& views) {
  constexpr std::size_t fewest = 2;
  if (views.size() < fewest) throw InputError({"depth_calib.one_distance"});
  DepthCalibration result;
  std::vector<std::pair<double, std::vector<double>>> by_depth;
  std::vector<double> noise, correlation;
  for (const PlateView& view : views) {
    const DepthCamera& camera = view.folder.camera;
    if (camera.width != views.front().folder.camera.width || camera.height != views.front().folder.camera.height)
      throw InputError({"depth_calib.other_size", {{"file", text(view.name)}}});
    constexpr std::size_t few = 3;
    if (view.folder.frames < few) {
      throw InputError({"depth_calib.few_frames", {{"file", text(view.name)}, {"frames", count(view.folder.frames)}}});
    }
    TileErrors tiles = errors_of(view);
    const double noise_um = um_from_mm(camera.depth_unit_mm * view.folder.fused.frame_sd);
    result.views.push_back({view.name, tiles.depth_mm, tiles.tilt_deg, noise_um, root_mean_square(tiles.error_um)});
    noise.push_back(noise_um);
    correlation.push_back(view.folder.fused.frame_correlation);
    fill(tiles.error_um);
    by_depth.emplace_back(tiles.depth_mm, std::move(tiles.error_um));
  }
  std::sort(by_depth.begin(), by_depth.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
  const double span = by_depth.back().first - by_depth.front().first;
  constexpr double least_span_mm = 0.5;
  for (std::size_t i = 1; i < by_depth.size(); ++i) {
    if (by_depth[i].first - by_depth[i - 1].first < 0.05) throw InputError({"depth_calib.same_height"});
  }
  if (span < least_span_mm) throw InputError({"depth_calib.close_heights"});
  DepthCorrection& found = result.found;
  found.width = views.front().folder.camera.width, found.height = views.front().folder.camera.height;
  found.columns = kAcross, found.rows = kDown;
  double squares = 0.0;
  for (const auto& [depth, errors] : by_depth) {
    found.depths_mm.push_back(depth);
    found.errors_um.insert(found.errors_um.end(), errors.begin(), errors.end());
    squares += square(root_mean_square(errors));
  }
  result.before_um = std::sqrt(squares / static_cast<double>(by_depth.size()));
  // Each inner distance foretold by its neighbours.
  double left = 0.0, count = 0.0;
  for (std::size_t k = 1; k + 1 < by_depth.size(); ++k) {
    const double share = (by_depth[k].first - by_depth[k - 1].first) / (by_depth[k + 1].first - by_depth[k - 1].first);
    for (std::size_t t = 0; t < kAcross * kDown; ++t) {
      const double foretold = (1.0 - share) * by_depth[k - 1].second[t] + share * by_depth[k + 1].second[t];
      left += square(by_depth[k].second[t] - foretold), count += 1.0;
    }
  }
  result.after_um = count > 0.0 ? std::sqrt(left / count) : std::nan("");
  // Of two distances only their difference shows what single ones are worth.
  double difference = 0.0;
  for (std::size_t t = 0; t < kAcross * kDown; ++t)
    difference += square(by_depth.back().second[t] - by_depth.front().second[t]) / (2.0 * kAcross * kDown);
  found.u_um = count > 0.0 ? result.after_um / std::sqrt(1.5) : std::sqrt(difference);
  // Noise against depth, a straight line.
  double sx = 0, sy = 0, sxx = 0, sxy = 0;
  const auto n = static_cast<double>(result.views.size());
  for (const auto& view : result.views)
    sx += view.depth_mm, sy += view.noise_um, sxx += square(view.depth_mm), sxy += view.depth_mm * view.noise_um;
  const double middle = sx / n;
  found.noise_per_depth_um = (sxy - sx * sy / n) / std::max(1e-9, sxx - sx * sx / n);
  found.noise_um = sy / n;
  found.frame_correlation = std::clamp(median(correlation), 0.0, 0.95);
  // Frames of memory r: variance of the mean of m is about noise^2/m (1 + r)/(1 - r). A cell averages about ten pixels.
  constexpr double pixels_a_cell = 10.0;
  const double wanted = std::max(0.5 * found.u_um, 0.5);
  const double variance =
      square(found.noise_um) / pixels_a_cell * (1.0 + found.frame_correlation) / (1.0 - found.frame_correlation);
  found.advised_frames = static_cast<std::size_t>(std::clamp(std::ceil(variance / square(wanted)), 1.0, 1000.0));
  result.advice = Message{"depth_calib.frames_to_take",
                          {{"noise", um(found.noise_um)},
                           {"depth", mm(middle)},
                           {"frames", number(static_cast<double>(found.advised_frames))}}};
  return result;
}

}  // namespace canewise
