#include "scanproc/scan/depth_folder.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>
#include <vector>

#include "scanproc/core/error.h"
#include "scanproc/core/parallel.h"
#include "scanproc/core/sha256.h"
#include "scanproc/scan/depth_camera.h"
#include "scanproc/scan/depth_fusion.h"
#include "scanproc/scan/grey_image.h"
#include "scanproc/scan/records.h"
#include "scanproc/scan/scan_file.h"

namespace canewise {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kMostFrames = 1000;
constexpr std::size_t kMostPixels = 400U << 20U;  // Of all frames together.

fs::path camera_file(const fs::path& folder) {
  for (const char* name : {"camera.toml", "camera.json"}) {
    std::error_code error;
    if (fs::exists(folder / name, error)) return folder / name;
  }
  throw InputError(folder.string() +
                   ": is a folder without camera.toml or camera.json. Name a scan file, or put the depth camera's file "
                   "beside its frames.");
}

std::vector<fs::path> frame_files(const fs::path& folder, const DepthCamera& camera) {
  std::vector<fs::path> files;
  if (!camera.frames.empty()) {
    for (const auto& name : camera.frames) files.push_back(folder / name);
  } else {
    std::error_code error;
    for (const auto& entry : fs::directory_iterator(folder, error)) {
      const std::string suffix = entry.path().extension().string();
      if (entry.path().filename().string().starts_with('.')) continue;  // What other systems leave beside files.
      if (suffix == ".png" || suffix == ".tif" || suffix == ".tiff" || suffix == ".PNG" || suffix == ".TIF" ||
          suffix == ".TIFF") {
        files.push_back(entry.path());
      }
      if (files.size() > kMostFrames) break;
    }
    if (error) throw InputError(folder.string() + ": cannot be read: " + error.message() + ".");
    // Numbers without leading noughts too: frame-2 comes before frame-10.
    std::sort(files.begin(), files.end(), [](const fs::path& a, const fs::path& b) {
      const auto length = [](const fs::path& p) { return p.filename().string().size(); };
      return length(a) != length(b) ? length(a) < length(b) : a < b;
    });
  }
  if (files.empty()) throw InputError(folder.string() + ": holds no PNG or TIFF frame beside its camera file.");
  const std::size_t pixels = camera.width * camera.height;
  if (files.size() > kMostFrames || files.size() * pixels > kMostPixels) {
    throw InputError(
        fmt::format("{}: holds {} frames; {} of this size are enough. Name fewer with frames = [...] in the "
                    "camera file.",
                    folder.string(), files.size(), std::min(kMostFrames, kMostPixels / pixels)));
  }
  return files;
}

std::vector<DepthImage> read_frames(const std::vector<fs::path>& files, const DepthCamera& camera) {
  std::vector<DepthImage> frames(files.size());
  run_parts([&](std::size_t part) {
    for (std::size_t i = part; i < files.size(); i += kParallelParts)
      frames[i] = read_depth_image(ScanFile(files[i]), camera.width, camera.height);
  });
  return frames;
}

Cloud cloud_from(const FusedDepth& fused, const DepthCamera& camera) {
  Cloud cloud;
  cloud.points_mm.resize(3, static_cast<Eigen::Index>(fused.depth.size()));
  std::array<std::size_t, kParallelParts> begins{}, kept{};
  const bool plain = camera.k1 == 0 && camera.k2 == 0 && camera.p1 == 0 && camera.p2 == 0 && camera.k3 == 0;
  parallel_parts(fused.depth.size(), [&](std::size_t part, std::size_t begin, std::size_t end) {
    for (std::size_t i = begin; i < end; ++i) {
      auto point = cloud.points_mm.col(static_cast<Eigen::Index>(i));
      const double z = camera.depth_unit_mm * static_cast<double>(fused.depth[i]);
      const auto u = static_cast<double>(i % fused.columns), v = static_cast<double>(i / fused.columns);
      if (plain) {
        point << z * (u - camera.cx) / camera.fx, z * (v - camera.cy) / camera.fy, z;
        continue;
      }
      const auto direction = std::isnan(z) ? std::nullopt : direction_of(camera, u, v);
      if (direction) {
        point << z * direction->x(), z * direction->y(), z;
      } else {
        point.setConstant(std::numeric_limits<double>::quiet_NaN());
      }
    }
    begins.at(part) = begin;
    kept.at(part) = keep_finite(cloud.points_mm, begin, end);
  });
  join_parts(cloud, begins, kept);
  cloud.dropped_non_finite = 0;  // A pixel without depth is no damage.
  return cloud;
}

}  // namespace

bool is_depth_folder(const fs::path& folder) {
  std::error_code error;
  return fs::is_directory(folder, error);
}

Cloud read_depth_folder(const fs::path& folder) {
  const DepthCamera camera = read_depth_camera(camera_file(folder));
  const auto files = frame_files(folder, camera);
  const FusedDepth fused = fuse_depth(read_frames(files, camera));
  Cloud cloud = cloud_from(fused, camera);
  if (cloud.points_mm.cols() == 0) {
    throw InputError(folder.string() + ": no pixel has a depth in at least half of the frames. Is the scene in range?");
  }
  cloud.format = files.size() == 1 ? "depth frame" : fmt::format("{} depth frames, fused", files.size());
  cloud.unit_known = true;
  cloud.height_step_u_mm = camera.depth_unit_mm * fused.step_u;
  if (files.size() > 1) {
    cloud.notes.push_back(fmt::format(
        "{} depth frames fused: a pixel scatters by {:.0f} µm from frame to frame{}; {} flying pixels left out.",
        files.size(), 1e3 * camera.depth_unit_mm * fused.frame_sd,
        fused.frame_correlation > 0.05
            ? fmt::format(", and each frame remembers {:.0f} % of the one before", 100 * fused.frame_correlation)
            : std::string(),
        fused.dropped_flying));
  } else {
    cloud.notes.emplace_back("A single depth frame: ten or more of the same still scene, in one folder, tell more.");
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
