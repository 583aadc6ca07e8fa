#include "scanproc/frames/laser_folder.h"

#include <fmt/format.h>

#include <Eigen/Geometry>
#include <atomic>
#include <cmath>
#include <mutex>

#include "scanproc/bytes/number_text.h"
#include "scanproc/bytes/settings.h"
#include "scanproc/core/error.h"
#include "scanproc/core/parallel.h"
#include "scanproc/core/sha256.h"
#include "scanproc/frames/frames.h"
#include "scanproc/rig/light_sheet.h"

namespace canewise {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kMostLaserFrames = 20000;

struct LaserScan {
  std::vector<fs::path> frames;
  double travel_per_frame_mm = 0.0;
};

bool has_scan_file(const fs::path& folder) {
  std::error_code error;
  return fs::exists(folder / "scan.toml", error);
}

LaserScan scan_of(const fs::path& folder, const Rig* rig) {
  LaserScan scan;
  if (rig != nullptr) scan.travel_per_frame_mm = rig->stage->travel_per_frame_mm;
  std::vector<std::string> names;
  if (has_scan_file(folder)) {
    Settings settings = Settings::read(folder / "scan.toml");
    settings.number_into(scan.travel_per_frame_mm, "travel_per_frame_mm", -100.0, 100.0);
    names = settings.texts("frames");
    for (const auto& name : names) {
      if (name.empty() || name.find('/') != std::string::npos || name.find('\\') != std::string::npos)
        settings.fail("frames", {"laser_folder.frames_elsewhere"});
    }
    settings.refuse_unknown();
  }
  scan.frames = picture_files(folder, names, kMostLaserFrames, "frame");
  return scan;
}

std::size_t count_of(const std::vector<FrameProfile>& profiles, std::size_t FrameProfile::*what) {
  std::size_t sum = 0;
  for (const auto& profile : profiles) sum += profile.*what;
  return sum;
}

/// Sentences about what was left out, so that a person knows what to change in the room or at the camera.
Messages notes_of(const std::vector<FrameProfile>& profiles, std::size_t dark_frames, std::size_t points) {
  Messages notes;
  const auto share = [&](std::size_t part) { return 100.0 * static_cast<double>(part) / static_cast<double>(points); };
  constexpr double worth_saying = 2.0;
  if (dark_frames > 0) {
    notes.push_back({"laser_folder.dark_frames", {{"dark", digits(dark_frames)}, {"frames", digits(profiles.size())}}});
  }
  const std::size_t clipped = count_of(profiles, &FrameProfile::clipped);
  if (share(clipped) > worth_saying) notes.push_back({"laser_folder.clipped", {{"share", number(share(clipped))}}});
  const std::size_t ambiguous = count_of(profiles, &FrameProfile::ambiguous);
  if (share(ambiguous) > worth_saying)
    notes.push_back({"laser_folder.reflections", {{"share", number(share(ambiguous))}}});
  return notes;
}

}  // namespace

FrameProfile profile_of(const GreyPicture& frame, const Rig& rig) {
  const LaserPlane& plane = *rig.laser_plane;
  const FoundLine line = find_line(frame, {plane.line_sigma_px, plane.crosses_columns, plane.centre_noise_px});
  FrameProfile profile;
  profile.ambiguous = line.ambiguous;
  profile.stray = line.stray;
  for (const LineCentre& centre : line.centres) {
    const auto on = on_sheet(rig.camera->camera, plane, centre);
    if (!on) {
      ++profile.without_depth;
      continue;
    }
    profile.points_mm.push_back(on->point_mm);
    profile.u_mm.push_back(static_cast<float>(on->mm_per_px * centre.u_px));
    profile.clipped += centre.clipped;
  }
  return profile;
}

Cloud read_laser_folder(const fs::path& folder, const Rig& rig, const Progress& progress) {
  const Camera& camera = rig.camera->camera;
  const LaserScan scan = scan_of(folder, &rig);
  constexpr double smallest_way_mm = 1e-4;
  if (!(std::abs(scan.travel_per_frame_mm) > smallest_way_mm)) {
    throw InputError({"laser_folder.no_way", {{"folder", text(folder.string())}}});
  }
  std::vector<FrameProfile> profiles(scan.frames.size());
  std::atomic<std::size_t> done{0};
  std::mutex telling;
  run_parts([&](std::size_t part) {
    for (std::size_t i = part; i < scan.frames.size(); i += kParallelParts) {
      const ScanFile file(scan.frames[i]);
      const GreyPicture frame = read_picture(file);
      if (frame.columns != camera.width || frame.rows != camera.height) {
        file.fail({"laser_folder.other_size",
                   {{"width", digits(frame.columns)},
                    {"height", digits(frame.rows)},
                    {"calibrated_width", digits(camera.width)},
                    {"calibrated_height", digits(camera.height)}}});
      }
      profiles[i] = profile_of(frame, rig);
      const std::size_t finished = ++done;
      if (progress && part == 0) {
        const std::scoped_lock lock(telling);
        progress({"stage.laser_line", {{"frame", digits(finished)}, {"frames", digits(scan.frames.size())}}},
                 0.3 * static_cast<double>(finished) / static_cast<double>(scan.frames.size()));
      }
    }
  });
  std::size_t points = 0, dark = 0;
  for (const auto& profile : profiles) {
    points += profile.points_mm.size();
    dark += profile.points_mm.empty();
  }
  if (2 * dark > profiles.size()) {
    throw InputError(
        {"laser_folder.no_line",
         {{"folder", text(folder.string())}, {"dark", digits(dark)}, {"frames", digits(profiles.size())}}});
  }
  Cloud cloud;
  cloud.points_mm.resize(3, static_cast<Eigen::Index>(points));
  cloud.u_mm.resize(static_cast<Eigen::Index>(points));
  Eigen::Index at = 0;
  for (std::size_t i = 0; i < profiles.size(); ++i) {
    // What the stage carries has moved on; its points are brought back to where they were at the first frame.
    const Eigen::Vector3d back = static_cast<double>(i) * scan.travel_per_frame_mm * rig.stage->motion;
    for (std::size_t k = 0; k < profiles[i].points_mm.size(); ++k, ++at) {
      cloud.points_mm.col(at) = profiles[i].points_mm[k] - back;
      cloud.u_mm(at) = profiles[i].u_mm[k];
    }
  }
  cloud.format = fmt::format("{} laser-line frames", profiles.size());
  cloud.unit_known = true;
  cloud.notes = notes_of(profiles, dark, points);
  return cloud;
}

std::string laser_folder_sha256(const fs::path& folder) {
  Sha256 all;
  if (has_scan_file(folder)) all.add(ScanFile(folder / "scan.toml").sha256());
  for (const auto& file : scan_of(folder, nullptr).frames) all.add(ScanFile(file).sha256());
  return all.hex();
}

}  // namespace canewise
