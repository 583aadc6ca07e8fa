// How long one reed takes in every format, beside binary PLY in the same run; frames of a depth camera; text per
// second.
#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <exception>
#include <filesystem>
#include <string>
#include <vector>

#include "fixtures/render.h"
#include "fixtures/write_cloud.h"
#include "fixtures/write_surface.h"
#include "scanproc/pipeline/pipeline.h"
#include "scanproc/report/outputs.h"
#include "scanproc/scan/read_scan.h"

namespace {

using namespace canewise;
namespace fs = std::filesystem;

class Folder {
 public:
  Folder() : path_(fs::temp_directory_path() / fmt::format("canewise-formats-{}", ::getpid())) {
    fs::create_directory(path_);
  }
  ~Folder() {
    std::error_code ignored;
    fs::remove_all(path_, ignored);
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  [[nodiscard]] const fs::path& path() const { return path_; }

 private:
  fs::path path_;
};

template <typename Run>
double median_seconds(int times, const Run& run) {
  std::vector<double> seconds;
  for (int i = 0; i < times; ++i) {
    const auto start = std::chrono::steady_clock::now();
    run();
    seconds.push_back(std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count());
  }
  std::sort(seconds.begin(), seconds.end());
  return seconds[seconds.size() / 2];
}

struct Scan {
  std::string name;
  fs::path path;
};

void write_depth(const fs::path& folder, int frames) {
  fs::create_directory(folder);
  fixtures::DepthScene scene = fixtures::close_depth_camera(frames);
  scene.camera.width = 1250, scene.camera.height = 800, scene.camera.cx = 625, scene.camera.cy = 400;
  fixtures::write_file(folder / "camera.toml", fixtures::camera_toml(scene.camera));
  const auto images = fixtures::depth_frames(fixtures::Reed({}), scene, 1);
  for (std::size_t i = 0; i < images.size(); ++i)
    fixtures::write_file(folder / fmt::format("frame-{:03}.png", i), fixtures::png_16_bit(images[i]));
}

}  // namespace

int main() {
  try {
    const Folder folder;
    const fs::path& f = folder.path();
    std::fputs("Inventing a reed of a million points in every format ...\n", stderr);
    const fixtures::Reed reed({}, {.roughness_um = 1.5});
    constexpr double step_mm = 0.047;
    const HeightMap map = fixtures::height_map_of_scene(reed, step_mm, 7.0, 2.0, 1);
    const Mesh mesh = fixtures::mesh_of(map);
    fixtures::write_file(f / "reed.ply", fixtures::ply_binary(cloud_from(map)));
    fixtures::write_file(f / "reed.x3p", fixtures::x3p_file(map, {}));
    fixtures::write_file(f / "reed.sdf", fixtures::sdf_file(map, {}));
    fixtures::write_file(f / "ascii.sdf", fixtures::sdf_file(map, {.magic = "aISO-1.0"}));
    fixtures::write_file(f / "reed.tif", fixtures::tiff_floats(map, 1.0, step_mm));
    fixtures::write_file(f / "reed.csv", fixtures::text_points(cloud_from(map), ',', true));
    fixtures::write_file(f / "reed.stl", fixtures::stl_binary(mesh));
    write_depth(f / "one-frame", 1);
    write_depth(f / "thirty-frames", 30);
    const std::vector<Scan> scans{{"PLY, binary", f / "reed.ply"},
                                  {"X3P", f / "reed.x3p"},
                                  {"SDF, binary", f / "reed.sdf"},
                                  {"SDF, ascii", f / "ascii.sdf"},
                                  {"TIFF map", f / "reed.tif"},
                                  {"text, commas", f / "reed.csv"},
                                  {"STL, 2 million facets", f / "reed.stl"},
                                  {"1 depth frame, 1 Mpixel", f / "one-frame"},
                                  {"30 depth frames, 1 Mpixel", f / "thirty-frames"}};
    fmt::print("{:<28} {:>10} {:>10} {:>12} {:>12} {:>14}\n", "", "points", "read ms", "MB/s", "measure ms",
               "measure / PLY");
    double ply_seconds = 0.0;
    for (const auto& scan : scans) {
      constexpr int times = 5;
      Eigen::Index points = 0;
      const double read = median_seconds(times, [&] { points = read_scan(scan.path).points_mm.cols(); });
      const double whole = median_seconds(
          times, [&] { (void)output_files(measure({.scans = {scan.path}, .rig = {}, .target = {}, .player = {}})); });
      if (ply_seconds == 0.0) ply_seconds = whole;
      const std::string rate = fs::is_regular_file(scan.path)
                                   ? fmt::format("{:.0f}", 1e-6 * static_cast<double>(fs::file_size(scan.path)) / read)
                                   : std::string();
      fmt::print("{:<28} {:>10} {:>10.1f} {:>12} {:>12.0f} {:>14.2f}\n", scan.name, points, 1e3 * read, rate,
                 1e3 * whole, whole / ply_seconds);
    }
    std::puts("Budgets: X3P, SDF and one depth frame 1.5 times PLY; thirty frames read in 2000 ms; text 50 MB/s.");
    return 0;
  } catch (const std::exception& error) {
    std::fprintf(stderr, "canewise_formats: %s\n", error.what());
    return 1;
  }
}
