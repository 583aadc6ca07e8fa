#include "scanproc/frames/depth_folder.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <string>
#include <vector>

#include "scanproc/bytes/number_text.h"
#include "scanproc/bytes/scan_file.h"
#include "scanproc/clouds/records.h"
#include "scanproc/core/error.h"
#include "scanproc/core/parallel.h"
#include "scanproc/core/sha256.h"
#include "scanproc/core/units.h"
#include "scanproc/frames/depth_fusion.h"
#include "scanproc/frames/frames.h"
#include "scanproc/images/grey_image.h"
#include "scanproc/rig/depth_camera.h"

namespace canewise {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kMostDepthFrames = 1000;
// What is alike in all frames of a depth camera that nobody calibrated, from pixel to pixel. An assumption, on the side
// of caution: fusing frames does not lessen it.
constexpr double kFixedPattern_mm = 0.010;
constexpr std::size_t kMostPixels = 400U << 20U;  // Of all frames together.

fs::path camera_file(const fs::path& folder) {
  for (const char* name : {"camera.toml", "camera.json"}) {
    std::error_code error;
    if (fs::exists(folder / name, error)) return folder / name;
  }
  throw InputError({"depth_folder.no_camera_file", {{"folder", text(folder.string())}}});
}

std::vector<fs::path> frame_files(const fs::path& folder, const DepthCamera& camera) {
  auto files = picture_files(folder, camera.frames, kMostDepthFrames, "depth frame");
  const std::size_t pixels = camera.width * camera.height;
  if (files.size() * pixels > kMostPixels) {
    throw InputError({"depth_folder.too_many_frames",
                      {{"folder", text(folder.string())},
                       {"frames", digits(files.size())},
                       {"enough", digits(kMostPixels / pixels)}}});
  }
  return files;
}

/// Measured depths hardly pack: what takes `bytes` of memory is refused in files that are a tiny part of it, before it
/// is made.
void check_room(const std::vector<fs::path>& files, std::uint64_t bytes) {
  constexpr std::uint64_t spare = 48U << 20U, most_packed = 60;
  std::uint64_t stored = 0;
  for (const auto& file : files) stored += ScanFile(file).size();
  if (bytes > spare + most_packed * stored) ScanFile(files.front()).fail({"png.too_small"});
}

std::vector<DepthImage> read_frames(const std::vector<fs::path>& files, const DepthCamera& camera) {
  const std::uint64_t pixels = camera.width * camera.height;
  const std::uint64_t fused_bytes = files.size() > 1 ? 4 * sizeof(float) : 2 * sizeof(float);
  check_room(files, pixels * (files.size() * sizeof(std::uint16_t) + fused_bytes));
  std::vector<DepthImage> frames(files.size());
  run_parts([&](std::size_t part) {
    for (std::size_t i = part; i < files.size(); i += kParallelParts)
      frames[i] = read_depth_image(ScanFile(files[i]), camera.width, camera.height);
  });
  return frames;
}

Cloud cloud_from(const FusedDepth& fused, const DepthCamera& camera, const DepthCorrection* correction) {
  Cloud cloud;
  std::array<std::size_t, kParallelParts> begins{}, seen{}, kept{};
  parallel_parts(fused.depth.size(), [&](std::size_t part, std::size_t begin, std::size_t end) {
    for (std::size_t i = begin; i < end; ++i) seen.at(part) += std::isnan(fused.depth[i]) ? 0 : 1;
  });
  // Points for the pixels alone that show one.
  std::exclusive_scan(seen.begin(), seen.end(), begins.begin(), std::size_t{0});
  cloud.points_mm.resize(3, static_cast<Eigen::Index>(begins.back() + seen.back()));
  const bool plain = camera.k1 == 0 && camera.k2 == 0 && camera.p1 == 0 && camera.p2 == 0 && camera.k3 == 0;
  parallel_parts(fused.depth.size(), [&](std::size_t part, std::size_t begin, std::size_t end) {
    auto at = static_cast<Eigen::Index>(begins.at(part));
    for (std::size_t i = begin; i < end; ++i) {
      if (std::isnan(fused.depth[i])) continue;
      auto point = cloud.points_mm.col(at++);
      double z = camera.depth_unit_mm * static_cast<double>(fused.depth[i]);
      const auto u = static_cast<double>(i % fused.columns), v = static_cast<double>(i / fused.columns);
      if (correction != nullptr) z -= correction->error_mm(u, v, z);
      if (plain) {
        point << z * (u - camera.cx) / camera.fx, z * (v - camera.cy) / camera.fy, z;
        continue;
      }
      const auto direction = direction_of(camera, u, v);
      if (direction) {
        point << z * direction->x(), z * direction->y(), z;
      } else {
        point.setConstant(std::numeric_limits<double>::quiet_NaN());
      }
    }
    kept.at(part) = keep_finite(cloud.points_mm, begins.at(part), begins.at(part) + seen.at(part));
  });
  join_parts(cloud, begins, kept);
  cloud.dropped_non_finite = 0;  // A pixel without depth is no damage.
  return cloud;
}

}  // namespace

