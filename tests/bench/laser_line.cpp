// From 300 frames of a laser line (2 megapixels each) to points, and to every output of the command.
#include <sys/resource.h>

#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <string>

#include "fixtures/rig_session.h"
#include "fixtures/write_cloud.h"
#include "scanproc/frames/laser_folder.h"

namespace {

using namespace canewise;
using namespace canewise::fixtures;

double seconds() { return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count(); }

}  // namespace

int main() {
  const std::filesystem::path folder = std::filesystem::temp_directory_path() / "canewise-bench-laser";
  std::filesystem::remove_all(folder);
  const VirtualRig rig = large_virtual_rig();
  const Reed reed({}, {.roughness_um = 1.5});
  ReedOnStage scene;
  scene.reed = &reed;
  scene.apex_x_mm = 4.0;
  constexpr int frames = 300;
  constexpr double travel_mm = 0.26;
  write_frames(folder / "frames", rig, scene, travel_mm, frames, 1);
  write_file(folder / "rig.toml", rig_text(rig.true_rig()));
  double best = 1e9;
  Eigen::Index points = 0;
  for (int run = 0; run < 3; ++run) {
    const double start = seconds();
    points = read_laser_folder(folder / "frames", rig.true_rig(), {}).points_mm.cols();
    best = std::min(best, seconds() - start);
  }
  std::printf("300 frames of 1920 x 1080 pixels to %ld points: %.2f s (budget 5 s)\n", static_cast<long>(points), best);
  const std::string command = std::string(CANEWISE_COMMAND) + " measure " + (folder / "frames").string() + " --rig " +
                              (folder / "rig.toml").string() + " --out " + (folder / "out").string() + " > /dev/null";
  const double start = seconds();
  const int status = std::system(command.c_str());
  rusage usage{};
  getrusage(RUSAGE_CHILDREN, &usage);
  std::printf("to every output of the command: %.2f s, %.0f MB%s\n", seconds() - start,
              static_cast<double>(usage.ru_maxrss) / 1024.0, status == 0 ? "" : " (FAILED)");
  std::filesystem::remove_all(folder);
  return status == 0 ? 0 : 1;
}