bool is_depth_folder(const fs::path& folder) {
  std::error_code error;
  return fs::exists(folder / "camera.toml", error) || fs::exists(folder / "camera.json", error);
}

DepthFolder fuse_depth_folder(const fs::path& folder) {
  DepthFolder found;
  found.camera = read_depth_camera(camera_file(folder));
  const auto files = frame_files(folder, found.camera);
  found.frames = files.size();
  found.fused = fuse_depth(read_frames(files, found.camera));
  const auto seen = std::count_if(found.fused.depth.begin(), found.fused.depth.end(), [](float z) { return z > 0.0F; });
  check_room(files, static_cast<std::uint64_t>(seen) * 3 * sizeof(double));
  return found;
}

Cloud read_depth_folder(const fs::path& folder, const Rig* rig) {
  const DepthFolder found = fuse_depth_folder(folder);
  const DepthCamera& camera = found.camera;
  const FusedDepth& fused = found.fused;
  const DepthCorrection* correction = rig != nullptr && rig->depth ? &*rig->depth : nullptr;
  if (correction != nullptr && (correction->width != camera.width || correction->height != camera.height)) {
    throw InputError({"depth_folder.other_size",
                      {{"folder", text(folder.string())},
                       {"width", digits(camera.width)},
                       {"height", digits(camera.height)},
                       {"calibrated_width", digits(correction->width)},
                       {"calibrated_height", digits(correction->height)}}});
  }
  Cloud cloud = cloud_from(fused, camera, correction);
  if (cloud.points_mm.cols() == 0) {
    throw InputError({"depth_folder.no_depth", {{"folder", text(folder.string())}}});
  }
  cloud.format = found.frames == 1 ? "depth frame" : fmt::format("{} depth frames, fused", found.frames);
  cloud.unit_known = true;
  cloud.height_step_u_mm = camera.depth_unit_mm * fused.step_u;
  cloud.assumed_slow_mm = correction != nullptr ? mm_from_um(correction->u_um) : kFixedPattern_mm;
  if (found.frames > 1) {
    constexpr double worth_saying = 0.05;
    cloud.notes.push_back({"depth_folder.fused",
                           {{"frames", digits(found.frames)},
                            {"scatter", um(um_from_mm(camera.depth_unit_mm * fused.frame_sd))},
                            {"remembers", word(fused.frame_correlation > worth_saying ? "yes" : "no")},
                            {"share", number(100 * fused.frame_correlation)},
                            {"flying", digits(fused.dropped_flying)}}});
  } else {
    cloud.notes.push_back({"depth_folder.single_frame"});
  }
  return cloud;
}

std::string depth_folder_sha256(const fs::path& folder) {
  const fs::path camera_path = camera_file(folder);
  const auto files = frame_files(folder, read_depth_camera(camera_path));
  Sha256 all;
  all.add(ScanFile(camera_path).sha256());
  for (const auto& file : files) all.add(ScanFile(file).sha256());
  return all.hex();
}

}  // namespace canewise
